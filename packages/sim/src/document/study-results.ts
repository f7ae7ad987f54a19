import type { Unit } from '../quantity/index.ts';
import type { AxisScale } from '../study/axis.ts';

/** The value that a study goes through. */
export interface VariedValue {
  /** As in the document: `R1`, `G1.wave.period`. */
  readonly value: string;
  /** Null for a plain number. */
  readonly unit: Unit | null;
  /** How its points are spaced, and how an axis of it is best drawn. */
  readonly scale: AxisScale;
  /** What the document has there now (SI); null for none (no leakage). */
  readonly now: number | null;
}

/** One reading over the range of a sweep. */
export interface SweepSeries {
  readonly name: string;
  /** As written. */
  readonly asked: string;
  /** As in a reading cell; also null where no point has a value. */
  readonly unit: Unit | null;
  /** One for each entry of `x`, in SI units; null where there is no value. */
  readonly values: readonly (number | null)[];
  /** Why a value is null, by its position written as text. */
  readonly reasons: Readonly<Record<string, string>>;
}

/** One thing that jumps at a mark. */
export interface SweepChange {
  /** `ratio`: input pulses from output to output; `fates`: what becomes of pulses; `run`: whether there is a run at all. */
  readonly what: 'ratio' | 'fates' | 'run';
  /** Name of the reading, or of the timer; empty for `run`. */
  readonly name: string;
  /**
   * What it is on either side: `3`, `3 to 4` (not the same from output to output) or `none` for a ratio; the pattern for
   * fates; for `run`, why there is none, or null where there is one.
   */
  readonly below: string | null;
  readonly above: string | null;
}

/** A place where something jumps, found by bisection, not by the points of the range. */
export interface SweepResultMark {
  /** Two values at most 1e-9 of them apart (SI): the jump is between. */
  readonly below: number;
  readonly above: number;
  readonly changes: readonly SweepChange[];
  /** All readings at either side, in the order of `series`. */
  readonly valuesBelow: readonly (number | null)[];
  readonly valuesAbove: readonly (number | null)[];
}

/** One value of a board over a range, SI units. */
export interface SweepResult {
  readonly kind: 'sweep';
  readonly ok: true;
  readonly board: string;
  /** The window of every run (s). */
  readonly from: number;
  readonly until: number;
  readonly vary: VariedValue;
  /** Points computed, ascending. */
  readonly x: readonly number[];
  readonly series: readonly SweepSeries[];
  /**
   * What becomes of the pulses of a timer from one start to the next, for each point: `started, 2 ignored`, `started, 2 to
   * 3 ignored`, `only ignored`, `no pulses`; null where there is no run. Null where no timer is watched.
   */
  readonly fates: { readonly timer: string; readonly patterns: readonly (string | null)[] } | null;
  /** Ascending. A jump that is undone before the next point goes unnoticed. */
  readonly marks: readonly SweepResultMark[];
  /** Share of the work that was done: 1 but for partial results. */
  readonly share: number;
  /** What was found, in plain words with the numbers of the sweep. */
  readonly sentence: string;
}
