import { valueAt } from '../core/exponential-sum.ts';
import type { RunEvent } from '../trace/event.ts';
import type { SegmentView, SignalTable } from '../trace/frame.ts';
import { type Instant, instantOf, secondsBetween } from '../trace/instant.ts';
import type { Observer } from '../trace/observer.ts';
import type { PeriodKeeper, PeriodVisitor } from '../trace/period-visitor.ts';
import { signalIndex } from '../trace/signal-name.ts';
import { aimOf } from './aim.ts';
import type { TimerFacts, Window } from './context.ts';
import { type LatestLevels, LatestStretch } from './latest-levels.ts';
import { LevelCrossings } from './level-crossings.ts';
import { type IntervalFacts, type PulseFacts, visitInterval, visitPulse } from './pulse-facts.ts';

/** Who hears of pulses and intervals. Facts are filled in further until they are closed. */
export interface LedgerReader {
  /** A pulse of the window has begun. */
  pulse(pulse: PulseFacts): void;
  /** A pulse of the window has ended, or the window has. */
  pulseClosed(pulse: PulseFacts): void;
  /** An interval has begun, in the window or before it. */
  interval(interval: IntervalFacts): void;
  /** An interval has ended, or the window has (then it has no `end`). */
  intervalClosed(interval: IntervalFacts): void;
}

/**
 * Follows one timer through a run: its input pulses, the intervals of its latch, and who held it on. Pulses and ends of
 * intervals come from the events; how far the capacitor was comes from the signals just after the event's instant; that
 * an interval ran out while TRIGGER held it on comes from THRESHOLD and CONTROL, exact, since nothing switches then.
 */
export class FateLedger implements Observer, PeriodKeeper {
  readonly #timer: TimerFacts;
  readonly #window: Window;
  readonly #reader: LedgerReader;
  #indices = { threshold: -1, control: -1 };
  #latch: IntervalFacts | undefined;
  #pulse: PulseFacts | undefined;
  #pulseListed = false;
  #reset = false;
  /** Watches for the end of an interval that TRIGGER holds on, while there is one. */
  readonly #hold = new LevelCrossings(0, (over, at) => {
    if (this.#latch !== undefined) this.#latch.over = over ? at : undefined;
  });
  #holds = false;
  /** Facts that want the voltages just after the present instant. */
  readonly #wanting: Pick<PulseFacts, 'threshold' | 'limit'>[] = [];
  /** Where THRESHOLD was last heading while the latch was clear (V); NaN where nowhere. */
  #rest = Number.NaN;
  #closed = false;
  /** The latest segment in which the latch was set. */
  readonly #latest = new LatestStretch();
  /** THRESHOLD and its limit at its end; only there once the run or the window is over. */
  latest: LatestLevels | undefined;

  constructor(timer: TimerFacts, window: Window, reader: LedgerReader) {
    this.#timer = timer;
    this.#window = window;
    this.#reader = reader;
    if (timer.start === 'set') this.#begin(intervalAt({ high: 0, low: 0 }));
  }

  /** See {@link Observer}. */
  begin(table: SignalTable): void {
    this.#indices = {
      threshold: signalIndex(table, { net: this.#timer.threshold }),
      control: signalIndex(table, { net: this.#timer.control }),
    };
  }

  /** See {@link Observer}. */
  segment(segment: SegmentView): void {
    if (this.#closed) return;
    if (segment.start >= this.#window.until) return this.end(segment.start);
    const latch = this.#latch;
    const { threshold, control } = this.#indices;
    if (latch === undefined) this.#rest = aimOf(segment.signal(threshold)) ?? Number.NaN;
    if (this.#wanting.length > 0) this.#tellLevels(segment);
    if (latch === undefined) return;
    if (this.#pulse?.accepted === true) {
      if (!this.#holds) this.#hold.beginAnew();
      this.#holds = true;
      this.#hold.segment(segment, threshold, control);
    } else latch.over = undefined;
    this.#latest.take(segment, threshold, control, Math.min(segment.length, this.#window.until - segment.start));
  }

  /** Tells those who want them the voltages at the start of a segment. */
  #tellLevels(segment: SegmentView): void {
    const { threshold, control } = this.#indices;
    const [here, level] = [valueAt(segment.signal(threshold), 0), valueAt(segment.signal(control), 0)];
    for (let facts = this.#wanting.pop(); facts !== undefined; facts = this.#wanting.pop()) {
      facts.threshold = here;
      facts.limit = level;
    }
  }

  /** See {@link Observer}. */
  event(event: RunEvent): void {
    if (this.#closed || event.part !== this.#timer.name) return;
    if (event.time >= this.#window.until) return this.end(event.time);
    switch (event.kind) {
      case 'triggerLow':
        return this.#pulseBegins(instantOf(event));
      case 'triggerHigh':
        return this.#pulseEnds(instantOf(event));
      case 'accepted':
        if (this.#pulse !== undefined) this.#pulse.accepted = true;
        return;
      case 'thresholdOver':
        if (this.#latch !== undefined && event.limit !== undefined) this.#latch.limitMet = event.limit;
        return;
      case 'set':
        return this.#set(instantOf(event), event.cause === 'resetHigh' ? 'release' : 'trigger');
      case 'cleared':
        return this.#cleared(instantOf(event), event.cause === 'resetLow');
      case 'resetLow':
        this.#reset = true;
        if (this.#pulse !== undefined) this.#pulse.reset = true;
        return;
      case 'resetHigh':
        this.#reset = false;
        return;
      default:
        return;
    }
  }

  /** See {@link Observer}. */
  end(time: number): void {
    if (this.#closed) return;
    this.#closed = true;
    this.latest = this.#latest.levels;
    const at = { high: Math.min(time, this.#window.until), low: 0 };
    const latch = this.#latch;
    if (latch?.over !== undefined && secondsBetween(latch.over, at) <= 0) latch.over = undefined;
    if (this.#pulse !== undefined) {
      this.#noteHold(this.#pulse, at);
      this.#pulse.open = true;
      if (this.#pulseListed) this.#reader.pulseClosed(this.#pulse);
    }
    if (latch !== undefined) this.#reader.intervalClosed(latch);
  }

  /** See {@link PeriodKeeper}. What is told of the latest pulse and interval is the same in every period but for dates. */
  visit(visitor: PeriodVisitor): void {
    const [latch, pulse] = [this.#latch, this.#pulse];
    for (const kept of [latch, pulse, this.#holds || undefined, pulse?.accepted, pulse?.reset])
      visitor.same(kept === undefined);
    for (const kept of [this.#reset, this.#closed, this.#wanting.length]) visitor.same(kept);
    if (latch) visitInterval(latch, visitor);
    if (pulse) visitPulse(pulse, visitor);
    if (this.#holds) this.#hold.visit(visitor);
  }

  #pulseBegins(at: Instant): void {
    const pulse: PulseFacts = {
      time: at,
      open: false,
      accepted: this.#timer.minimumTrigger === 0,
      reset: this.#reset,
      found: this.#latch,
      // All fields from the start: those that come later would each take memory of their own.
      end: undefined,
      began: undefined,
      heldFor: undefined,
      threshold: undefined,
      limit: undefined,
    };
    if (this.#latch !== undefined) this.#latch.found++;
    this.#pulse = pulse;
    this.#wanting.push(pulse);
    this.#pulseListed = at.high >= this.#window.from;
    if (this.#pulseListed) this.#reader.pulse(pulse);
  }

  #pulseEnds(at: Instant): void {
    const pulse = this.#pulse;
    if (pulse === undefined) return;
    pulse.end = at;
    this.#noteHold(pulse, at);
    this.#pulse = undefined;
    this.#holds = false;
    if (this.#pulseListed) this.#reader.pulseClosed(pulse);
  }

  /** If the interval ran out while this pulse was low and held it on: by how long. */
  #noteHold(pulse: PulseFacts, until: Instant): void {
    if (this.#latch?.over !== undefined) pulse.heldFor = secondsBetween(this.#latch.over, until);
  }

  #set(at: Instant, cause: 'trigger' | 'release'): void {
    const interval = intervalAt(at, cause, Number.isNaN(this.#rest) ? undefined : this.#rest);
    this.#begin(interval);
    this.#wanting.push(interval);
    if (this.#pulse !== undefined) this.#pulse.began ??= interval;
  }

  #begin(interval: IntervalFacts): void {
    this.#latch = interval;
    this.#reader.interval(interval);
  }

  #cleared(at: Instant, byReset: boolean): void {
    const interval = this.#latch;
    if (interval === undefined) return;
    if (this.#pulse !== undefined) this.#noteHold(this.#pulse, at);
    interval.end = at;
    interval.byReset = byReset;
    this.#latch = undefined;
    this.#holds = false;
    this.#reader.intervalClosed(interval);
  }
}

/** An interval that begins, with all fields: those that come later would each take memory of their own. */
function intervalAt(start: Instant, cause?: 'trigger' | 'release', rest?: number): IntervalFacts {
  const later = { over: undefined, end: undefined, byReset: undefined, threshold: undefined };
  return { start, cause, found: 0, rest, ...later, limit: undefined, limitMet: undefined };
}

/** An observer that passes everything on to a ledger. */
export function watching(
  ledger: FateLedger,
): Required<Pick<Observer, 'ignoresPieces' | 'begin' | 'segment' | 'event' | 'end'>> {
  return {
    ignoresPieces: true,
    begin: (table) => ledger.begin(table),
    segment: (segment) => ledger.segment(segment),
    event: (event) => ledger.event(event),
    end: (time) => ledger.end(time),
  };
}
