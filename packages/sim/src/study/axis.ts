import { preferredBetween, type Series, type Unit } from '../quantity/index.ts';

/** The values that a study gives one quantity. Plain data. */
export interface Axis {
  /** The value, as its subject knows it. */
  readonly name: string;
  /** SI unit; null for a plain number. */
  readonly unit: Unit | null;
  /** Ascending, none twice. */
  readonly points: readonly number[];
  /** How the range was divided, which is also how it is best drawn. */
  readonly scale: AxisScale;
}

/** How an axis is divided and drawn. */
export type AxisScale = 'linear' | 'logarithmic';

/** Digits of points between the ends, so that they are what one would write: 0.15, not 0.15000000000000002. */
const DIGITS = 12;

/** A range divided into equal steps: one more points than steps, both ends included exactly. */
export function linearPoints(from: number, to: number, steps: number): number[] {
  return ends(from, to, steps, (share) => from + (to - from) * share);
}

/** A range of positive numbers divided into steps of equal ratio; both ends included exactly. */
export function logarithmicPoints(from: number, to: number, steps: number): number[] {
  return ends(from, to, steps, (share) => from * (to / from) ** share);
}

/** The preferred values of a series within a range, its ends included. */
export function preferredPoints(from: number, to: number, series: Series): number[] {
  return preferredBetween(from, to, series);
}

function ends(from: number, to: number, steps: number, at: (share: number) => number): number[] {
  return Array.from({ length: steps + 1 }, (_, index) => {
    if (index === 0) return from;
    return index === steps ? to : Number(at(index / steps).toPrecision(DIGITS));
  });
}
