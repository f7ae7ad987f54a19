import { standardKinds } from '../device/standard-kinds.ts';
import { runCircuit } from '../run/simulate.ts';
import { runJobs } from '../study/study.ts';
import { type BoardTable, checkBoards, type GoodBoard } from './board-table.ts';
import { readShow, readTake, readTimer, type RunNames, runNames } from './cell-names.ts';
import { type CheckedCell, CheckedPage } from './check-page.ts';
import { explanationObserver } from './ask-explanations.ts';
import { computeAsk } from './compute-ask.ts';
import { computeBoard } from './compute-board.ts';
import { computeFormula } from './compute-formula.ts';
import { computeNote } from './compute-note.ts';
import type { ComputeOptions } from './compute-options.ts';
import { cellNeeds } from './dependencies.ts';
import {
  type AskCell,
  type Cell,
  EVENT_BUDGET,
  type FormulaCell,
  type NotebookDocument,
  type RunCell,
  type StudyCell,
} from './notebook-document.ts';
import { failed, faulty, noSuchCell, stopped, unfinished, withoutTools } from './faulty-results.ts';
import { FormulaTable } from './formula-table.ts';
import { planFates } from './plan-fates.ts';
import { planReading } from './plan-reading.ts';
import { planTrace } from './plan-trace.ts';
import { powerUp } from './power-up-words.ts';
import { cellKindText } from './read-cell.ts';
import type { CellResult } from './results.ts';
import { isStudyCell, missingTools, planStudy } from './study-cells.ts';
import { GrazeWatch } from '../measure/grazes.ts';
import { type Faultless, type RunPlan, type RunResult, withFaults } from './run-plan.ts';
import { isRunCell, type SharedRun } from './shared-run.ts';
import { shortName } from './short-name.ts';

/** One pass over a document: what has been checked and computed so far. Never throws because of what the document holds. */
export class DocumentComputation {
  readonly #options: ComputeOptions;
  readonly #table: BoardTable;
  readonly #page: CheckedPage;
  readonly #formulas: FormulaTable;
  readonly #explanations = new Map<string, string>();
  readonly #results = new Map<string, CellResult>();
  readonly #names = new Map<GoodBoard, RunNames>();

  constructor(document: NotebookDocument, options: ComputeOptions) {
    this.#options = options;
    this.#table = checkBoards(document, standardKinds, options.checks);
    this.#formulas = new FormulaTable(document.page, this.#table, options.formulas);
    this.#page = new CheckedPage(document.page, this.#table, this.#formulas, options.checks);
  }

  /** Keys of all cells, in page order. */
  get keys(): string[] {
    return this.#page.keys;
  }

  /** Computes cells and what they need: all runs first, then what only quotes. */
  compute(keys: readonly string[]): void {
    const needed = new Set(keys);
    for (const key of needed) {
      const cell = this.#page.cell(key);
      if (cell?.ok !== true) continue;
      // A set visits what is added while it is walked through, so this finds what is needed in turn.
      for (const need of cellNeeds(cell.cell)) if (!this.#isKnown(need, cell.cell)) needed.add(need);
    }
    const runs = this.#sharedRuns([...needed]);
    const studies = this.#studyCells([...needed]);
    const all = runs.length + studies.length;
    for (const [index, run] of runs.entries()) this.#run(run, index, all);
    for (const [index, study] of studies.entries()) this.#study(study, runs.length + index, all);
    this.#options.onProgress?.(1);
  }

  /** Takes over what is known of a cell that another needs; what a run says behind an answer only a run can tell. */
  #isKnown(key: string, needing: Cell): boolean {
    const known = needing.kind === 'ask' ? undefined : this.#options.known?.get(key);
    if (known !== undefined && !this.#results.has(key)) this.#results.set(key, known);
    return known !== undefined;
  }

  /** The result of a cell that {@link compute} was asked for. */
  resultOf(key: string): CellResult {
    for (const each of this.#formulas.order(key, (id) => this.#results.has(id))) {
      this.#results.set(each, this.#withoutRun(each));
    }
    return this.#results.get(key) ?? this.#withoutRun(key);
  }

  #withoutRun(key: string): CellResult {
    const cell = this.#page.cell(key);
    if (cell === undefined) return noSuchCell(key, this.keys);
    if (!cell.ok) return faulty(cellKindText(cell.data), cell.issues);
    if (cell.cell.kind === 'note') return computeNote(cell.cell, (id) => this.resultOf(id));
    if (cell.cell.kind === 'formula') return this.#formula(cell.cell, cell);
    if (cell.cell.kind === 'ask') return this.#ask(cell.cell, cell);
    const board = this.#board(cell.cell.board);
    if (cell.cell.kind === 'board') return computeBoard(cell.cell, board);
    throw new RangeError(`resultOf: ${key} must have been computed before. Call compute first.`);
  }

  #formula(cell: FormulaCell, checked: CheckedCell): CellResult {
    const entry = this.#formulas.entry(cell.id);
    if (entry?.ok === true) return computeFormula(cell, entry, this.#formulas, this.#done);
    return withoutTools(cell.kind, checked, 'text', 'the option formulas');
  }

  #ask(cell: AskCell, { at }: CheckedCell): CellResult {
    const found = this.#formulas.resolve(cell.answer);
    if (!found.ok) throw new RangeError(`compute: answer must have passed its check; got ${at.place}.`);
    const named = found.named;
    if (named.kind !== 'part') this.resultOf(named.cell);
    return computeAsk(cell, named, this.#formulas, this.#done, this.#explanations.get(cell.id));
  }

  /** The result of a cell; of a formula only where it is there, so that a circle, which no file may have, ends. */
  readonly #done = (id: string): CellResult | undefined => {
    const cell = this.#page.cell(id);
    return this.#results.get(id) ?? (cell?.ok === true && cell.cell.kind === 'formula' ? undefined : this.resultOf(id));
  };

  /** The run cells among the keys, gathered by board and time. */
  #sharedRuns(keys: readonly string[]): SharedRun[] {
    const runs = new Map<string, SharedRun>();
    for (const key of keys) {
      const checked = this.#page.cell(key);
      if (checked?.ok !== true) continue;
      const { cell } = checked;
      if (!isRunCell(cell)) continue;
      const shared = `${cell.board} ${cell.until}`;
      const run = runs.get(shared) ?? { board: this.#board(cell.board), until: cell.until, cells: [], explains: [] };
      run.cells.push({ checked, plan: this.#planned(checked, run.board) });
      runs.set(shared, run);
    }
    for (const key of keys) this.#explain(key, [...runs.values()]);
    return [...runs.values()];
  }

  /** Has the run behind the answer of a question say what it says about it. */
  #explain(key: string, runs: readonly SharedRun[]): void {
    const checked = this.#page.cell(key);
    const found =
      checked?.ok === true && checked.cell.kind === 'ask' ? this.#formulas.resolve(checked.cell.answer) : undefined;
    if (found?.ok !== true || found.named.kind !== 'reading') return;
    const { cell: id, name } = found.named;
    for (const run of runs) {
      for (const {
        checked: { cell },
      } of run.cells) {
        if (cell.kind !== 'reading' || cell.id !== id) continue;
        const observer = explanationObserver(cell, name, this.#namesOf(run.board));
        if (observer !== undefined) run.explains.push({ ask: key, observer });
      }
    }
  }

  #planned(checked: Extract<CheckedCell, { ok: true }>, board: GoodBoard): RunPlan {
    const { cell } = checked;
    if (!isRunCell(cell)) throw new RangeError(`compute: cell must be one that runs; got ${cell.kind}.`);
    return withFaults(this.#plan(cell, board, checked), board, cell);
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
    const { onProgress, signal, graphs, maxEvents = EVENT_BUDGET } = this.#options;
    try {
      const start = powerUp(run.board.circuit, () => run.cells.map(({ checked }) => this.#planned(checked, run.board)));
      const grazes = new GrazeWatch();
      const outcome = runCircuit(run.board.circuit, {
        until: run.until,
        observers: [
          ...start.observers,
          grazes,
          ...run.cells.flatMap(({ plan }) => plan.observers),
          ...run.explains.map(({ observer }) => observer),
        ],
        maxEvents,
        faults: true,
        signal,
        graphs,
        onProgress: onProgress && ((share: number) => onProgress((index + share) / runs)),
      });
      for (const { ask, observer } of run.explains) this.#explanations.set(ask, observer.result().explanation);
      const words = outcome.ok ? start.words({ until: run.until, maxEvents, signal }) : undefined;
      const grazed = grazes.words(run.board.prefix);
      for (const [place, { checked, plan }] of run.cells.entries()) {
        const found = plan.result();
        const said = [...(words?.board ?? []), ...[words?.ofCell(place, found) ?? []].flat()];
        const started = said.length === 0 ? found : { ...found, powerUp: said };
        const result = grazed.length === 0 ? started : { ...started, grazes: grazed };
        this.#results.set(checked.key, outcome.ok ? result : stopped(checked, outcome, result));
      }
    } catch (error) {
      // Nothing thrown is expected here; if the program has a mistake, the other cells go on all the same.
      for (const { checked } of run.cells) this.#results.set(checked.key, failed(checked, error));
    }
  }

  /** The study cells among the keys. */
  #studyCells(keys: readonly string[]): CheckedStudy[] {
    return keys.flatMap((key) => {
      const checked = this.#page.cell(key);
      if (checked?.ok !== true) return [];
      const { cell } = checked;
      return isStudyCell(cell) ? [{ ...checked, cell }] : [];
    });
  }

  #study(checked: CheckedStudy, index: number, all: number): void {
    const { onProgress, signal, maxEvents, jobs, formulas, claims, captures } = this.#options;
    const { key, cell, at } = checked;
    const tools = { formulas, claims, capture: captures?.get(key) };
    const missing = missingTools(cell, tools);
    if (missing !== undefined) {
      this.#results.set(key, withoutTools(cell.kind, checked, missing.field, missing.options));
      return;
    }
    try {
      const study = planStudy(cell, this.#board(cell.board), at, maxEvents, tools);
      const done =
        jobs?.get(key) ??
        runJobs(study, { signal, onProgress: onProgress && ((share) => onProgress((index + share) / all)) });
      const result = study.collect(done);
      this.#results.set(key, done.size === study.jobCount ? result : unfinished(checked, done.size, study, result));
    } catch (error) {
      this.#results.set(key, failed(checked, error));
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

/** A study cell that has passed its checks. */
type CheckedStudy = Extract<CheckedCell, { ok: true }> & { readonly cell: StudyCell };
