import { formatQuantity } from '../quantity/index.ts';
import type { Range } from './range.ts';

/** Values that agree to this share are spoken of as one. */
export const SAME = 1e-6;

/** A time with three digits. */
export function seconds(value: number): string {
  return formatQuantity(value, 's');
}

/** A voltage with three digits. */
export function volts(value: number): string {
  return formatQuantity(value, 'V');
}

/** `351 ms`, or `300 ms to 351 ms` where the values differ as written. */
export function rangeWords({ low, high }: Range, words: (value: number) => string): string {
  return words(low) === words(high) ? words(low) : `${words(low)} to ${words(high)}`;
}

/** `1 pulse`, `3 pulses`. */
export function countWords(count: number, what: string): string {
  return count === 1 ? `1 ${what}` : `${count} ${what}s`;
}
