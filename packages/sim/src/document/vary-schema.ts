import * as v from 'valibot';
import { seriesNames } from '../quantity/index.ts';
import { fieldsWording, wording } from './schema-wording.ts';

/** Most steps of one range. */
export const MOST_STEPS = 10_000;
/** Steps of a range that does not say how many. */
export const STEPS = 50;

/** Fields of a range, the name of its value left out. */
export const RANGE_FIELDS = ['from', 'to', 'steps', 'scale', 'values', 'series'];
const SCALES = ['linear', 'logarithmic'] as const;

/**
 * A value of a board and the range it goes through, one of three forms: `from`, `to` with `steps` and `scale`; `from`, `to`
 * with `series`; `values`. Quantities are read later, when the board says what unit they must have.
 */
export interface Vary {
  readonly value: string;
  readonly from?: unknown;
  readonly to?: unknown;
  readonly steps?: number;
  readonly scale?: (typeof SCALES)[number];
  readonly values?: readonly unknown[];
  readonly series?: (typeof seriesNames)[number];
}

const steps = wording(
  `be a whole number from 1 to ${MOST_STEPS}`,
  `Write for example 50, or leave it out for ${STEPS}.`,
);

/** Schemas of the fields of a range, the name of its value left out. */
export const rangeEntries = {
  from: v.optional(v.unknown()),
  to: v.optional(v.unknown()),
  steps: v.optional(v.pipe(v.number(steps), v.integer(steps), v.minValue(1, steps), v.maxValue(MOST_STEPS, steps))),
  scale: v.optional(
    v.picklist(SCALES, wording('be "linear" or "logarithmic"', 'Choose one of them, or leave the field out.')),
  ),
  values: v.optional(
    v.pipe(
      v.array(v.unknown(), wording('be a list of values', 'Write for example ["47 kΩ", "68 kΩ"].')),
      v.minLength(2, wording('hold at least two values', 'Write for example ["47 kΩ", "68 kΩ"].')),
      v.maxLength(MOST_STEPS + 1, wording(`hold at most ${MOST_STEPS + 1} values`, 'Leave some out.')),
    ),
  ),
  series: v.optional(
    v.picklist(seriesNames, wording(`be one of ${seriesNames.join(', ')}`, 'Write for example "E12".')),
  ),
};

/** Checks all of a {@link Vary} that does not depend on a board. */
export const varySchema = v.pipe(
  v.strictObject(
    {
      value: v.string(wording('be the name of a value', 'Write for example "R1" or "G1.wave.period".')),
      ...rangeEntries,
    },
    fieldsWording('a range', ['value', ...RANGE_FIELDS]),
  ),
  v.transform((read): Vary => read as Vary),
);
