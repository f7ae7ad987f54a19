/** Series of preferred numbers of IEC 60063; the number says how many values there are in a decade. */
export type Series = 'E3' | 'E6' | 'E12' | 'E24' | 'E48' | 'E96' | 'E192';

/** Every series, coarsest first. */
export const seriesNames: readonly Series[] = ['E3', 'E6', 'E12', 'E24', 'E48', 'E96', 'E192'];

/*
 * The coarse series were settled before the rule of the fine ones and cannot be computed: 27, 30,
 * 33, 36, 39, 43, 47 and 82 are not the rounded powers. Each coarser series takes every second
 * value of the next. IEC 60063:2015; values common practice, no source.
 */
const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];

const mantissas: Readonly<Record<Series, readonly number[]>> = {
  E3: everyNth(E24, 8),
  E6: everyNth(E24, 4),
  E12: everyNth(E24, 2),
  E24: everyNth(E24, 1),
  E48: roundedPowers(48),
  E96: roundedPowers(96),
  E192: roundedPowers(192),
};

/**
 * One decade of a series, ascending: whole numbers 10 to 91 for E3 to E24, 100 to 988 for E48 to
 * E192 (IEC 60063:2015). The array is frozen.
 *
 * @throws RangeError for an unknown series.
 */
export function preferredMantissas(series: Series): readonly number[] {
  if (!seriesNames.includes(series)) {
    throw new RangeError(
      `preferredMantissas: series must be one of ${seriesNames.join(', ')}; got ${String(series)}. Use for example E12.`,
    );
  }
  return mantissas[series];
}

function everyNth(values: readonly number[], step: number): readonly number[] {
  return Object.freeze(values.filter((_, index) => index % step === 0));
}

/** `count` powers of the `count`-th root of ten, as three-digit numbers: the rule of E48, E96 and E192 (from memory). */
function roundedPowers(count: number): readonly number[] {
  const values = Array.from({ length: count }, (_, index) => Math.round(100 * 10 ** (index / count)));
  // The one exception: E192 has 920 where the rule gives 919 (from memory).
  return Object.freeze(values.map((value) => (value === 919 ? 920 : value)));
}
