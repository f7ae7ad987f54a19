import { nearestDouble, toDecimal } from './decimal.ts';
import { preferredMantissas, type Series } from './preferred-series.ts';

/*
 * Preferred values of one series are numbered through all decades: value 0 is 1 (SI unit), value k
 * of a series with n values a decade is mantissa `k mod n` in decade `floor(k / n)`.
 */

/** Computed values miss a preferred one by rounding, some 1e-16 of it; E192 values are 1 % apart. */
const SAME_VALUE = 1e-9;
/** Values searched for: far beyond any part, far inside what a double holds. */
const SMALLEST = 1e-300;
const LARGEST = 1e300;

/**
 * The preferred value nearest to `value` by ratio, as the double nearest to its decimal value:
 * 2.2e-9, not 2.2000000000000003e-9.
 *
 * @param value in any unit, 1e-300 to 1e300.
 * @throws RangeError for other values or an unknown series.
 */
export function nearestPreferred(value: number, series: Series): number {
  const index = indexBelow(requirePositive('nearestPreferred', 'value', value), series);
  const below = valueAt(index, series);
  const above = valueAt(index + 1, series);
  return value / below <= above / value ? below : above;
}

/**
 * The preferred value `steps` steps up (down, if negative) from `value`.
 *
 * From a value between two preferred ones, one step up leads to the next above and one step down
 * to the next below; no step leads to the nearest. A value that misses a preferred one by less
 * than 1e-9 of it counts as that one.
 *
 * @param value in any unit, 1e-300 to 1e300.
 * @param steps a whole number.
 * @throws RangeError for other values or steps, an unknown series, or a result outside that range.
 */
export function stepPreferred(value: number, series: Series, steps: number): number {
  requirePositive('stepPreferred', 'value', value);
  if (!Number.isSafeInteger(steps)) {
    throw new RangeError(
      `stepPreferred: steps must be a whole number; got ${String(steps)}. Use 1 for the next value above, -1 for the next below.`,
    );
  }
  if (steps === 0) return nearestPreferred(value, series);
  const below = indexBelow(value, series);
  const start = isAt(value, below, series)
    ? below
    : isAt(value, below + 1, series)
      ? below + 1
      : steps > 0
        ? below
        : below + 1;
  return requirePositive('stepPreferred', 'result', valueAt(start + steps, series));
}

/**
 * All preferred values from `low` to `high`, both included, ascending.
 *
 * @param low in any unit, 1e-300 to 1e300.
 * @param high in the same unit, at least `low`.
 * @throws RangeError for other values or an unknown series.
 */
export function preferredBetween(low: number, high: number, series: Series): number[] {
  requirePositive('preferredBetween', 'low', low);
  requirePositive('preferredBetween', 'high', high);
  if (high < low) {
    throw new RangeError(`preferredBetween: high must be at least low, ${low}; got ${high}. Swap the two.`);
  }
  const first = indexBelow(low, series);
  const values: number[] = [];
  for (let index = first; ; index++) {
    const value = valueAt(index, series);
    if (value > high) return values;
    if (value >= low) values.push(value);
  }
}

/** Index of the largest preferred value that is at most `value`. */
function indexBelow(value: number, series: Series): number {
  const count = preferredMantissas(series).length;
  let index = (toDecimal(value).exponent + 1) * count - 1;
  while (valueAt(index, series) > value) index--;
  return index;
}

function valueAt(index: number, series: Series): number {
  const mantissas = preferredMantissas(series);
  const decade = Math.floor(index / mantissas.length);
  const mantissa = String(mantissas[index - decade * mantissas.length]);
  return nearestDouble(mantissa, decade - (mantissa.length - 1));
}

function isAt(value: number, index: number, series: Series): boolean {
  const preferred = valueAt(index, series);
  return Math.abs(value - preferred) <= SAME_VALUE * preferred;
}

function requirePositive(call: string, name: string, value: number): number {
  if (value >= SMALLEST && value <= LARGEST) return value;
  throw new RangeError(
    `${call}: ${name} must be from ${SMALLEST} to ${LARGEST}; got ${String(value)}. Preferred values are positive.`,
  );
}
