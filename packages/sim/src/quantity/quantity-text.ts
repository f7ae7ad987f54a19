import { nearestDouble } from './decimal.ts';
import { readLetterCode } from './letter-code.ts';
import { MINUS } from './minus.ts';
import { prefixExponents } from './prefix.ts';
import { type Unit, unitWriting } from './unit.ts';

/** Text taken apart: a number and what stands behind it. */
export interface QuantityParts {
  /** Digits with sign and point. */
  readonly mantissa: string;
  /** Power of ten written behind the mantissa (`e-6`), 0 if none. */
  readonly exponent: number;
  /** What follows the number, without space around it: prefix and unit, as a rule. */
  readonly tail: string;
}

/** Sign (also U+2212), digits with a point somewhere, exponent, space, all the rest. */
const QUANTITY = /^([+\-\u2212]?)(\d+\.?\d*|\.\d+)(?:[eE]([+\-\u2212]?\d+))?\s*(.*)$/u;

/** Takes apart a text that begins with a number; `undefined` if it does not. */
export function splitQuantity(text: string): QuantityParts | undefined {
  const found = QUANTITY.exec(text.trim());
  if (found === null) return undefined;
  const [, sign = '', mantissa = '', exponent = '0', tail = ''] = found;
  return {
    mantissa: (sign === MINUS ? '-' : sign) + mantissa,
    exponent: Number(exponent.replace(MINUS, '-')),
    tail,
  };
}

/** Power of ten that a prefix with a unit stands for; nothing at all is the SI unit. `undefined` if it is neither. */
function tailExponent(tail: string, unit: Unit): number | undefined {
  if (tail === '') return 0;
  const { spellings, exponent, prefixes } = unitWriting[unit];
  for (const spelling of spellings) {
    if (!tail.endsWith(spelling)) continue;
    const prefix = tail.slice(0, tail.length - spelling.length);
    if (prefix !== '' && prefixes === 'none') continue;
    const power = prefixExponents.get(prefix);
    if (power !== undefined) return exponent + power;
  }
  return undefined;
}

/**
 * Value of a text in the SI unit, the double nearest to the decimal value; `too large` or `too
 * small` where a double would be infinite, or 0 although a digit is not; `undefined` if the text
 * is no quantity of this unit.
 */
export function readQuantityText(text: string, unit: Unit): number | 'too large' | 'too small' | undefined {
  if (unit === 'Ω' || unit === 'F') {
    const value = readLetterCode(text.trim(), unit);
    if (value !== undefined) return value;
  }
  const parts = splitQuantity(text);
  if (parts === undefined) return undefined;
  const exponent = tailExponent(parts.tail, unit);
  if (exponent === undefined) return undefined;
  const value = nearestDouble(parts.mantissa, parts.exponent + exponent);
  if (!Number.isFinite(value)) return 'too large';
  if (value === 0 && /[1-9]/.test(parts.mantissa)) return 'too small';
  return value;
}
