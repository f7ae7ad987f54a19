/**
 * SI prefixes as power of ten, for every spelling that is read (SI Brochure, BIPM, 9th edition
 * 2019, table 7). Only multiples of a thousand, from femto to tera: what parts and readings need.
 *
 * Micro is read as U+00B5 (micro sign, the one written), U+03BC (Greek mu) and `u`.
 */
export const prefixExponents: ReadonlyMap<string, number> = new Map([
  ['f', -15],
  ['p', -12],
  ['n', -9],
  ['\u00b5', -6],
  ['\u03bc', -6],
  ['u', -6],
  ['m', -3],
  ['', 0],
  ['k', 3],
  ['M', 6],
  ['G', 9],
  ['T', 12],
]);

/** Power of ten of the smallest prefix, femto. */
export const SMALLEST_PREFIX = -15;
/** Power of ten of the largest prefix, tera. */
export const LARGEST_PREFIX = 12;

const WRITTEN = ['f', 'p', 'n', '\u00b5', 'm', '', 'k', 'M', 'G', 'T'];

/** The prefix as written for a power of ten, a multiple of 3 from -15 to 12. */
export function prefixSymbol(exponent: number): string {
  const symbol = WRITTEN[(exponent - SMALLEST_PREFIX) / 3];
  if (symbol === undefined) {
    throw new RangeError(
      `prefixSymbol: exponent must be a multiple of 3 from ${SMALLEST_PREFIX} to ${LARGEST_PREFIX}; got ${exponent}. Choose the prefix first.`,
    );
  }
  return symbol;
}
