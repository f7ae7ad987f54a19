import type { FaultCode } from '../trace/event.ts';

/** One passage of a net through its level, as rows of lists. */
export interface EdgeRow {
  /** Seconds. */
  readonly time: number;
  readonly to: 'high' | 'low';
}

/**
 * What became of an input pulse:
 *
 * - `started`  it began an interval (also when low through a reset and still low at its release)
 * - `held`     it found the interval running and kept the output high past its end
 * - `ignored`  it found the interval running
 * - `short`    it was below the minimum trigger width
 * - `barred`   RESET kept it from acting
 */
export type Fate = 'started' | 'held' | 'ignored' | 'short' | 'barred';

/** How many pulses met each fate; all five are always listed. */
export type FateCounts = Readonly<Record<Fate, number>>;

/** One input pulse of a timer and what became of it. */
export interface PulseRow {
  /** When TRIGGER went below its reference (s). */
  readonly time: number;
  /** When it came back (s); null while still low at the end of the window. */
  readonly end: number | null;
  readonly fate: Fate;
  /** A full sentence; every number in it comes from the run. Empty where sentences were not wanted. */
  readonly reason: string;
  /** Still low at the end of the window. */
  readonly open?: true;
  /** Seconds by which the pulse held the output on past the end of the interval. */
  readonly heldFor?: number;
  /** Voltage at THRESHOLD when the pulse came, its limit, and the seconds until the interval then running ended. */
  readonly threshold?: number;
  readonly limit?: number;
  readonly toGo?: number;
  /** For `started`: how long the interval lasted; `threshold` is the voltage it started from where the capacitor was not empty. */
  readonly interval?: number;
}

/** One time during which a timer's latch was set (s); `until` is null while it still was at the end of the window. */
export interface IntervalRow {
  readonly from: number;
  readonly until: number | null;
}

/** What one part did beyond one of its limits within a window (s). */
export interface FaultRow {
  readonly part: string;
  readonly what: FaultCode;
  /** The pin of a timer, where there is a choice. */
  readonly pin?: string;
  /** Start of the first stretch beyond the limit. */
  readonly first: number;
  /** Number of stretches. */
  readonly count: number;
  readonly longest: number;
  /** True when it was still so at the end. */
  readonly lasting: boolean;
  readonly sentence: string;
}
