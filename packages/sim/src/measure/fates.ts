import { secondsBetween } from '../trace/instant.ts';
import type { Observer } from '../trace/observer.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';
import { CappedList } from './capped-list.ts';
import type { TimerFacts, Window } from './context.ts';
import { explain } from './explanation.ts';
import { FateLedger, watching } from './fate-ledger.ts';
import { FateTally } from './fate-tally.ts';
import { fateSentence } from './fate-words.ts';
import { endOf, fateOf, type IntervalFacts, type PulseFacts, secondsToGo } from './pulse-facts.ts';
import type { FateCounts, IntervalRow, PulseRow } from './rows.ts';
import { startsCharged } from './start-level.ts';

/** Pulses and intervals listed unless the caller says otherwise. */
const MOST_PULSES = 10_000;

/** What became of the input pulses of one timer. */
export interface FateLedgerResult {
  /** Pulses that began in the window, in the order of time. */
  readonly pulses: PulseRow[];
  /** Complete even where the list is cut. */
  readonly counts: FateCounts;
  readonly cut: boolean;
  /** Times during which the latch was set, those that reach into the window. */
  readonly intervals: IntervalRow[];
  /** A short paragraph about the pattern. */
  readonly explanation: string;
}

/** Settings of {@link fateObserver}. */
export interface FateOptions {
  /** Pulses (and intervals) listed at most; 10 000 if not given. */
  readonly most?: number;
  /** Whether pulses have their sentences; true if not given. They take longer than all the rest. */
  readonly sentences?: boolean;
}

/**
 * Watches one timer and gives each of its input pulses exactly one fate. A pulse is a maximal time with TRIGGER below its
 * reference; it belongs to the window it begins in.
 */
export function fateObserver(
  timer: TimerFacts,
  window: Window,
  options: FateOptions = {},
): Observer & { result(): FateLedgerResult } {
  const { most = MOST_PULSES, sentences = true } = options;
  let reached = window.until;
  const tally = new FateTally(window);
  const pulses = new CappedList<PulseFacts>(most);
  const intervals = new CappedList<IntervalFacts>(most);
  const ledger = new FateLedger(timer, window, {
    pulse(pulse) {
      tally.pulse(pulse);
      pulses.add(pulse);
    },
    pulseClosed: (pulse) => tally.pulseClosed(pulse),
    interval: (interval) => tally.interval(interval),
    intervalClosed(interval) {
      tally.intervalClosed(interval);
      if (interval.end === undefined || interval.end.high > window.from) intervals.add(interval);
    },
  });
  return {
    periods: new CountedPeriods(window, {
      visit(visitor) {
        for (const keeper of [ledger, tally, pulses, intervals]) keeper.visit(visitor);
      },
    }),
    ...watching(ledger),
    end(time) {
      reached = Math.min(reached, time);
      ledger.end(time);
    },
    result: () => ({
      pulses: pulses.entries.map((pulse) => pulseRow(pulse, sentences ? fateSentence(pulse, timer) : '')),
      counts: { ...tally.counts },
      cut: pulses.count > pulses.entries.length || intervals.count > intervals.entries.length,
      intervals: intervals.entries.map(({ start: from, end }) => ({ from: from.high, until: end?.high ?? null })),
      explanation: explain(tally, timer, { from: window.from, until: reached }, ledger.latest),
    }),
  };
}

function pulseRow(pulse: PulseFacts, reason: string): PulseRow {
  const { time, end, open, heldFor, began } = pulse;
  const fate = fateOf(pulse);
  const toGo = secondsToGo(pulse);
  const beganEnd = began === undefined ? undefined : endOf(began);
  const empty = fate === 'started' && began !== undefined && !startsCharged(began);
  const at = fate === 'started' ? began : pulse;
  const threshold = empty ? undefined : at?.threshold;
  const limit = at?.limit;
  const interval = began === undefined || beganEnd === undefined ? undefined : secondsBetween(began.start, beganEnd);
  const [from, to] = [time.high, end?.high ?? null];
  // Nearly all are of one of these kinds. Each as a whole: fields that are put to an object later, or spread into it, take
  // longer than all the rest, and there are thousands of them.
  if (!open && heldFor === undefined && limit !== undefined) {
    if (fate === 'started' && interval !== undefined) {
      return threshold === undefined
        ? { time: from, end: to, fate, reason, limit, interval }
        : { time: from, end: to, fate, reason, threshold, limit, interval };
    }
    if (fate === 'ignored' && threshold !== undefined && toGo !== undefined) {
      return { time: from, end: to, fate, reason, threshold, limit, toGo };
    }
  }
  const row: { -readonly [Field in keyof PulseRow]: PulseRow[Field] } = { time: from, end: to, fate, reason };
  if (open) row.open = true;
  if (heldFor !== undefined) row.heldFor = heldFor;
  if (threshold !== undefined) row.threshold = threshold;
  if (limit !== undefined) row.limit = limit;
  if (toGo !== undefined && fate !== 'started') row.toGo = toGo;
  if (interval !== undefined) row.interval = interval;
  return row;
}
