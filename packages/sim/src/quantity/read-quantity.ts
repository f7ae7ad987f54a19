import { readQuantityText } from './quantity-text.ts';
import { LONGEST_QUANTITY_TEXT, refusal } from './refusal.ts';
import type { Unit } from './unit.ts';

/** A value in SI units, or why there is none. */
export type QuantityResult =
  | { readonly ok: true; readonly value: number }
  | {
      readonly ok: false;
      /** `must ...; got .... ...` without the name of the field, which the caller puts before it. */
      readonly message: string;
    };

/** What {@link parseQuantity} throws; the message is that of {@link readQuantity}. */
export class QuantityError extends Error {
  /** The unit that was asked for. */
  readonly unit: Unit;

  /**
   * @param message `must ...; got .... ...`
   * @param unit the unit that was asked for.
   */
  constructor(message: string, unit: Unit) {
    super(message);
    this.name = 'QuantityError';
    this.unit = unit;
  }
}

/**
 * Reads a quantity as people write it, into SI units. Never throws, whatever the input.
 *
 * - A finite number is taken as it is, in the SI unit.
 * - Text is a value, an optional SI prefix and the unit: `68 kΩ`, `68kohm`, `0.1 uF`, `4.7e-6 F`.
 *   Capital and small letters count: `M` is mega, `m` is milli. Prefixes go from femto to tera,
 *   `u` is micro. Space may stand before the prefix and around the whole.
 * - Or a letter code of IEC 60062, where the unit is Ω or F: `4K7`, `R47`, `100n`, see
 *   {@link readLetterCode}.
 * - Or the value alone, in the SI unit: `68000`.
 * - A share is also read in per cent: `5 %` is 0.05.
 *
 * Negative values are read; whether a field allows them is for the field to say. The result is the
 * double nearest to the decimal value; -0 becomes 0. Refused are the wrong unit, a comma in the
 * number, values beyond what a double holds (what is not 0 never becomes 0), and text of more than
 * 64 characters.
 */
export function readQuantity(input: unknown, unit: Unit): QuantityResult {
  const value = valueOf(input, unit);
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    return { ok: false, message: refusal(input, unit) };
  }
  return { ok: true, value: value === 0 ? 0 : value };
}

/**
 * Reads a quantity as {@link readQuantity} does.
 *
 * @returns the value in SI units.
 * @throws QuantityError if it cannot be read as a quantity of this unit.
 */
export function parseQuantity(input: string | number, unit: Unit): number {
  const result = readQuantity(input, unit);
  if (!result.ok) throw new QuantityError(result.message, unit);
  return result.value;
}

function valueOf(input: unknown, unit: Unit): unknown {
  if (typeof input !== 'string') return input;
  return input.length > LONGEST_QUANTITY_TEXT ? undefined : readQuantityText(input, unit);
}
