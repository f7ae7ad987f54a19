import { DatedList } from '../trace/dated-list.ts';
import type { Observer } from '../trace/observer.ts';
import type { Instant } from '../trace/instant.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';
import type { TimerFacts, Window } from './context.ts';
import { explain } from './explanation.ts';
import { FateLedger, watching } from './fate-ledger.ts';
import { FateTally } from './fate-tally.ts';
import { fateSentence } from './fate-words.ts';
import { PulseRows } from './pulse-rows.ts';
import type { FateCounts, IntervalRow, PulseRow } from './rows.ts';

/** Pulses and intervals listed unless the caller says otherwise. */
const MOST_PULSES = 10_000;

/** What became of the input pulses of one timer. */
export interface FateLedgerResult {
  /** Pulses that began in the window, in the order of time. */
  readonly pulses: readonly PulseRow[];
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
  const pulses = new PulseRows(most, (pulse) => (sentences ? fateSentence(pulse, timer) : ''));
  const intervals = new DatedList<IntervalRow>(most, (_, from, until) => intervalRow(from, until));
  const ledger = new FateLedger(timer, window, {
    pulse(pulse) {
      tally.pulse(pulse);
      pulses.add(pulse);
    },
    pulseClosed: (pulse) => tally.pulseClosed(pulse),
    interval: (interval) => tally.interval(interval),
    intervalClosed(interval) {
      tally.intervalClosed(interval);
      const { start, end } = interval;
      if (end === undefined || end.high > window.from) intervals.add(intervalRow(start, end), start, end);
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
      pulses: pulses.rows(),
      counts: { ...tally.counts },
      cut: pulses.isCut || intervals.count > intervals.entries.length,
      intervals: [...intervals.entries],
      explanation: explain(tally, timer, { from: window.from, until: reached }, ledger.latest),
    }),
  };
}

function intervalRow(from: Instant, until: Instant | undefined): IntervalRow {
  return { from: from.high, until: until?.high ?? null };
}
