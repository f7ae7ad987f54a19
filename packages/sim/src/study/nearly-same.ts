import { percentText } from '../quantity/index.ts';

/** Values closer than this (share of the larger) differ by rounding alone. */
const ROUNDING = 1e-12;

/**
 * How values are told that read the same although they differ, such as a width over the supply: `throughout, within 0.02 %`.
 *
 * @param least the least of them (any unit).
 * @param greatest the greatest of them.
 */
export function nearlySameText(least: number, greatest: number): string {
  const share = (greatest - least) / Math.max(Math.abs(least), Math.abs(greatest));
  // Not above 0 covers 0 of 0 as well.
  if (!(share > ROUNDING)) return 'throughout';
  // Up to the next number of two digits, so that they do lie within it.
  const digit = 10 ** (Math.floor(Math.log10(100 * share)) - 1);
  return `throughout, within ${percentText(Number((Math.ceil((100 * share) / digit) * digit).toPrecision(2)))}`;
}
