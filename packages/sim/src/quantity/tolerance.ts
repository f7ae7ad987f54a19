import { foundText } from '../core/found-text.ts';
import { formatQuantity } from './format-quantity.ts';
import { type QuantityResult, readQuantity } from './read-quantity.ts';

/** How far a value may lie off its nominal value, as shares of it: -0.2 and 0.8 are -20 % to +80 %. */
export interface Tolerance {
  /** Largest deviation downward, 0 or negative. */
  readonly low: number;
  /** Largest deviation upward, 0 or positive. */
  readonly high: number;
}

/*
 * Letters of IEC 60062:2016, section 5, values from memory: the same both ways from B (0.1 %) to N
 * (30 %), Q, T, S and Z unequal. Capacitors below 10 pF use some of the letters for picofarads
 * instead, which is not read here.
 */
const letters: ReadonlyMap<string, Tolerance> = new Map([
  ['B', both(0.001)],
  ['C', both(0.0025)],
  ['D', both(0.005)],
  ['F', both(0.01)],
  ['G', both(0.02)],
  ['H', both(0.03)],
  ['J', both(0.05)],
  ['K', both(0.1)],
  ['M', both(0.2)],
  ['N', both(0.3)],
  ['Q', unequal(-0.1, 0.3)],
  ['T', unequal(-0.1, 0.5)],
  ['S', unequal(-0.2, 0.5)],
  ['Z', unequal(-0.2, 0.8)],
]);

/** The tolerance a letter of IEC 60062 stands for (`J` is 5 % both ways); `undefined` for any other text. */
export function toleranceLetter(letter: string): Tolerance | undefined {
  return letters.get(letter);
}

/**
 * Reads a tolerance that is the same both ways, as a share of the nominal value: `5 %`, `±5 %`,
 * 0.05, `0.05`, or a letter of IEC 60062 such as `J`. Never throws.
 *
 * Refused are tolerances below 0, of 1 (100 %) and more, and letters that are not the same both
 * ways (Q, T, S, Z), for which see {@link toleranceLetter}.
 */
export function readTolerance(input: unknown): QuantityResult {
  const text = typeof input === 'string' ? input.trim() : undefined;
  const coded = text === undefined ? undefined : letters.get(text);
  if (coded !== undefined) {
    if (coded.low === -coded.high) return { ok: true, value: coded.high };
    const low = formatQuantity(coded.low, 'share', { exact: true });
    const high = formatQuantity(coded.high, 'share', { exact: true });
    return refused(`${foundText(text)}, which is ${low} to +${high}`, 'be the same both ways');
  }
  const result = readQuantity(text?.startsWith('±') ? text.slice(1) : input, 'share');
  if (!result.ok) return refused(foundText(input), 'be a tolerance');
  if (result.value >= 0 && result.value < 1) return result;
  const share = formatQuantity(result.value, 'share', { exact: true });
  return refused(`${foundText(input)}, which is ${share}`, 'be at least 0 and below 100\u202f%');
}

function refused(got: string, rule: string): QuantityResult {
  return { ok: false, message: `must ${rule}; got ${got}. Write for example 5 %, 0.05 or J.` };
}

function both(share: number): Tolerance {
  return Object.freeze({ low: -share, high: share });
}

function unequal(low: number, high: number): Tolerance {
  return Object.freeze({ low, high });
}
