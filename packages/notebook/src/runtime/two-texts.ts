import { numberText } from '@two-thirds/sim/document';
import { formatQuantity, type Unit, withMinus } from '@two-thirds/sim/quantity';

/** Digits that are tried to tell two values apart; what differs less is told as the same. */
const DIGITS = [3, 4, 5, 6, 7, 8, 9];

/** Two numbers with as few digits as tell them apart; null is no value. */
export function twoTexts(is: number | null, was: number | null, unit: Unit | null): [string, string] {
  const write = (value: number | null, digits: number): string =>
    value === null
      ? 'no value'
      : unit === null
        ? digits === 3
          ? numberText(value, null)
          : withMinus(String(Number(value.toPrecision(digits))))
        : formatQuantity(value, unit, { digits });
  for (const digits of DIGITS) {
    const [one, other] = [write(is, digits), write(was, digits)];
    if (one !== other) return [one, other];
  }
  return [write(is, 3), write(was, 3)];
}
