import * as v from 'valibot';
import { isObject } from '../field/record.ts';
import type { SpreadLaw } from '../study/spread-quantity.ts';
import { wording } from './schema-wording.ts';

/** Samples of a spread that does not say how many. */
export const SAMPLES = 10_000;
/** Most samples of one spread: some minutes of computing. */
export const MOST_SAMPLES = 1_000_000;
/** Most values that one spread varies. */
export const MOST_SPREAD = 40;
/** Largest seed, as random numbers take 32 bits. */
const LARGEST_SEED = 2 ** 32 - 1;

const LAWS = ['uniform', 'normal'] as const satisfies readonly SpreadLaw[];

const samples = wording(`be a whole number from 1 to ${MOST_SAMPLES}`, `Leave it out for ${SAMPLES}.`);
const seed = wording(`be a whole number from 0 to ${LARGEST_SEED}`, 'Leave it out for 1.');
const parts = wording(
  'be a list of parts, or an object of values and ranges',
  'Write for example ["R1", "C1"] or { "R1": "own", "BT1": ["10 V", "14 V"] }.',
);
const limits = wording('be an object of readings and pairs', 'Write for example { "width": ["4 s", "5 s"] }.');

/** Ranges by the name of their value; a list is none. */
const ranges = v.custom<Readonly<Record<string, unknown>>>(isObject);

/** Fields of a spread cell beside those of every run; ranges and limits are read when the board is known. */
export const spreadFields = {
  parts: v.optional(v.union([v.array(v.string()), ranges], parts)),
  limits: v.optional(v.record(v.string(), v.unknown(), limits), {}),
  samples: v.optional(
    v.pipe(v.number(samples), v.integer(samples), v.minValue(1, samples), v.maxValue(MOST_SAMPLES, samples)),
    SAMPLES,
  ),
  seed: v.optional(v.pipe(v.number(seed), v.integer(seed), v.minValue(0, seed), v.maxValue(LARGEST_SEED, seed)), 1),
  law: v.optional(
    v.picklist(LAWS, wording('be "uniform" or "normal"', 'Choose one, or leave the field out.')),
    'uniform',
  ),
};
