/** A number in decimal: `d.ddd` times ten to the exponent. */
export interface Decimal {
  /** Whether a minus sign stands before it. */
  readonly negative: boolean;
  /** Significant digits, most significant first, the first not 0 (unless the number is 0). */
  readonly digits: string;
  /** Power of ten of the first digit. */
  readonly exponent: number;
}

/** Beyond this power of ten every text of at most 64 characters is 0 or infinite as a double. */
const EXPONENT_LIMIT = 9999;

/**
 * The double nearest to `mantissa` times ten to `exponent`.
 *
 * The power of ten goes into the text that is parsed, because a multiplication would round a
 * second time: `4.7 * 1e-6` is not the double `4.7e-6`.
 *
 * @param mantissa digits with an optional sign and point, no exponent.
 * @param exponent a whole number.
 */
export function nearestDouble(mantissa: string, exponent: number): number {
  const limited = Math.max(-EXPONENT_LIMIT, Math.min(EXPONENT_LIMIT, exponent));
  return Number(`${mantissa}e${limited}`);
}

/**
 * A finite number rounded to `count` significant digits (1 to 100), halves away from zero; without
 * `count`, the shortest digits that read back as the same double.
 */
export function toDecimal(value: number, count?: number): Decimal {
  // `-d.ddde+x`, taken apart by position: a run with a thousand pulses writes ten thousand numbers.
  const text = count === undefined ? value.toExponential() : value.toExponential(count - 1);
  const first = text.startsWith('-') ? 1 : 0;
  const end = text.indexOf('e');
  return {
    negative: first === 1,
    digits: text.slice(first, first + 1) + text.slice(first + 2, end),
    exponent: Number(text.slice(end + 1)),
  };
}

/**
 * Writes digits in full, without an exponent or sign: digits `47`, exponent 0 is `4.7`.
 *
 * @param exponent power of ten of the first digit.
 */
export function plainText(digits: string, exponent: number): string {
  if (exponent < 0) return `0.${'0'.repeat(-exponent - 1)}${digits}`;
  const whole = digits.slice(0, exponent + 1).padEnd(exponent + 1, '0');
  const rest = digits.slice(exponent + 1);
  return rest === '' ? whole : `${whole}.${rest}`;
}

/** Writes digits with the point after the first and an exponent: digits `47`, exponent 18 is `4.7e18`. */
export function scientificText(digits: string, exponent: number): string {
  return `${plainText(digits, 0)}e${exponent}`;
}
