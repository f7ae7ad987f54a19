import { plainText, scientificText, toDecimal } from './decimal.ts';
import { MINUS } from './minus.ts';
import { LARGEST_PREFIX, prefixSymbol, SMALLEST_PREFIX } from './prefix.ts';
import { type Unit, unitWriting } from './unit.ts';

/** How a quantity is written. */
export interface FormatOptions {
  /** Significant digits, 1 to 17; 3 if not given. Without effect when `exact` is true. */
  readonly digits?: number;
  /** The shortest text that reads back as the same double, without padded zeros; false if not given. */
  readonly exact?: boolean;
}

/** Thin space, which joins value and unit. */
const NARROW_SPACE = '\u202f';
/** A double is told from its neighbours by 17 significant digits. */
const MOST_DIGITS = 17;
/** Powers of ten that are written in full where a unit takes no prefix; outside, with an exponent. */
const PLAIN_SMALLEST = -4;
const PLAIN_LARGEST = 14;

/**
 * Writes a value in SI units for people: `351 ms`, `68.0 kΩ`, `4.70 µF`, `41.0 %`.
 *
 * Three significant digits unless `digits` says otherwise, halves rounded away from zero, trailing
 * zeros kept; with `exact`, `68 kΩ` and every digit the double needs. Value and unit are joined by
 * a narrow space that no line breaks at (U+202F); the minus sign is U+2212. Prefixes go from femto to tera and leave 1 to 999 before the unit; beyond
 * them an exponent is written (`1.60e-19 C`). Times and angles take no prefix above one: from
 * 1000 on every whole second is written (`3600 s`), more digits than asked for rather than
 * meaningless zeros. 0 and -0 are `0 V`; what is not a number is `no value`; infinity is `∞ Ω`.
 *
 * {@link readQuantity} reads all of these but the last two. Fields and files take {@link typedQuantity}.
 *
 * @throws RangeError if `digits` is not a whole number from 1 to 17.
 */
export function formatQuantity(value: number, unit: Unit, options: FormatOptions = {}): string {
  const { digits = 3, exact = false } = options;
  if (!Number.isInteger(digits) || digits < 1 || digits > MOST_DIGITS) {
    throw new RangeError(
      `formatQuantity: digits must be a whole number from 1 to ${MOST_DIGITS}; got ${String(digits)}. Leave it out for 3.`,
    );
  }
  if (Number.isNaN(value)) return 'no value';
  const { symbol } = unitWriting[unit];
  const sign = value < 0 ? MINUS : '';
  if (!Number.isFinite(value)) return `${sign}∞${NARROW_SPACE}${symbol}`;
  if (value === 0) return `0${NARROW_SPACE}${symbol}`;
  const { number, prefix } = scaled(Math.abs(value), unit, exact ? undefined : digits);
  return `${sign}${number}${NARROW_SPACE}${prefix}${symbol}`;
}

interface Scaled {
  readonly number: string;
  readonly prefix: string;
}

/** Chooses prefix and digits of a positive value; without `count`, the shortest exact digits. */
function scaled(value: number, unit: Unit, count: number | undefined): Scaled {
  const { prefixes, exponent: unitExponent } = unitWriting[unit];
  const wanted = count === undefined || prefixes === 'all' ? count : fullDigits(count, value, unitExponent);
  const { digits, exponent: unshifted } = toDecimal(value, wanted);
  const exponent = unshifted - unitExponent;
  const base = Math.floor(exponent / 3) * 3;
  if (prefixes === 'all' || (prefixes === 'small' && base < 0)) {
    if (base < SMALLEST_PREFIX || base > LARGEST_PREFIX) {
      return { number: scientificText(digits, exponent), prefix: '' };
    }
    return { number: plainText(digits, exponent - base), prefix: prefixSymbol(base) };
  }
  const plain = exponent >= PLAIN_SMALLEST && exponent <= PLAIN_LARGEST;
  const write = plain ? plainText : scientificText;
  return { number: write(digits, exponent), prefix: '' };
}

/** Digits to write where no prefix shortens the whole part: all of it, unless it is written with an exponent. */
function fullDigits(count: number, value: number, unitExponent: number): number {
  // Nearly every value is below: then there are not more whole digits than are wanted.
  if (value < 10 ** (count + unitExponent)) return count;
  // The power of ten before rounding decides how many whole seconds there are, the one after it the prefix.
  const wholeDigits = toDecimal(value).exponent - unitExponent + 1;
  return wholeDigits > PLAIN_LARGEST + 1 ? count : Math.max(count, wholeDigits);
}
