import type { IntervalFacts } from './pulse-facts.ts';

/** THRESHOLD above where it was going by more than this share of its limit is still on its way there. */
const ON_THE_WAY = 0.01;

/** A level at rest up to this share of the limit is what a discharge pin leaves behind (its saturation voltage). */
const LEFT_BEHIND = 0.05;

/** Whether an interval began before THRESHOLD had come down to where it was going. */
export function cameTooSoon({ threshold, limit, rest }: IntervalFacts): boolean {
  if (threshold === undefined || limit === undefined || rest === undefined) return false;
  return threshold - rest > ON_THE_WAY * limit;
}

/** Whether an interval began from a voltage that is worth telling: charge not yet gone, or a level far from 0 V. */
export function startsCharged({ threshold, limit, rest = 0 }: IntervalFacts): boolean {
  if (threshold === undefined || limit === undefined) return false;
  return threshold - rest > ON_THE_WAY * limit || Math.abs(threshold) > LEFT_BEHIND * limit;
}
