import type { Unit } from '../quantity/index.ts';
import type { FaultChange } from './fault-change.ts';
import type { FaultKind } from '../study/symptoms.ts';

/** One fault and what one would see of it. */
export interface SymptomsFault {
  readonly part: string;
  readonly what: FaultKind;
  /** In a few words: `R1 open or missing`. */
  readonly title: string;
  /** What it does to the board, so that it can be put there. */
  readonly change: FaultChange;
  /** In the order of `readings`, then of `further`, SI units; null where there is none. */
  readonly values: readonly (number | null)[];
  /** Why a value is null, by its position written as text. */
  readonly reasons: Readonly<Record<string, string>>;
  /** What one would see, against the board as built. */
  readonly seen: string;
  /**
   * Whether people may build it on purpose: every part stays inside its ratings in the simulation, and it is none of those
   * that are only ever computed (reversed electrolytic, short of a supply, missing series resistor).
   */
  readonly build: boolean;
  /** Why not, in sentences. */
  readonly harms: readonly string[];
}

/** A reading and its unit. */
export interface SymptomsReading {
  readonly name: string;
  /** As in a reading cell: `mean(timing)`. */
  readonly asked: string;
  readonly unit: Unit | null;
}

/** Every single fault of a board. */
export interface SymptomsResult {
  readonly kind: 'symptoms';
  readonly ok: true;
  readonly board: string;
  /** The window of every run (s). */
  readonly from: number;
  readonly until: number;
  /** What to be careful of, before anything else. */
  readonly cautions: readonly string[];
  /** Readings asked for, and further ones that may tell apart what looks alike. */
  readonly readings: readonly SymptomsReading[];
  readonly further: readonly SymptomsReading[];
  /** The board as built, as in `rows`; null until computed. */
  readonly asBuilt: readonly (number | null)[] | null;
  /** Faults in all; `rows` are those computed. */
  readonly count: number;
  readonly rows: readonly SymptomsFault[];
  /** How far apart readings may be that look the same (share of the larger). */
  readonly alike: number;
  /** What looks alike by `readings`, positions in `rows`; -1 is the board as built. Only groups of several. */
  readonly groups: readonly {
    readonly members: readonly number[];
    /** The further reading that tells most of them apart, and the parts it makes; null where none does. */
    readonly separator: { readonly reading: string; readonly parts: readonly (readonly number[])[] } | null;
  }[];
  /** What was seen, by name of the reading, SI units; null where there was no value. Empty where nothing was given. */
  readonly seen: Readonly<Record<string, number | null>>;
  /**
   * Faults by how well they fit what was seen, the best first; -1 is the board as built. `off` is 0 where all readings fit
   * and 1 where none is anywhere near.
   */
  readonly ranked: readonly { readonly fault: number; readonly off: number }[];
  /** Share of the work that was done: 1 but for partial results. */
  readonly share: number;
  /** What was found, in plain words with the numbers of the runs. */
  readonly sentence: string;
}
