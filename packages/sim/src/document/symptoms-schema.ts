import * as v from 'valibot';
import { wording } from './schema-wording.ts';

/** The fields of a symptoms cell that no other cell has; whatever depends on the board is checked later. */
export const symptomsEntries = {
  seen: v.optional(
    v.record(
      v.string(),
      v.unknown(),
      wording(
        'be an object of readings and what they were',
        'Write for example { "width": "4.3 s", "light": "none" }.',
      ),
    ),
    {},
  ),
};
