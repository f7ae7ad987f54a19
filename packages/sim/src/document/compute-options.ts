import type { GraphStore } from '../engine/graph-store.ts';
import type { FormulaParser } from '../formula/index.ts';
import type { ClaimTrials } from '../study/claim-trials.ts';
import type { Captures } from './capture-request.ts';
import type { KnownChecks } from './known-checks.ts';
import type { CellResult } from './results.ts';

/** How a document is computed. */
export interface ComputeOptions {
  /** Columns of every lane; 720 if not given. */
  readonly columns?: number;
  /** Instants (s) at which every trace also gives the exact state of its board; none if not given. */
  readonly instants?: readonly number[];
  /** Whether the pulses of traces say in a sentence what became of them, as those of fates always do; true if not given. */
  readonly sentences?: boolean;
  /** Events one run may have; 100 million if not given. */
  readonly maxEvents?: number;
  /** Stops the run at hand; what it has computed so far is kept as `partial`. */
  readonly signal?: { readonly aborted: boolean };
  /** Told the share of all runs that is done, 0 to 1. */
  readonly onProgress?: (share: number) => void;
  /** What takes formulas apart (see `formulasFor`); without it a formula cell gives a faulty result. */
  readonly formulas?: FormulaParser;
  /** What claims draw their trials with (see `claimTrialsFor`); without it a claim cell gives a faulty result. */
  readonly claims?: ClaimTrials;
  /** What was read from the files that capture cells name, by id (see `captureFiles`). */
  readonly captures?: Captures;
  /**
   * For cells that compute many runs, by id: what their jobs gave, where they were run elsewhere (see `cellStudy`). Such a
   * cell runs none itself; jobs that are missing make its result partial.
   */
  readonly jobs?: ReadonlyMap<string, ReadonlyMap<number, unknown>>;
  /**
   * Results of cells, by key, that the same values gave before: where a cell that is wanted needs one of these, it is not
   * computed again.
   */
  readonly known?: ReadonlyMap<string, CellResult>;
  /** What checks of boards and cells found before; everything is checked, if not given. */
  readonly checks?: KnownChecks;
  /** Graphs kept from earlier runs (see `newGraphStore`); each run makes its own, if not given. */
  readonly graphs?: GraphStore;
}
