/**
 * A time in seconds as the sum of two doubles, `high` the double nearest to it. Long runs keep their resolution this
 * way: widths are differences of instants, taken part by part.
 */
export interface Instant {
  readonly high: number;
  readonly low: number;
}

/** The instant `by` seconds after `start + startLow`; exact to about 32 digits (Knuth's two-sum). */
export function instantAfter(start: number, startLow: number, by: number): Instant {
  const sum = start + by;
  const part = sum - start;
  const rest = start - (sum - part) + (by - part) + startLow;
  const high = sum + rest;
  return { high, low: rest - (high - sum) };
}

/** Seconds from one instant to another. */
export function secondsBetween(from: Instant, to: Instant): number {
  return to.high - from.high + (to.low - from.low);
}

/** Whether `a` comes before `b`. */
export function isBefore(a: Instant, b: Instant): boolean {
  return a.high < b.high || (a.high === b.high && a.low < b.low);
}
