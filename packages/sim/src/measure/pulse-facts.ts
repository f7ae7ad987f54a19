import { type Instant, secondsBetween } from '../trace/instant.ts';
import type { PeriodVisitor } from '../trace/period-visitor.ts';
import type { Fate } from './rows.ts';

/** A time during which a timer's latch was set. */
export interface IntervalFacts {
  start: Instant;
  /** What set the latch; absent where the run began that way. */
  readonly cause?: 'trigger' | 'release' | undefined;
  /** When THRESHOLD reached its limit: the interval ran out then, even if the output was held on. */
  over?: Instant | undefined;
  /** When the latch was cleared. */
  end?: Instant | undefined;
  /** Whether RESET cleared it. */
  byReset?: boolean | undefined;
  /** THRESHOLD and its limit (V) at the start. */
  threshold?: number | undefined;
  limit?: number | undefined;
  /** The limit (V) that THRESHOLD met at the end, where it ended the interval. */
  limitMet?: number | undefined;
  /** The level (V) that THRESHOLD was heading for just before, while the latch was clear; absent where it never was. */
  rest?: number | undefined;
  /** Pulses that came while it ran. */
  found: number;
}

/** All that is known about one input pulse. */
export interface PulseFacts {
  time: Instant;
  end?: Instant | undefined;
  /** Still low at the end of the window. */
  open: boolean;
  /** Whether it has been low for the minimum trigger width. */
  accepted: boolean;
  /** Whether RESET was low at some time during the pulse. */
  reset: boolean;
  /** The interval it found running. */
  readonly found?: IntervalFacts | undefined;
  /** The first interval it began. */
  began?: IntervalFacts | undefined;
  /** How long it held the output on past the end of the interval (s). */
  heldFor?: number | undefined;
  /** THRESHOLD and its limit (V) when the pulse came. */
  threshold?: number | undefined;
  limit?: number | undefined;
}

/** The one fate of a pulse; what comes first in the list of fates wins, but RESET is named before a short pulse. */
export function fateOf(pulse: PulseFacts): Fate {
  if (pulse.began !== undefined) return 'started';
  if (pulse.found !== undefined) return pulse.heldFor === undefined ? 'ignored' : 'held';
  return pulse.reset ? 'barred' : 'short';
}

/** When an interval ended for those who wait for it: when it ran out or was cleared, whichever came first. */
export function endOf(interval: IntervalFacts): Instant | undefined {
  return interval.over ?? interval.end;
}

/**
 * Whether THRESHOLD was at its limit or above when the latch was set, so that nothing was left to wait for: the latch is
 * then set just while TRIGGER is low.
 */
export function untimed({ threshold, limit, start, over }: IntervalFacts): boolean {
  if (threshold === undefined || limit === undefined || threshold < limit) return false;
  return over === undefined || secondsBetween(start, over) <= SAME_INSTANT * start.high;
}

/** Shorter times than a few units in the last place of the instant are rounding (shares of the instant). */
const SAME_INSTANT = 8 * Number.EPSILON;

/** How long the interval that a pulse found went on after the pulse came (s); 0 where it ended at that very instant. */
export function secondsToGo({ time, found }: PulseFacts): number | undefined {
  const end = found === undefined ? undefined : endOf(found);
  if (end === undefined) return undefined;
  const toGo = secondsBetween(time, end);
  return Math.abs(toGo) <= SAME_INSTANT * end.high ? 0 : toGo;
}

/** Moves the dates of a pulse, and of the intervals that it found and began, from period to period. */
export function visitPulse(pulse: PulseFacts, visitor: PeriodVisitor): void {
  if (visitor.isNew(pulse)) {
    pulse.time = visitor.date(pulse.time);
    pulse.end = visitor.date(pulse.end);
  }
  for (const interval of [pulse.found, pulse.began]) if (interval) visitInterval(interval, visitor);
}

/** Moves the dates of an interval from period to period. */
export function visitInterval(interval: IntervalFacts, visitor: PeriodVisitor): void {
  if (!visitor.isNew(interval)) return;
  interval.start = visitor.date(interval.start);
  interval.over = visitor.date(interval.over);
  const end = visitor.date(interval.end);
  if (end) interval.end = end;
  interval.found = visitor.sum(interval.found);
}
