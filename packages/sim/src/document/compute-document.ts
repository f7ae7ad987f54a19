import { type Outcome } from '../engine/outcome.ts';
import type { Issue } from '../core/errors.ts';
import { runCircuit } from '../run/simulate.ts';
import { type BoardTable, checkBoards, type GoodBoard } from './board-table.ts';
import { readShow, readTake, readTimer, type RunNames, runNames } from './cell-names.ts';
import { type CheckedCell, checkPage } from './check-page.ts';
import { computeBoard } from './compute-board.ts';
import { computeNote } from './compute-note.ts';
import { cellNeeds } from './dependencies.ts';
import { EVENT_BUDGET, type NotebookDocument, type RunCell } from './notebook-document.ts';
import { listedNames } from './name-help.ts';
import { planFates } from './plan-fates.ts';
import { planReading } from './plan-reading.ts';
import { planTrace } from './plan-trace.ts';
import { cellKindText } from './read-cell.ts';
import type { CellResult, DocumentResults, FaultyResult } from './results.ts';
import { type Faultless, type RunPlan, type RunResult, withFaults } from './run-plan.ts';
import { shortName } from './short-name.ts';

/** How a document is computed. */
export interface ComputeOptions {
  /** Columns of every lane; 720 if not given. */
  readonly columns?: number;
  /** Instants (s) at which every trace also gives the exact state of its board; none if not given. */
  readonly instants?: readonly number[];
  /** Events one run may have; 100 million if not given. */
  readonly maxEvents?: number;
  /** Stops the run at hand; what it has computed so far is kept as `partial`. */
  readonly signal?: { readonly aborted: boolean };
  /** Told the share of all runs that is done, 0 to 1. */
  readonly onProgress?: (share: number) => void;
}

/** Options of {@link computeDocument}. */
export interface ComputeDocumentOptions extends ComputeOptions {
  /** Ids of the cells wanted, all if not given. What they need is computed as well, but not among the results. */
  readonly only?: readonly string[];
}

/**
 * Computes the cells of a document. A cell that cannot be computed gives a {@link FaultyResult}; the others go on. Never
 * throws, whatever the document holds. Cells that look at the same board up to the same time share one run.
 */
export function computeDocument(document: NotebookDocument, options: ComputeDocumentOptions = {}): DocumentResults {
  const { only, ...rest } = options;
  const computation = new Computation(document, rest);
  const wanted = only ?? computation.keys;
  computation.compute(wanted);
  const results: Record<string, CellResult> = {};
  for (const key of computation.keys) {
    if (wanted.includes(key)) results[key] = computation.resultOf(key);
  }
  return { results };
}

/** Computes one cell, and whatever it needs. An id that the page does not have gives a faulty result as well. */
export function computeCell(document: NotebookDocument, id: string, options: ComputeOptions = {}): CellResult {
  const computation = new Computation(document, options);
  computation.compute([id]);
  return computation.resultOf(id);
}

/** One pass over a document: what has been checked and computed so far. */
class Computation {
  readonly #options: ComputeOptions;
  readonly #table: BoardTable;
  readonly #cells: ReadonlyMap<string, CheckedCell>;
  readonly #results = new Map<string, CellResult>();
  readonly #names = new Map<GoodBoard, RunNames>();

  constructor(document: NotebookDocument, options: ComputeOptions) {
    this.#options = options;
    this.#table = checkBoards(document);
    this.#cells = new Map(checkPage(document.page, this.#table).map((cell) => [cell.key, cell]));
  }

  /** Keys of all cells, in page order. */
  get keys(): string[] {
    return [...this.#cells.keys()];
  }

  /** Computes cells and what they need: all runs first, then what only quotes. */
  compute(keys: readonly string[]): void {
    const needed = new Set(keys);
    for (const key of needed) {
      const cell = this.#cells.get(key);
      // A set visits what is added while it is walked through, so this finds what is needed in turn.
      if (cell?.ok === true) for (const need of cellNeeds(cell.cell)) needed.add(need);
    }
    const runs = this.#sharedRuns([...needed]);
    for (const [index, run] of runs.entries()) this.#run(run, index, runs.length);
    this.#options.onProgress?.(1);
  }

  /** The result of a cell that {@link compute} was asked for. */
  resultOf(key: string): CellResult {
    const known = this.#results.get(key);
    if (known !== undefined) return known;
    const result = this.#withoutRun(key);
    this.#results.set(key, result);
    return result;
  }

  #withoutRun(key: string): CellResult {
    const cell = this.#cells.get(key);
    if (cell === undefined) {
      const message = `page must have a cell named ${key}; got ${listedNames(this.keys) || 'none'}. Correct the name.`;
      return { kind: 'unknown', ok: false, error: { message, where: 'page' } };
    }
    if (!cell.ok) return faulty(cellKindText(cell.data), cell.issues);
    if (cell.cell.kind === 'note') return computeNote(cell.cell, (id) => this.resultOf(id));
    const board = this.#board(cell.cell.board);
    if (cell.cell.kind === 'board') return computeBoard(cell.cell, board);
    throw new RangeError(`resultOf: ${key} must have been computed before. Call compute first.`);
  }

  /** The run cells among the keys, gathered by board and time. */
  #sharedRuns(keys: readonly string[]): SharedRun[] {
    const runs = new Map<string, SharedRun>();
    for (const key of keys) {
      const checked = this.#cells.get(key);
      if (checked?.ok !== true) continue;
      const { cell } = checked;
      if (cell.kind === 'note' || cell.kind === 'board') continue;
      const shared = `${cell.board} ${cell.until}`;
      const run = runs.get(shared) ?? { board: this.#board(cell.board), until: cell.until, cells: [] };
      run.cells.push({ checked, plan: withFaults(this.#plan(cell, run.board, checked), run.board, cell) });
      runs.set(shared, run);
    }
    return [...runs.values()];
  }

  #plan(cell: RunCell, board: GoodBoard, { at }: CheckedCell): RunPlan<Faultless<RunResult>> {
    const names = this.#namesOf(board);
    switch (cell.kind) {
      case 'trace':
        return planTrace(cell, readShow(cell, names, at).signals, names, board.prefix, this.#options);
      case 'reading':
        return planReading(cell, readTake(cell, names, at).readings, names);
      case 'fates': {
        const found = readTimer(cell, board, at);
        const timer = 'timer' in found ? found.timer : '';
        return planFates(cell, timer, cell.timer ?? shortName(timer, board.prefix), names);
      }
    }
  }

  #run(run: SharedRun, index: number, runs: number): void {
    const { onProgress, signal, maxEvents = EVENT_BUDGET } = this.#options;
    try {
      const outcome = runCircuit(run.board.circuit, {
        until: run.until,
        observers: run.cells.flatMap(({ plan }) => plan.observers),
        maxEvents,
        faults: true,
        signal,
        onProgress: onProgress && ((share: number) => onProgress((index + share) / runs)),
      });
      for (const { checked, plan } of run.cells) {
        const result = plan.result();
        this.#results.set(checked.key, outcome.ok ? result : stopped(checked, outcome, result));
      }
    } catch (error) {
      // Nothing thrown is expected here; if the program has a mistake, the other cells go on all the same.
      for (const { checked } of run.cells) this.#results.set(checked.key, failed(checked, error));
    }
  }

  /** A board that the check of the page has found to be good. */
  #board(name: string): GoodBoard {
    const board = this.#table.boards.get(name);
    if (board?.ok !== true) throw new RangeError(`compute: board must have passed its check; got ${name}.`);
    return board;
  }

  #namesOf(board: GoodBoard): RunNames {
    const names = this.#names.get(board) ?? runNames(board);
    this.#names.set(board, names);
    return names;
  }
}

/** Cells that one run serves. */
interface SharedRun {
  readonly board: GoodBoard;
  readonly until: number;
  readonly cells: { checked: Extract<CheckedCell, { ok: true }>; plan: RunPlan }[];
}

function faulty(kind: string, issues: readonly Issue[]): FaultyResult {
  const first = issues.find((issue) => issue.severity === 'fault') ?? issues[0];
  const more = issues.length - 1;
  const message = `${first?.message ?? ''}${more > 0 ? ` (and ${more} more)` : ''}`;
  const error = { message, where: first?.where ?? '' };
  return issues.length > 1 ? { kind, ok: false, error, issues } : { kind, ok: false, error };
}

function stopped({ at }: CheckedCell, outcome: Outcome, partial: CellResult): FaultyResult {
  const message = `${at.label}: ${outcome.message ?? 'the run was stopped'}`;
  return { kind: partial.kind, ok: false, error: { message, where: at.place }, partial };
}

function failed({ at, cell }: SharedRun['cells'][number]['checked'], error: unknown): FaultyResult {
  const words = error instanceof Error ? error.message : String(error);
  const message = `${at.label}: the program failed in this run (${words}). The document is not to blame; please report it.`;
  return { kind: cell.kind, ok: false, error: { message, where: at.place } };
}
