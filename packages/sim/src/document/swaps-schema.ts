import * as v from 'valibot';
import { wording } from './schema-wording.ts';

/** Most places of a kit in one cell. */
const MOST_PLACES = 20;
/** Most parts offered for one place. */
const MOST_CHOICES = 200;
/** Most combinations of one cell. */
export const MOST_COMBINATIONS = 100_000;

const example = 'Write for example { "R1": ["47 kΩ", "68 kΩ"], "U1.family": ["bipolar", "cmos"] }.';

/** The fields of a swaps cell that no other cell has; whatever depends on the board is checked later. */
export const swapsEntries = {
  parts: v.pipe(
    v.record(
      v.string(),
      v.pipe(
        v.array(v.unknown(), wording('be a list of what can be plugged in', 'Write for example ["47 kΩ", "68 kΩ"].')),
        v.minLength(1, wording('hold at least one value', 'Write for example ["47 kΩ", "68 kΩ"].')),
        v.maxLength(MOST_CHOICES, wording(`hold at most ${MOST_CHOICES} values`, 'Leave some out.')),
      ),
      wording('be an object of parts and lists', example),
    ),
    v.check((parts) => Object.keys(parts).length > 0, wording('name at least one part', example)),
    v.check(
      (parts) => Object.keys(parts).length <= MOST_PLACES,
      wording(`name at most ${MOST_PLACES} parts`, 'Put the rest in another cell.'),
    ),
  ),
};
