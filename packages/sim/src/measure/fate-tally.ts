import { type Instant, secondsBetween } from '../trace/instant.ts';
import type { PeriodKeeper, PeriodVisitor } from '../trace/period-visitor.ts';
import type { Window } from './context.ts';
import { endOf, fateOf, type IntervalFacts, type PulseFacts, untimed } from './pulse-facts.ts';
import { Range } from './range.ts';
import type { Fate } from './rows.ts';
import { cameTooSoon } from './start-level.ts';

/** What can be said of a whole run of pulses, gathered in constant memory. */
export class FateTally implements PeriodKeeper {
  readonly counts: Record<Fate, number> = { started: 0, held: 0, ignored: 0, short: 0, barred: 0 };
  /** Pulses of the window. */
  pulses = 0;
  /** Time low of closed pulses (s), and of those too short to act. */
  readonly widths = new Range();
  readonly shortWidths = new Range();
  /** Time from one pulse to the next (s). */
  readonly spacings = new Range();
  /** Pulses from one start to the next, the later one counted. */
  readonly steps = new Range();
  /** Length (s) of intervals that ran out; `later` leaves out the first. */
  readonly lengths = new Range();
  readonly later = new Range();
  /** Length of the first interval that ran out (s). */
  firstLength: number | undefined;
  /** THRESHOLD at the start of the first interval, and of later ones, as shares of the limit, and the latter in V. */
  firstStart: number | undefined;
  readonly laterStarts = new Range();
  readonly laterVoltages = new Range();
  /** THRESHOLD (V) at the start of intervals that began before it was down, and the length (s) of these and of all others. */
  readonly soonVoltages = new Range();
  readonly soonLengths = new Range();
  readonly otherLengths = new Range();
  /** How long the latch was set (s), for starts at which THRESHOLD was not below its limit; what they tell is only here. */
  readonly untimed = new Range();
  /** From the start until the latch was cleared (s), for intervals that ran out: longer where a pulse held the output on. */
  readonly spans = new Range();
  /** Pulses that came while an interval ran, for each one that ran out. */
  readonly found = new Range();
  /** Seconds by which starters, and by which other pulses, held the output on. */
  readonly ownHolds = new Range();
  readonly otherHolds = new Range();
  /** Intervals that RESET ended, and those that began with its release. */
  cutByReset = 0;
  begunByRelease = 0;
  /** The interval still running at the end, if there is one. */
  running: IntervalFacts | undefined;
  /** The pulse still low at the end, if there is one. */
  openPulse: PulseFacts | undefined;
  readonly #window: Window;
  #lastPulse: Instant | undefined;
  #sinceStart: number | undefined;
  /** Intervals that began in the window. */
  intervals = 0;

  /** @param window the window whose pulses count. */
  constructor(window: Window) {
    this.#window = window;
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    for (const fate of Object.keys(this.counts) as Fate[]) this.counts[fate] = visitor.sum(this.counts[fate]);
    this.pulses = visitor.sum(this.pulses);
    this.intervals = visitor.sum(this.intervals);
    this.cutByReset = visitor.sum(this.cutByReset);
    this.begunByRelease = visitor.sum(this.begunByRelease);
    visitor.same(this.firstLength);
    visitor.same(this.firstStart);
    this.#lastPulse = visitor.date(this.#lastPulse);
    visitor.same(this.#sinceStart === undefined);
    if (this.#sinceStart !== undefined) this.#sinceStart = visitor.sum(this.#sinceStart);
    for (const kept of Object.values(this)) if (kept instanceof Range) kept.visit(visitor);
  }

  /** A pulse has begun. */
  pulse(pulse: PulseFacts): void {
    this.pulses++;
    if (this.#lastPulse !== undefined) this.spacings.add(secondsBetween(this.#lastPulse, pulse.time));
    this.#lastPulse = pulse.time;
    if (this.#sinceStart !== undefined) this.#sinceStart++;
  }

  /** A pulse has ended, or the window has. */
  pulseClosed(pulse: PulseFacts): void {
    const fate = fateOf(pulse);
    this.counts[fate]++;
    if (pulse.open) this.openPulse = pulse;
    if (pulse.end !== undefined) {
      const width = secondsBetween(pulse.time, pulse.end);
      this.widths.add(width);
      if (fate === 'short') this.shortWidths.add(width);
    }
    if (pulse.began !== undefined && untimed(pulse.began)) return;
    if (pulse.heldFor !== undefined) (fate === 'started' ? this.ownHolds : this.otherHolds).add(pulse.heldFor);
  }

  /** An interval has begun. */
  interval(interval: IntervalFacts): void {
    if (interval.start.high < this.#window.from) return;
    this.intervals++;
    if (interval.cause === 'release') this.begunByRelease++;
    if (this.#sinceStart !== undefined && this.#sinceStart > 0) this.steps.add(this.#sinceStart);
    this.#sinceStart = 0;
  }

  /** An interval has ended, or the window has. */
  intervalClosed(interval: IntervalFacts): void {
    if (interval.end === undefined) this.running = interval;
    if (interval.start.high < this.#window.from) return;
    if (interval.byReset === true) this.cutByReset++;
    const end = endOf(interval);
    const ranOut = end !== undefined && (interval.over !== undefined || interval.byReset !== true);
    const first = this.intervals === 1;
    if (interval.end !== undefined && untimed(interval)) {
      this.untimed.add(secondsBetween(interval.start, interval.end));
      return;
    }
    const soon = cameTooSoon(interval);
    if (soon) this.soonVoltages.add(interval.threshold!);
    if (interval.threshold !== undefined && interval.limit !== undefined && interval.limit > 0) {
      const share = interval.threshold / interval.limit;
      if (first) this.firstStart = share;
      else {
        this.laterStarts.add(share);
        this.laterVoltages.add(interval.threshold);
      }
    }
    if (!ranOut) return;
    const length = secondsBetween(interval.start, end);
    this.lengths.add(length);
    (soon ? this.soonLengths : this.otherLengths).add(length);
    this.found.add(interval.found);
    if (interval.end !== undefined) this.spans.add(secondsBetween(interval.start, interval.end));
    if (first) this.firstLength = length;
    else this.later.add(length);
  }
}
