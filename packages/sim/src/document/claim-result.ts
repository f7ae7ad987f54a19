import type { Unit } from '../quantity/index.ts';
import type { AxisScale } from '../study/axis.ts';
import type { ClaimRelation } from '../study/claim-text.ts';

/** What a claim came to: holds, fails, or open (nothing was decided). */
export type ClaimVerdict = 'holds' | 'fails' | 'open';

/** Both sides of a claim with certain values, SI units. */
export interface ClaimSides {
  /** Null where there is no value. */
  readonly left: number | null;
  readonly right: number | null;
  /** (left - right) / |right|, a share; null where a side has no value or the right one is 0. */
  readonly error: number | null;
  /** Why a side has no value; only then. */
  readonly reason?: string;
}

/** A claim over one of its values alone, everything else as the board stands. */
export interface ClaimCourseResult {
  /** As in the document: `R1`, `U1.family`. */
  readonly value: string;
  /** Null for plain numbers and words. */
  readonly unit: Unit | null;
  readonly scale: AxisScale;
  /** What the document has there now; null for none (no leakage). */
  readonly now: number | string | null;
  /** Values tried: numbers ascending in SI units, or words. */
  readonly x: readonly (number | string)[];
  /** One for each entry of `x`. */
  readonly verdicts: readonly ClaimVerdict[];
  readonly left: readonly (number | null)[];
  readonly right: readonly (number | null)[];
  readonly error: readonly (number | null)[];
  /** Why a side has no value, by position written as text. */
  readonly reasons: Readonly<Record<string, string>>;
  /**
   * The largest stretch around the board's own value in which the claim holds, its ends found by halving to 1e-6 or where
   * nothing beyond was tried (`fromIsEnd`, `toIsEnd`); `checked` fresh values in it all hold. Null where it does not hold
   * with the board's own value, and for words.
   */
  readonly holds: {
    readonly from: number;
    readonly to: number;
    readonly fromIsEnd: boolean;
    readonly toIsEnd: boolean;
    readonly checked: number;
  } | null;
}

/** How far one value reaches in a stretch in which a claim holds: numbers (SI units), or words. */
export type ClaimBoxSide =
  | { readonly value: string; readonly unit: Unit | null; readonly from: number; readonly to: number }
  | { readonly value: string; readonly words: readonly string[] };

/** A rule that people believe, tried over the values of a board. */
export interface ClaimResult {
  readonly kind: 'claim';
  readonly ok: true;
  readonly board: string;
  /** The window of every run: times (s), or the expressions they are computed by. */
  readonly from: number | string;
  readonly until: number | string;
  /** The claim as written, and taken apart. */
  readonly says: string;
  readonly left: string;
  readonly relation: ClaimRelation;
  readonly right: string;
  /** The tolerance as written; null for none. */
  readonly within: string | null;
  /** Unit of both sides; null for plain numbers and units without a name. */
  readonly unit: Unit | null;
  readonly verdict: ClaimVerdict;
  /** Seeded trials done, which vary everything at once, and how they came out. */
  readonly trials: number;
  readonly seed: number;
  readonly holds: number;
  readonly fails: number;
  readonly open: number;
  /** Why trials decided nothing; a few. */
  readonly reasons: readonly string[];
  /** The board as it stands. */
  readonly nominal: (ClaimSides & { readonly verdict: ClaimVerdict }) | null;
  /**
   * The simplest case known in which the claim fails: fewest values off the board's own, then the roundest. `values` holds
   * only those, as they can be put into the board: SI numbers, or words.
   */
  readonly counterexample: (ClaimSides & { readonly values: Readonly<Record<string, number | string>> }) | null;
  /** One for each value the claim is tried over, as far as computed. */
  readonly over: readonly ClaimCourseResult[];
  /**
   * Values that may be changed together, everything else as the board stands, and between what ends: the claim holds at all
   * corners and at fresh points inside, `checked` of them. Not the largest such stretch. Null where none is known.
   */
  readonly box: { readonly sides: readonly ClaimBoxSide[]; readonly checked: number } | null;
  /** Share of the work that was done: 1 but for partial results. */
  readonly share: number;
  /** What was found, in plain words with the numbers of the runs. */
  readonly sentence: string;
}
