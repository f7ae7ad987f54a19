import { valueAt } from '../core/exponential-sum.ts';
import type { SegmentView } from '../trace/frame.ts';
import { SignalSum } from '../trace/signal-sum.ts';
import { aimOf, neverPasses } from './aim.ts';

/** THRESHOLD and its limit (V) when the latch was last seen set. */
export interface LatestLevels {
  readonly threshold: number;
  readonly limit: number;
  /** Where both were heading if THRESHOLD never passes the limit as things stood then. */
  readonly never?: { readonly threshold: number; readonly limit: number };
}

/** Aims within this share of the limit are looked at closely. */
const NEAR_LIMIT = 1e-9;

/** Keeps the latest stretch of THRESHOLD and its limit as it comes; what it says is worked out when it is asked for. */
export class LatestStretch {
  readonly #threshold = new SignalSum();
  readonly #limit = new SignalSum();
  /** Their distance, where THRESHOLD aims below its limit or right at it. */
  readonly #distance = new SignalSum();
  #isNear = false;
  /** How much of the stretch counts (s); NaN before the first. */
  #length = Number.NaN;

  /** Takes in the next stretch, of which the first `length` seconds count; signals by index. */
  take(segment: SegmentView, threshold: number, limit: number, length: number): void {
    const [upper, lower] = [segment.signal(threshold), segment.signal(limit)];
    this.#threshold.copy(upper);
    this.#limit.copy(lower);
    this.#length = length;
    // The comparison of the aims is cheap and settles nearly every case.
    const [aim, level] = [aimOf(upper), aimOf(lower)];
    this.#isNear = aim !== undefined && level !== undefined && aim < (1 + NEAR_LIMIT) * level;
    if (this.#isNear) this.#distance.load(segment, threshold, limit);
  }

  /** The levels at its end, to be asked for before the run is over; undefined where there was none. */
  get levels(): LatestLevels | undefined {
    const [upper, lower, end] = [this.#threshold, this.#limit, this.#length];
    if (Number.isNaN(end)) return undefined;
    const levels = { threshold: valueAt(upper, end), limit: valueAt(lower, end) };
    const [aim, limit] = [aimOf(upper), aimOf(lower)];
    if (!this.#isNear || aim === undefined || limit === undefined || !neverPasses(this.#distance, limit)) return levels;
    return { ...levels, never: { threshold: aim, limit } };
  }
}
