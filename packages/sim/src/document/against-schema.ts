import * as v from 'valibot';
import { wording } from './schema-wording.ts';

const EXAMPLE = 'Write for example "1.1 * R1 * C1" or { "width": "1.1 * R1 * C1" }.';

/** Checks the form of `against`: an expression, or expressions by the reading that each is held against. */
export const againstSchema = v.union(
  [
    v.string(),
    v.pipe(
      v.record(v.string(), v.string()),
      v.check((rules) => Object.keys(rules).length > 0, wording('hold at least one rule', EXAMPLE)),
    ),
  ],
  wording('be a rule of thumb as text, or rules by name of a reading', EXAMPLE),
);

/** Rules of thumb for the readings of a sweep, as written. */
export type Against = v.InferOutput<typeof againstSchema>;
