import type { Unit } from '../quantity/index.ts';
import type { Remark } from '../study/remark.ts';

/** One combination of what a kit lets people plug in. */
export interface SwapsRow {
  /** What is plugged in, as text, in the order of `places`. */
  readonly parts: readonly string[];
  /** In the order of `readings`, SI units; null where there is no value, and for a combination that is not run. */
  readonly values: readonly (number | null)[];
  /** Why a value is null, by its position written as text. */
  readonly reasons: Readonly<Record<string, string>>;
  /** What deserves a word: `unsafe`, `over-limit`, `supply-low`, `never-starts`, `never-ends`, `unfinished`, `too-fast`, `flashing`, `inaudible`. */
  readonly flags: readonly Remark[];
  /** For a combination that would do harm or give a timer too little supply: the part that would prevent it, in a sentence; null where no single one would. */
  readonly remedy: string | null;
  /** Position in `rows` of the first combination that its readings do not tell it from; null where there is none. */
  readonly sameAs: number | null;
  /** Why there was no run, or none to its end; null where there was. */
  readonly failed: string | null;
}

/** Every combination of what a kit lets people plug in. */
export interface SwapsResult {
  readonly kind: 'swaps';
  readonly ok: true;
  readonly board: string;
  /** The window of every run (s). */
  readonly from: number;
  readonly until: number;
  /** What to be careful of, before anything else. */
  readonly cautions: readonly string[];
  /** What can be plugged in where. */
  readonly places: readonly { readonly name: string; readonly choices: readonly string[] }[];
  readonly readings: readonly { readonly name: string; readonly asked: string; readonly unit: Unit | null }[];
  /** Combinations in all; `rows` are those computed, in order, the last place counting fastest. */
  readonly count: number;
  readonly rows: readonly SwapsRow[];
  /** How far apart readings may be that count as the same (share of the larger). */
  readonly alike: number;
  /**
   * Positions in `rows` by the first reading, ascending: only combinations in which every part stays inside its ratings,
   * and which have that reading.
   */
  readonly ranked: readonly number[];
  /** Share of the work that was done: 1 but for partial results. */
  readonly share: number;
  /** What was found, in plain words with the numbers of the runs. */
  readonly sentence: string;
}
