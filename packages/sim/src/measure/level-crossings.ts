import { signChanges, valueAt } from '../core/exponential-sum.ts';
import type { SegmentView } from '../trace/frame.ts';
import { type Instant, instantAfter } from '../trace/instant.ts';
import type { PeriodKeeper, PeriodVisitor } from '../trace/period-visitor.ts';
import { SignalSum } from '../trace/signal-sum.ts';

/** Rounding of a sum of terms, in units of the terms' total size. */
const ROUNDING = 16 * Number.EPSILON;

/**
 * Follows one signal through segments and jumps and tells when it passes a level: high is above the level, and before 0
 * every signal is low.
 *
 * A stretch that stays within rounding of the level decides nothing (the edge is told when the signal has left it), so
 * that a capacitor that turns round exactly at the level makes no edge. A signal that stands still there is low, since
 * it is not above.
 */
export class LevelCrossings implements PeriodKeeper {
  readonly #level: number;
  readonly #onEdge: (high: boolean, at: Instant) => void;
  readonly #sum = new SignalSum();
  #high = false;

  /**
   * @param level in the unit of the signal.
   * @param onEdge called for every edge in the order of time; `high` is what the signal then is.
   */
  constructor(level: number, onEdge: (high: boolean, at: Instant) => void) {
    this.#level = level;
    this.#onEdge = onEdge;
  }

  /** Begins anew with a signal that is low. */
  beginAnew(): void {
    this.#high = false;
  }

  /** Whether the signal is above the level at the end of the last segment. */
  get isHigh(): boolean {
    return this.#high;
  }

  /**
   * Looks at the next segment; `index` is the signal's, -1 a signal that is always 0. With `minus` it is the difference
   * of two signals that is followed.
   */
  segment(segment: SegmentView, index: number, minus = -1): void {
    const sum = minus < 0 ? segment.signal(index) : this.#sum.load(segment, index, minus);
    // Most signals stand still most of the time.
    if (sum.steady === sum.constant) {
      const rounding = ROUNDING * (Math.abs(sum.constant) + Math.abs(this.#level));
      const high = sum.constant - this.#level > rounding;
      if (high !== this.#high) this.#settle(high, segment, 0);
      return;
    }
    let decaying = 0;
    let size = Math.abs(sum.constant) + Math.abs(this.#level);
    let still = sum.constant;
    for (let k = 0; k < sum.rates.length; k++) {
      const coefficient = sum.coefficients[k]!;
      size += Math.abs(coefficient);
      if (sum.rates[k]! === 0) still += coefficient;
      else decaying += Math.abs(coefficient) * (sum.rates[k]! < 0 ? Math.exp(-sum.rates[k]! * segment.length) : 1);
    }
    const ramp = sum.slope * segment.length;
    size += Math.abs(ramp);
    still -= this.#level;
    const rounding = ROUNDING * size;
    // What the signal can reach at most, whatever its exponentials do.
    const room = decaying + rounding;
    if (Math.min(still, still + ramp) > room) this.#settle(true, segment, 0);
    else if (Math.max(still, still + ramp) < -room) this.#settle(false, segment, 0);
    else if (decaying + Math.abs(ramp) <= rounding) this.#settle(false, segment, 0);
    else this.#look(segment, index, minus, rounding);
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    visitor.same(this.#high);
  }

  #look(segment: SegmentView, index: number, minus: number, rounding: number): void {
    const signal = minus < 0 ? segment.signal(index) : this.#sum;
    if (!signal.mayTurn) {
      // What goes one way and is on the same side at both ends does not pass the level.
      const [start, end] = [signal.atStart - this.#level, signal.atEnd - this.#level];
      if (Math.min(start, end) > rounding) return this.#settle(true, segment, 0);
      if (Math.max(start, end) < -rounding) return this.#settle(false, segment, 0);
    }
    this.#sum.load(segment, index, minus).constant -= this.#level;
    this.#search(segment, rounding);
  }

  #search(segment: SegmentView, rounding: number): void {
    const { length } = segment;
    const changes = signChanges(this.#sum, length);
    let from = 0;
    for (let piece = 0; piece <= changes.length; piece++) {
      const to = piece < changes.length ? changes[piece]! : length;
      const value = this.#clearest(from, to);
      if (Math.abs(value) > rounding) this.#settle(value > 0, segment, from);
      from = to;
    }
  }

  /** The value furthest from the level among the ends and the middle of a piece without a sign change. */
  #clearest(from: number, to: number): number {
    const sum = this.#sum;
    const [start, middle, end] = [valueAt(sum, from), valueAt(sum, (from + to) / 2), valueAt(sum, to)];
    const clearest = Math.abs(middle) > Math.abs(start) ? middle : start;
    return Math.abs(end) > Math.abs(clearest) ? end : clearest;
  }

  #settle(high: boolean, segment: SegmentView, local: number): void {
    if (high === this.#high) return;
    this.#high = high;
    this.#onEdge(high, instantAfter(segment.start, segment.startLow, local));
  }
}
