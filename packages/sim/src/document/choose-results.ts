import type { Unit } from '../quantity/index.ts';

/** A value that a choice chooses (SI units). */
export interface ChosenValue {
  /** As in the document: `R1`, `C1.capacitance`. */
  readonly value: string;
  readonly unit: Unit | null;
  /** What the document has there now; null for none. */
  readonly now: number | null;
  /** How many values it may be, and the series they are from; null for lists and stock. */
  readonly count: number;
  readonly series: string | null;
}

/** What a reading should be (SI units). */
export interface WantedValue {
  readonly name: string;
  /** The reading as written. */
  readonly asked: string;
  readonly unit: Unit | null;
  readonly target: number;
  /** How far off it may be. */
  readonly allowance: number;
}

/** A set of values that can be built (SI units). */
export interface ChosenSetResult {
  /** In the order of `adjust`. */
  readonly values: readonly number[];
  /** Readings of its run, in the order of `want`. */
  readonly readings: readonly number[];
  /** What each is off by, as a share of its target; null where that is 0. */
  readonly off: readonly (number | null)[];
  /** The largest error, as a share of what is allowed: at most 1 where all wishes are granted. */
  readonly error: number;
  readonly granted: boolean;
  /** Whether all its values are in the stock; null where there is none. */
  readonly inStock: boolean | null;
  /** The readings with the largest leakages and input currents of the timers' families; null where that was not tried. */
  readonly strained: readonly number[] | null;
}

/** Wanted readings to part values, nearest first. */
export interface ChooseResult {
  readonly kind: 'choose';
  readonly ok: true;
  readonly board: string;
  /** The window of every run (s). */
  readonly from: number;
  readonly until: number;
  readonly adjust: readonly ChosenValue[];
  readonly want: readonly WantedValue[];
  /** The nearest sets, at most 20; every one was run and has nothing beyond its limits. */
  readonly sets: readonly ChosenSetResult[];
  /** Sets there are, sets run, sets that could be ranked, and sets that grant all wishes. */
  readonly counts: {
    readonly there: number;
    readonly run: number;
    readonly ranked: number;
    readonly granted: number;
  };
  /** Rules of thumb by which the nearest sets were looked for among the others; none where all sets were run. */
  readonly rules: readonly string[];
  /** Runs of a survey on a coarse grid by which they were looked for where the board has no rules; 0 without one. */
  readonly surveyed: number;
  /** The best set of other series in place of those asked for, coarse to fine: what precision is worth. */
  readonly precision: readonly { readonly series: string; readonly best: ChosenSetResult | null }[];
  /** Sets never ranked, as something would be harmed or beyond its limits; at most 20 of them listed. */
  readonly harmful: { readonly count: number; readonly sets: readonly LeftOutSet[] };
  /** Sets in which a reading has no value; at most 20 of them listed. */
  readonly without: { readonly count: number; readonly sets: readonly LeftOutSet[] };
  /** Ratings that the board does not state, and what was used in their place; null for nothing. */
  readonly notStated: readonly { readonly part: string; readonly what: string; readonly used: string | null }[];
  /** Share of the work that was done: 1 but for partial results. */
  readonly share: number;
  /** What was found, in plain words with the numbers of the runs. */
  readonly sentence: string;
}

/** A set that cannot be ranked, and why. */
export interface LeftOutSet {
  readonly values: readonly number[];
  readonly why: string;
}
