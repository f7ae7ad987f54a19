import type { Unit } from '../quantity/index.ts';
import type { AxisScale } from '../study/axis.ts';
import type { RuleCourse } from '../study/sweep-rules.ts';

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

/** A rule of thumb held against a reading of a sweep (SI units). */
export interface SweepAgainst extends RuleCourse {
  /** Name of the reading. */
  readonly reading: string;
  /** The rule as written: `1.1 * R1 * C1`. */
  readonly text: string;
}

/** One thing that jumps at a mark. */
export interface SweepChange {
  /** `ratio`: input pulses from output to output; `fates`: what becomes of pulses; `run`: whether there is a run at all. */
  readonly what: 'ratio' | 'fates' | 'run';
  /** Name of the reading, or of the timer; empty for `run`. */
  readonly name: string;
  /**
   * What it is on either side: `3`, `uneven` (not the same from output to output) or `none` for a ratio; the pattern for
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
  /** Rules of thumb held against the readings; empty where none are asked for. */
  readonly against: readonly SweepAgainst[];
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

/** Two values of a board over ranges and one reading, SI units. */
export interface MapResult {
  readonly kind: 'map';
  readonly ok: true;
  readonly board: string;
  /** The window of every run (s). */
  readonly from: number;
  readonly until: number;
  readonly vary: { readonly x: VariedValue; readonly y: VariedValue };
  /** The reading: its name, as written, and its unit (null for counts and ratios). */
  readonly name: string;
  readonly asked: string;
  readonly unit: Unit | null;
  /** All points of the axes, ascending. */
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** A row for each y, a value for each x; null where there is none or it is not computed yet. */
  readonly z: readonly (readonly (number | null)[])[];
  /** Laid out as `z`: 1 where a ratio is not the same from output to output, else 0. Null for other readings. */
  readonly uneven: readonly (readonly number[])[] | null;
  /**
   * Boundaries, found by bisection along the lines of the grid to 1e-6, not by the points. With `levels` asked for, one
   * entry a level that is met, `between` null; else, for a ratio, one for each two regions that touch, `level` null:
   * `between` then holds their ratios as text, `uneven` or `none` (fewer than two outputs). Lines are lists of [x, y].
   */
  readonly contours: readonly {
    readonly level: number | null;
    readonly between: readonly [string, string] | null;
    readonly lines: readonly (readonly (readonly [x: number, y: number])[])[];
  }[];
  /** Why points have no value, and how many of them; at most 20 reasons. */
  readonly reasons: readonly { readonly reason: string; readonly count: number }[];
  /** An uneven point looked at closely: its values, pulses from output to output (`2 to 3`), and what went on there. */
  readonly sample: {
    readonly x: number;
    readonly y: number;
    readonly steps: string;
    readonly explanation: string;
  } | null;
  /**
   * Of some uneven points: the number of the first step from output to output that is another one when x is a millionth
   * larger, or null where all `compared` are the same, so that the order of steps can be foretold.
   */
  readonly orders: readonly {
    readonly x: number;
    readonly y: number;
    readonly compared: number;
    readonly partsAt: number | null;
  }[];
  /** Share of the work that was done: 1 but for partial results. */
  readonly share: number;
  /** What was found, in plain words with the numbers of the map. */
  readonly sentence: string;
}
