import * as v from 'valibot';
import { fieldsWording, wording } from './schema-wording.ts';
import { rangeEntries, RANGE_FIELDS, type Vary } from './vary-schema.ts';

/** Trials of a claim that does not say how many. */
export const TRIALS = 200;
/** Most trials of one claim. */
export const MOST_TRIALS = 100_000;
/** Most values one claim is tried over. */
const MOST_CHOICES = 20;
const LARGEST_SEED = 2 ** 32 - 1;

/** What a value of a claim is tried at: a range as for a sweep, or a list of values or words (timer families). */
export type ClaimRange = Omit<Vary, 'value'> | readonly unknown[];

const trials = wording(
  `be a whole number from 1 to ${MOST_TRIALS}`,
  `Write for example 200, or leave it out for ${TRIALS}.`,
);
const seed = wording(`be a whole number from 0 to ${LARGEST_SEED}`, 'Write for example 1, or leave it out.');

const time = v.union(
  [v.string(), v.number()],
  wording('be a time or an expression for one', 'Write for example "6 s" or "20 * R1 * C1".'),
);

const listSchema = v.pipe(
  v.array(v.unknown()),
  v.minLength(1, wording('hold at least one value', 'Write for example ["47 kΩ", "68 kΩ"].')),
  v.maxLength(200, wording('hold at most 200 values', 'Leave some out, or write a range.')),
);
const rangeSchema = v.strictObject(rangeEntries, fieldsWording('a range', RANGE_FIELDS));

/** The fields of a claim cell that no other cell has; whatever depends on the board is checked later. */
export const claimEntries = {
  says: v.string(wording('be a claim in double quotes', 'Write for example "width(out) = 1.1 * R1 * C1 within 1 %".')),
  over: v.pipe(
    v.record(
      v.string(),
      v.lazy((input) => (Array.isArray(input) ? listSchema : rangeSchema)),
      wording(
        'be an object of values and ranges',
        'Write for example { "R1": { "from": "1 kΩ", "to": "1 MΩ", "series": "E12" } }.',
      ),
    ),
    v.check(
      (over) => Object.keys(over).length > 0,
      wording('name at least one value', 'Write for example { "R1": ["47 kΩ", "68 kΩ"] }.'),
    ),
    v.check(
      (over) => Object.keys(over).length <= MOST_CHOICES,
      wording(`name at most ${MOST_CHOICES} values`, 'Put the rest in another cell.'),
    ),
  ),
  trials: v.optional(
    v.pipe(v.number(trials), v.integer(trials), v.minValue(1, trials), v.maxValue(MOST_TRIALS, trials)),
    TRIALS,
  ),
  seed: v.optional(v.pipe(v.number(seed), v.integer(seed), v.minValue(0, seed), v.maxValue(LARGEST_SEED, seed)), 1),
  from: v.optional(time, 0),
  until: time,
};
