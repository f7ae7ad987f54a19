import { addExactly, addTwoPart } from '../core/two-part.ts';

/**
 * A time in seconds as the sum of two doubles, `high` the double nearest to it. Long runs keep their resolution this
 * way: widths are differences of instants, taken part by part.
 */
export interface Instant {
  readonly high: number;
  readonly low: number;
}

/** The instant `by` seconds after `start + startLow`. */
export function instantAfter(start: number, startLow: number, by: number): Instant {
  return addTwoPart({ high: start, low: startLow }, { high: by, low: 0 });
}

/** The instant of an event. */
export function instantOf({ time, timeLow }: { readonly time: number; readonly timeLow: number }): Instant {
  return addExactly(time, timeLow);
}

/** Seconds from one instant to another. */
export function secondsBetween(from: Instant, to: Instant): number {
  return to.high - from.high + (to.low - from.low);
}
