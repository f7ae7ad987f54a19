import { formatQuantity } from './format-quantity.ts';
import { withMinus } from './minus.ts';
import type { Unit } from './unit.ts';

/** Digits of a value in a sentence. */
const DIGITS = 4;

/**
 * A number with so many digits at most and none of them padding: `68 kΩ`, `18.18 kΩ`.
 *
 * @param value in SI units. @param unit null for a plain number.
 */
export function shortText(value: number, unit: Unit | null, digits = DIGITS): string {
  const rounded = Number(value.toPrecision(digits));
  return unit === null ? withMinus(String(rounded)) : formatQuantity(rounded, unit, { exact: true });
}
