import type { FormulaTree } from '../formula/index.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import type { Unit } from '../quantity/index.ts';
import type { AxisScale } from './axis.ts';
import type { ClaimRelation } from './claim-text.ts';

/** A value that a claim is tried over. Plain data. */
export interface ClaimChoice {
  /** As its subject knows it. */
  readonly name: string;
  /** SI unit; null for plain numbers and words. */
  readonly unit: Unit | null;
  /** What the board has now, in SI units; null for none (no leakage), which the subject is then not given. */
  readonly nominal: number | null;
  /** Values it is tried at, none twice, ascending; for words their numbers, 0 first. */
  readonly points: readonly number[];
  /** Whether values between the points count as well. */
  readonly continuous: boolean;
  readonly scale: AxisScale;
  /** The words its numbers stand for (`bipolar`); null where it is a number. */
  readonly words: readonly string[] | null;
}

/** A name in the sides of a claim, or in the end of its runs, that is no reading: a value that is tried, or a fixed one. */
export type ClaimName = { readonly choice: number } | { readonly value: number };

/** How far a claim may be off: a share of its right side, or so much in its unit. */
interface ClaimTolerance {
  readonly value: number;
  readonly isShare: boolean;
}

/** A claim and what it is tried over. Plain data. */
export interface ClaimPlan {
  readonly left: FormulaTree;
  readonly right: FormulaTree;
  readonly relation: ClaimRelation;
  /** Null: exact but for rounding (1e-9 of the right side); `<` and `>` are always exact. */
  readonly tolerance: ClaimTolerance | null;
  /** Readings by the names that stand for them in the sides. */
  readonly readings: Readonly<Record<string, ParsedReading>>;
  readonly names: Readonly<Record<string, ClaimName>>;
  /** The window of every run: its start and its end (s), or expressions for them. */
  readonly from: number | FormulaTree;
  readonly until: number | FormulaTree;
  readonly maxEvents: number;
  readonly choices: readonly ClaimChoice[];
  readonly trials: number;
  /** A whole number from 0 to 4294967295. */
  readonly seed: number;
}
