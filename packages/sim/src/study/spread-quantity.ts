import type { RandomSource } from '../core/random.ts';
import type { Unit } from '../quantity/index.ts';
import type { NamedValues } from './subject.ts';

/** A value that is not known exactly, and between what it may lie. Plain data. */
export interface SpreadQuantity {
  /** The value, as the subject knows it. */
  readonly name: string;
  /** SI unit; null for a plain number. */
  readonly unit: Unit | null;
  /** What the circuit has as it stands (SI); null for none (no leakage). */
  readonly nominal: number | null;
  /** The ends of its range, the smaller first: of the value itself (SI), or of its reciprocal. */
  readonly from: number;
  readonly to: number;
  /**
   * Whether the range is that of the reciprocal: a leakage is spread evenly as a current, not as a resistance, and may be
   * none at all (0 S).
   */
  readonly reciprocal: boolean;
}

/**
 * How values lie within their ranges: `uniform`, every value as likely as any other; `normal`, about the middle of the
 * range, with a third of half its width as standard deviation, and nothing beyond the ends. That the limits are three
 * standard deviations is common practice, no source.
 */
export type SpreadLaw = 'uniform' | 'normal';

/** Standard deviations from the middle of a range to its ends under the law `normal`. */
const CUT = 3;

/** The value (SI) at a place in its range: -1 at one end, 0 in the middle, 1 at the other. Both ends are exact. */
export function valueAt({ from, to, reciprocal }: SpreadQuantity, place: number): number {
  const at = place <= -1 ? from : place >= 1 ? to : from + ((to - from) * (place + 1)) / 2;
  return reciprocal ? 1 / at : at;
}

/** Values by name for a place in each range. */
export function valuesAt(quantities: readonly SpreadQuantity[], places: readonly number[]): NamedValues {
  return new Map(quantities.map((quantity, index) => [quantity.name, valueAt(quantity, places[index] ?? 0)]));
}

/** The places in `count` ranges of one sample, drawn from random numbers. */
export function drawnPlaces(law: SpreadLaw, count: number, { next }: RandomSource): number[] {
  return Array.from({ length: count }, () => (law === 'uniform' ? 2 * next() - 1 : cutNormal(next)));
}

/** A standard normal number over {@link CUT}, drawn again while beyond the ends (G. E. P. Box and M. E. Muller 1958). */
function cutNormal(next: () => number): number {
  for (;;) {
    // 1 - next() is never 0, whose logarithm is not finite.
    const place = (Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())) / CUT;
    if (Math.abs(place) <= 1) return place;
  }
}
