import { type Matrix, singularVectors, zeros } from '../core/dense.ts';
import { coverageFactor } from '../core/student.ts';

/** A value that was estimated, and what the board states (null for none). */
interface Estimated {
  readonly name: string;
  readonly value: number;
  readonly marked: number | null;
}

/** How well one value is known. */
export interface Estimate extends Estimated {
  /** Standard uncertainty as a share of the value; null where the capture does not tell it. */
  readonly relative: number | null;
  /** Limits between which the true value lies 95 times in 100; null with it. */
  readonly low: number | null;
  readonly high: number | null;
}

/** Values of which only a combination is known. */
export interface Combination {
  readonly names: readonly string[];
  /** `nothing`: the capture does not depend on the one value; `together`: neither a product nor a quotient. */
  readonly as: 'nothing' | 'product' | 'quotient' | 'together';
  /** The product or quotient over that of the values stated, and its standard uncertainty as a share; else null. */
  readonly factor: number | null;
  readonly relative: number | null;
}

/** What a capture tells of the values. */
export interface Identified {
  readonly estimates: readonly Estimate[];
  readonly combinations: readonly Combination[];
  /** Pairs whose errors go together so closely that their product or quotient is known far better than either. */
  readonly close: readonly { readonly names: readonly [string, string]; readonly correlation: number }[];
}

/** A direction in which values may go by this (natural logarithm) within one standard uncertainty is not known. */
const UNKNOWN_FROM = 1;
/** Nor is one with less than this share of the effect of the strongest: what derivatives by differences leave. */
const LEAST_EFFECT = 1e-7;
/** Members of a direction with less than this share of its largest do not count. */
const MEMBER_FROM = 0.1;
/** Shares as equal as this make a product or a quotient. */
const EQUAL = 0.1;
const CLOSE_FROM = 0.98;

/**
 * Reads from the derivatives of the residuals by the logarithms of the values, at the least sum of squares, how well each
 * value is known: variances are those of linear least squares, with the scatter of the residuals themselves. Residuals are
 * counted in their own standard uncertainties; where there are no more of them than values, these alone count.
 *
 * @param jacobian a column a value, and one more for the offset of the time where that was estimated as well.
 */
export function identify(jacobian: Matrix, values: readonly Estimated[], cost: number, degrees: number): Identified {
  const effects = withoutOffset(jacobian, values.length);
  // With nothing left over to judge by, residuals are what their own uncertainties say they are.
  const scatter = degrees > 0 ? Math.sqrt(cost / degrees) : 1;
  const { v, values: strengths } = singularVectors(effects);
  const strongest = Math.max(0, ...strengths);
  const size = values.length;
  const directions = [...strengths].map((strength, column) => ({
    along: values.map((_, row) => v.data[row * size + column]!),
    // Residuals of exactly zero leave no scatter, yet an ineffective direction is still unknown.
    spread: strength > 0 ? scatter / strength : Infinity,
    known: strength > LEAST_EFFECT * strongest && scatter / strength < UNKNOWN_FROM,
  }));
  const known = directions.filter((direction) => direction.known);
  const variance = (along: readonly number[]): number => {
    return known.reduce((sum, { along: unit, spread }) => sum + (dot(unit, along) * spread) ** 2, 0);
  };
  const unknown = directions.filter((direction) => !direction.known);
  const factor = coverageFactor(degrees > 0 ? degrees : Infinity);
  return {
    estimates: values.map((each, index): Estimate => {
      const lost = unknown.some(({ along }) => Math.abs(along[index]!) >= MEMBER_FROM);
      if (lost) return { ...each, relative: null, low: null, high: null };
      const relative = Math.sqrt(variance(unitVector(index, size)));
      const reach = Math.exp(factor * relative);
      return { ...each, relative, low: each.value / reach, high: each.value * reach };
    }),
    combinations: unknown.map(({ along }) => combination(along, values, variance)),
    close: closePairs(values, known.length === size ? variance : undefined),
  };
}

/** Takes out of every column what a shift of the time would do as well. */
function withoutOffset(jacobian: Matrix, size: number): Matrix {
  const { rows, columns, data } = jacobian;
  const result = zeros(rows, size);
  let square = 0;
  if (columns > size) for (let row = 0; row < rows; row++) square += data[row * columns + size]! ** 2;
  for (let column = 0; column < size; column++) {
    let along = 0;
    if (square > 0) {
      for (let row = 0; row < rows; row++) along += data[row * columns + size]! * data[row * columns + column]!;
      along /= square;
    }
    for (let row = 0; row < rows; row++) {
      const shift = square > 0 ? along * data[row * columns + size]! : 0;
      result.data[row * size + column] = data[row * columns + column]! - shift;
    }
  }
  return result;
}

function combination(
  along: readonly number[],
  values: readonly Estimated[],
  variance: (along: readonly number[]) => number,
): Combination {
  const largest = Math.max(...along.map(Math.abs));
  const members = values.flatMap((value, index) => {
    const share = along[index]! / largest;
    return Math.abs(share) >= MEMBER_FROM ? [{ value, share, index }] : [];
  });
  const names = members.map(({ value }) => value.name);
  const [first, second] = members;
  if (first !== undefined && members.length === 1) return { names, as: 'nothing', factor: null, relative: null };
  const isEven = members.every(({ share }) => Math.abs(Math.abs(share) - 1) <= EQUAL);
  if (first === undefined || second === undefined || members.length > 2 || !isEven) {
    return { names, as: 'together', factor: null, relative: null };
  }
  const sign = first.share * second.share < 0 ? 1 : -1;
  const direction = values.map((_, index) => (index === first.index ? 1 : index === second.index ? sign : 0));
  const marked = first.value.marked === null || second.value.marked === null;
  const over = ({ value }: typeof first): number => value.value / (value.marked ?? 1);
  return {
    names,
    as: sign > 0 ? 'product' : 'quotient',
    factor: marked ? null : over(first) * over(second) ** sign,
    relative: Math.sqrt(variance(direction)),
  };
}

function closePairs(
  values: readonly Estimated[],
  variance: ((along: readonly number[]) => number) | undefined,
): { names: [string, string]; correlation: number }[] {
  if (variance === undefined) return [];
  const size = values.length;
  return values.flatMap((a, i) =>
    values.slice(i + 1).flatMap((b, offset) => {
      const j = i + 1 + offset;
      const [one, other] = [variance(unitVector(i, size)), variance(unitVector(j, size))];
      const both = variance(values.map((_, index) => (index === i || index === j ? 1 : 0)));
      const correlation = (both - one - other) / (2 * Math.sqrt(one * other));
      return Math.abs(correlation) >= CLOSE_FROM ? [{ names: [a.name, b.name] as [string, string], correlation }] : [];
    }),
  );
}

function unitVector(index: number, size: number): number[] {
  return Array.from({ length: size }, (_, each) => (each === index ? 1 : 0));
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, index) => sum + value * b[index]!, 0);
}
