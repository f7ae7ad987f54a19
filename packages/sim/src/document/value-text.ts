import type { ReadingValue } from '../measure/context.ts';
import type { NumberOfCell } from './results.ts';
import { formatQuantity, type Unit, withMinus } from '../quantity/index.ts';

/** Entries of a list that are written out where one line has to do. */
const SHOWN_ENTRIES = 5;

/**
 * Writes a value of a reading for people: three significant digits and its unit; counts in full; the first entries of a
 * list.
 *
 * @param unit unit of the value, null for counts and ratios.
 */
export function valueText(value: ReadingValue, unit: Unit | null): string {
  if (value === null) return 'no value';
  if (typeof value === 'number') return numberText(value, unit);
  if (value.length === 0) return 'none';
  const shown = value.slice(0, SHOWN_ENTRIES).map((entry) => {
    return typeof entry === 'number' ? numberText(entry, unit) : `${numberText(entry.time, 's')} to ${entry.to}`;
  });
  const rest = value.length - shown.length;
  return rest === 0 ? shown.join(', ') : `${shown.join(', ')} and ${rest} more`;
}

/** Writes one number: with its unit, or, without one, whole numbers in full and others with three digits. */
export function numberText(value: number, unit: Unit | null): string {
  if (unit !== null) return formatQuantity(value, unit);
  if (Number.isInteger(value) || !Number.isFinite(value)) return withMinus(String(value));
  return withMinus(Math.abs(value) >= 1000 ? value.toFixed(1) : value.toPrecision(3));
}

/** Writes the value of a formula or an answer: with its unit, even one that has no name, such as V/s. */
export function amountText({ value, unit, unitText }: NumberOfCell): string {
  if (value === null) return 'no value';
  if (unit !== null || unitText === '') return numberText(value, unit);
  return `${numberText(value, null)}\u202f${unitText}`;
}
