import { formatQuantity } from './format-quantity.ts';
import { MINUS } from './minus.ts';
import type { Unit } from './unit.ts';

/**
 * Writes a value in SI units exactly, as it is typed into a field and kept in a file: `68 kΩ`, `-5 V`, with an ordinary
 * space and a hyphen, which every keyboard has. {@link formatQuantity} writes for those who only read.
 */
export function typedQuantity(value: number, unit: Unit): string {
  return formatQuantity(value, unit, { exact: true }).replace('\u202f', ' ').replace(MINUS, '-');
}
