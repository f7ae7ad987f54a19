import type { Unit } from '../quantity/index.ts';
import type { InsideShare, SpreadLimits, WorstValue } from '../study/spread-findings.ts';
import type { SpreadLaw } from '../study/spread-quantity.ts';
import type { Bin } from '../study/spread-statistics.ts';

/** A value that a spread varies (SI units; null for none, a leakage that is none). */
export interface SpreadValue {
  /** As in the document: `R1`, `U1.with.thresholdCurrent`. */
  readonly value: string;
  readonly unit: Unit | null;
  /** What the document has there now. */
  readonly now: number | null;
  readonly least: number | null;
  readonly greatest: number | null;
  /** Where the range comes from: a tolerance, the cell, or the published source of a family's parameter. */
  readonly source: string;
}

/** One reading of a spread (SI units). */
export interface SpreadReading {
  readonly name: string;
  /** As written. */
  readonly asked: string;
  /** Null for counts and ratios, and where no run has a value. */
  readonly unit: Unit | null;
  /** With the board as it stands. */
  readonly now: number | null;
  /** Samples with a value, and without one. */
  readonly count: number;
  readonly missing: number;
  /** Why samples and corners have no value; at most 10 reasons. */
  readonly reasons: readonly { readonly reason: string; readonly count: number }[];
  /** Of the samples with a value; null where there are too few. */
  readonly mean: number | null;
  readonly deviation: number | null;
  readonly least: number | null;
  readonly greatest: number | null;
  /** The value below which that share of the samples lies. */
  readonly quantiles: readonly { readonly share: number; readonly value: number }[];
  /** A histogram: every sample with a value counts in one bin. */
  readonly bins: readonly Bin[];
  /** The furthest values of all runs, `at` in the order of `parts`; null where no run has a value. */
  readonly worst: { readonly least: WorstValue | null; readonly greatest: WorstValue | null };
  /** Samples within the limits asked for; null where none are. */
  readonly limits: (SpreadLimits & InsideShare) | null;
  /**
   * How much of the variance follows each of `parts`, by linear regression on the samples, and how much no straight line;
   * null where the reading does not vary or there are too few samples.
   */
  readonly variance: { readonly shares: readonly number[]; readonly rest: number } | null;
}

/** Readings of a board whose values lie anywhere within their tolerances. */
export interface SpreadResult {
  readonly kind: 'spread';
  readonly ok: true;
  readonly board: string;
  /** The window of every run (s). */
  readonly from: number;
  readonly until: number;
  readonly law: SpreadLaw;
  readonly seed: number;
  /** Samples that are there: as many as asked for, but for partial results. */
  readonly samples: number;
  readonly parts: readonly SpreadValue[];
  readonly readings: readonly SpreadReading[];
  /** Samples within the limits of all readings at once; null where no limits are asked for. */
  readonly inside: InsideShare | null;
  /** Corners of all ranges that were run; 0 where they are too many, and a search alone looked for the worst case. */
  readonly corners: number;
  /** Share of the work that was done: 1 but for partial results. */
  readonly share: number;
  /** What was found, in plain words with the numbers of the samples. */
  readonly sentence: string;
}
