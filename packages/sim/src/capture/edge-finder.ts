import type { CaptureEdge } from './capture.ts';

/** Edges of one net that are kept. */
const MOST_EDGES = 10_000;
/** A passage within this many distances of samples is a jump: two, and a little for uneven distances. */
const STEEP = 2.5;

/** A passage as it was seen, before the noise is known. */
interface Passage {
  readonly time: number;
  readonly to: 'high' | 'low';
  /** From the last sample beyond one limit to the first beyond the other (s). */
  readonly transit: number;
  /** Half of the time during which the voltage went to and fro across the level (s). */
  readonly spread: number;
  readonly step: number;
  readonly inGap: boolean;
}

/**
 * Finds the passages of a sampled voltage through a level, with hysteresis: an edge counts once the voltage is beyond the
 * limit on the other side. Its time is the middle between the first and the last crossing of the level before that; of a
 * jump, the middle between the two samples.
 */
export class EdgeFinder {
  readonly #level: number;
  readonly #hysteresis: number;
  readonly #passages: Passage[] = [];
  #leftOut = 0;
  #high: boolean | undefined;
  #before: { readonly time: number; readonly value: number } | undefined;
  /** The last sample that was beyond the limit on the side where the voltage counts as being (s). */
  #inside = NaN;
  #first = NaN;
  #last = NaN;
  #gap = false;

  constructor(level: number, hysteresis: number) {
    this.#level = level;
    this.#hysteresis = hysteresis;
  }

  /** Adds a sample (s, V). @param afterGap whether samples are missing before it. */
  add(time: number, value: number, afterGap: boolean): void {
    const before = this.#before;
    this.#before = { time, value };
    this.#gap ||= afterGap;
    const beyond = Math.abs(value - this.#level) > this.#hysteresis;
    const high = value > this.#level;
    if (before === undefined || this.#high === undefined) {
      if (beyond) this.#settle(high, time);
      return;
    }
    if (high !== before.value > this.#level) {
      const share = (this.#level - before.value) / (value - before.value);
      this.#last = before.time + share * (time - before.time);
      if (Number.isNaN(this.#first)) this.#first = this.#last;
    }
    if (!beyond) return;
    if (high !== this.#high) this.#note(high, time, time - before.time);
    this.#settle(high, time);
  }

  /** The edges found. @param noise standard deviation of the samples (V). */
  edges(noise: number): { edges: CaptureEdge[]; leftOut: number } {
    const edges = this.#passages.map(({ time, to, transit, spread, step, inGap }): CaptureEdge => {
      const steep = transit <= STEEP * step;
      const onSlope = Math.max((noise * transit) / (2 * this.#hysteresis), spread, step / 20);
      return { time, to, uncertainty: steep ? transit / Math.sqrt(12) : onSlope, steep, inGap };
    });
    return { edges, leftOut: this.#leftOut };
  }

  #note(high: boolean, time: number, step: number): void {
    if (this.#passages.length === MOST_EDGES) {
      this.#leftOut++;
      return;
    }
    const transit = time - this.#inside;
    this.#passages.push({
      time: transit <= STEEP * step ? (time + this.#inside) / 2 : (this.#first + this.#last) / 2,
      to: high ? 'high' : 'low',
      transit,
      spread: (this.#last - this.#first) / 2,
      step,
      inGap: this.#gap,
    });
  }

  #settle(high: boolean, time: number): void {
    this.#high = high;
    this.#inside = time;
    this.#first = NaN;
    this.#last = NaN;
    this.#gap = false;
  }
}
