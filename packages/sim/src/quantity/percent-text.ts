import { MINUS } from './minus.ts';

/** Narrow space that no line breaks at. */
const NARROW_SPACE = '\u202f';

/**
 * Writes a percentage as it is told in sentences and tables: `12 %`, `−3 %`. Number and sign stay on one line.
 *
 * @param percent the number to write, rounded as it is to be seen.
 * @param signed whether what is above 0 carries a plus.
 */
export function percentText(percent: number, { signed = false }: { readonly signed?: boolean } = {}): string {
  const sign = percent < 0 ? MINUS : signed && percent > 0 ? '+' : '';
  return `${sign}${Math.abs(percent)}${NARROW_SPACE}%`;
}
