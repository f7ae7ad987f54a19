import { type Unit, unitWriting } from '../quantity/unit.ts';
import { unitPlurals } from '../quantity/unit-plurals.ts';

/**
 * What a value measures, as powers of volt, ampere and second: every unit that parts and readings have is a product of
 * these three. A resistance (V/A) is [1, -1, 0]. Plain numbers, shares and angles are [0, 0, 0].
 */
export type Dimension = readonly [volts: number, amperes: number, seconds: number];

/** The dimension of plain numbers. */
export const PLAIN: Dimension = [0, 0, 0];

/*
 * SI Brochure (BIPM, 9th edition 2019, table 4) with V = W/A: ohm V/A, farad A s/V, hertz 1/s, watt V A, henry V s/A,
 * coulomb A s, joule V A s.
 */
const dimensions: Readonly<Record<Unit, Dimension>> = {
  V: [1, 0, 0],
  A: [0, 1, 0],
  Ω: [1, -1, 0],
  F: [-1, 1, 1],
  s: [0, 0, 1],
  Hz: [0, 0, -1],
  W: [1, 1, 0],
  H: [1, -1, 1],
  C: [0, 1, 1],
  J: [1, 1, 1],
  rad: PLAIN,
  share: PLAIN,
};

const plurals: Readonly<Record<Unit, string>> = {
  ...unitPlurals,
  share: 'a plain number',
};

/** Units with a dimension of their own. */
const named = (Object.keys(dimensions) as Unit[]).filter((unit) => unit !== 'rad' && unit !== 'share');

/** What a unit measures; null is the unit of counts and ratios. */
export function dimensionOf(unit: Unit | null): Dimension {
  return unit === null ? PLAIN : dimensions[unit];
}

/** Whether two values can be added. */
export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.every((power, index) => power === b[index]);
}

/** Whether it is that of plain numbers. */
export function isPlain(dimension: Dimension): boolean {
  return sameDimension(dimension, PLAIN);
}

/** The dimension of `a b^power`: 1 for a product, -1 for a quotient. */
export function combined(a: Dimension, b: Dimension, power: number): Dimension {
  return [sum(a[0], b[0] * power), sum(a[1], b[1] * power), sum(a[2], b[2] * power)];
}

/** The dimension of a power of a value; powers that are no fraction of small whole numbers are rounded to 1e-9. */
export function raised(a: Dimension, power: number): Dimension {
  return combined(PLAIN, a, power);
}

/** Sums powers, so that a third taken three times is one. */
function sum(a: number, b: number): number {
  const total = Math.round((a + b) * 1e9) / 1e9;
  return total === 0 ? 0 : total;
}

/** The unit that results of this dimension are written in: null for plain numbers, `undefined` where none has a name. */
export function unitOf(dimension: Dimension): Unit | null | undefined {
  if (isPlain(dimension)) return null;
  return named.find((unit) => sameDimension(dimensions[unit], dimension));
}

/** How a unit of this dimension is written: `Ω`, `V/s`, `V²`; empty for plain numbers. */
export function unitText(dimension: Dimension): string {
  const unit = unitOf(dimension);
  if (unit === null) return '';
  if (unit !== undefined) return unitWriting[unit].symbol;
  return pairText(dimension) ?? productText(dimension);
}

/** A dimension for sentences: `ohms`, `a plain number`, `V/s`. */
export function dimensionWords(dimension: Dimension): string {
  const unit = unitOf(dimension);
  if (unit === null) return 'a plain number';
  return unit === undefined ? unitText(dimension) : plurals[unit];
}

/** A square, quotient or product of two named units, where that is enough. */
function pairText(dimension: Dimension): string | undefined {
  const square = named.find((unit) => sameDimension(raised(dimensions[unit], 2), dimension));
  if (square !== undefined) return `${square}²`;
  // Hertz stays out: V/s says more than V·Hz.
  const basic = named.filter((unit) => unit !== 'Hz');
  for (const [power, join] of [
    [-1, '/'],
    [1, '·'],
  ] as const) {
    for (const a of basic) {
      const b = basic.find((unit) => sameDimension(combined(dimensions[a], dimensions[unit], power), dimension));
      if (b !== undefined) return `${a}${join}${b}`;
    }
  }
  const inverse = basic.find((unit) => sameDimension(raised(dimensions[unit], -1), dimension));
  return inverse === undefined ? undefined : `1/${inverse}`;
}

function productText(dimension: Dimension): string {
  const factors = (['V', 'A', 's'] as const).flatMap((unit, index) => {
    const power = dimension[index] ?? 0;
    if (power === 0) return [];
    return power === 1 ? [unit] : [`${unit}^${power < 0 || !Number.isInteger(power) ? `(${power})` : power}`];
  });
  return factors.join('·');
}
