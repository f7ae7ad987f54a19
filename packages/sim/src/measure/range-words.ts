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

/** Digits tried to tell two voltages apart: from three up to what differs by more than rounding. */
const MOST_DIGITS = 9;

/** Two voltages with as many digits, at least three, as tell them apart; alike only where they are the same. */
export function voltsApart(first: number, second: number): readonly [string, string] {
  for (let digits = 3; digits < MOST_DIGITS; digits++) {
    const pair = [formatQuantity(first, 'V', { digits }), formatQuantity(second, 'V', { digits })] as const;
    if (pair[0] !== pair[1]) return pair;
  }
  return [volts(first), volts(second)];
}

/** `351 ms`, or `300 ms to 351 ms` where the values differ as written. */
export function rangeWords({ low, high }: Range, words: (value: number) => string): string {
  return words(low) === words(high) ? words(low) : `${words(low)} to ${words(high)}`;
}

/** `Each of the 13 complete intervals`, `Both complete intervals`. */
export function eachWords(count: number, what: string): string {
  return count === 2 ? `Both ${what}s` : `Each of the ${count} ${what}s`;
}

/** `1 pulse`, `3 pulses`. */
export function countWords(count: number, what: string): string {
  return count === 1 ? `1 ${what}` : `${count} ${what}s`;
}
