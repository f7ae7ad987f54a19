import { type Issue } from '../core/errors.ts';
import { quotedText } from '../core/found-text.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { type BoardTable, boardFor, type FaultyBoard, type GoodBoard } from './board-table.ts';
import { type CellPlace, checkKnobs, checkPeriods, readShow, readTake, readTimer, runNames } from './cell-names.ts';
import { checkAsk } from './compute-ask.ts';
import { FormulaTable } from './formula-table.ts';
import type { KnownChecks } from './known-checks.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import type { Cell, NoteCell, RunCell } from './notebook-document.ts';
import { findQuotes, splitTarget } from './quotes.ts';
import { knobsOfCells } from './cell-knob.ts';
import { quotableNames } from './quotable-names.ts';
import { cellKey, cellLabel, readCell } from './read-cell.ts';
import { fault } from './schema-wording.ts';
import { claimIssues } from './plan-claim.ts';
import { isStudyCell, studyIssues } from './study-cells.ts';

/** A cell of the page after checking. */
export type CheckedCell =
  | { readonly ok: true; readonly key: string; readonly at: CellPlace; readonly cell: Cell }
  | {
      readonly ok: false;
      readonly key: string;
      readonly at: CellPlace;
      readonly data: unknown;
      readonly issues: readonly Issue[];
    };

/**
 * The cells of a page, each read and checked when it is first asked for, with every name it uses: boards, nets, parts,
 * timers, and quotes of other cells.
 */
export class CheckedPage {
  readonly #page: readonly unknown[];
  readonly #table: BoardTable;
  readonly #formulas: FormulaTable;
  readonly #known: KnownChecks | undefined;
  readonly #data: ReadonlyMap<string, unknown>;
  readonly #places: ReadonlyMap<string, number>;
  readonly #found = new Map<number, CheckedCell>();
  #targets: QuoteTargets | undefined;

  /**
   * @param formulas the formulas of the page; without them no fault is found inside the text of a formula.
   * @param known what was found of cells before.
   */
  constructor(
    page: readonly unknown[],
    table: BoardTable,
    formulas: FormulaTable = new FormulaTable(page, table, undefined),
    known?: KnownChecks,
  ) {
    this.#page = page;
    this.#table = table;
    this.#formulas = formulas;
    this.#known = known;
    this.#data = new Map(page.map((data, index) => [cellKey(data, index), data]));
    this.#places = new Map(page.map((data, index) => [cellKey(data, index), index]));
  }

  /** Keys of all cells, in page order. */
  get keys(): string[] {
    return [...this.#places.keys()];
  }

  /** All cells, in page order. */
  get cells(): CheckedCell[] {
    return this.#page.map((_, index) => this.#at(index));
  }

  /** The cell with this key; undefined where there is none. */
  cell(key: string): CheckedCell | undefined {
    const index = this.#places.get(key);
    return index === undefined ? undefined : this.#at(index);
  }

  #at(index: number): CheckedCell {
    const found = this.#found.get(index) ?? this.#withQuotes(this.#checked(index), index);
    this.#found.set(index, found);
    return found;
  }

  #checked(index: number): CheckedCell {
    const data = this.#page[index];
    const board = this.#known === undefined ? undefined : onlyNeeded(data, this.#table);
    if (this.#known === undefined || board === undefined || !isObject(data)) return this.#check(data, index);
    return this.#known.cell(data, index, board, () => this.#check(data, index));
  }

  #check(data: unknown, index: number): CheckedCell {
    const at = { place: `page[${index}]`, label: cellLabel(data, index) };
    const key = cellKey(data, index);
    const read = readCell(data, index);
    if (!read.ok) return { ok: false, key, at, data, issues: read.issues };
    const issues = cellIssues(read.cell, this.#table, this.#formulas, this.#data, at);
    return issues.length > 0 ? { ok: false, key, at, data, issues } : { ok: true, key, at, cell: read.cell };
  }

  #withQuotes(checked: CheckedCell, index: number): CheckedCell {
    if (!checked.ok || checked.cell.kind !== 'note') return checked;
    this.#targets ??= {
      cells: this.#page.map((data, place) => cellKey(data, place)),
      names: new Map([...this.#data].map(([key, data]) => [key, quotableNames(data, this.#table)])),
    };
    const issues = quoteIssues(checked.cell, this.#targets, checked.at);
    return issues.length > 0
      ? { ok: false, key: checked.key, at: checked.at, data: this.#page[index], issues }
      : checked;
  }
}

/** The board of a cell that depends on nothing else; undefined for other cells. */
function onlyNeeded(data: unknown, table: BoardTable): GoodBoard | FaultyBoard | undefined {
  if (!isObject(data)) return undefined;
  const [kind, board] = [ownEntry(data, 'kind'), ownEntry(data, 'board')];
  const isAlone = kind === 'board' && !knobsOfCells(data).length;
  const dependsOnBoard = kind === 'trace' || kind === 'reading' || kind === 'fates' || isAlone;
  return dependsOnBoard && typeof board === 'string' ? table.boards.get(board) : undefined;
}

function cellIssues(
  cell: Cell,
  table: BoardTable,
  formulas: FormulaTable,
  cells: ReadonlyMap<string, unknown>,
  at: CellPlace,
): readonly Issue[] {
  if (cell.kind === 'note') return [];
  if (cell.kind === 'ask') return checkAsk(cell, formulas, at);
  if (cell.kind === 'formula') {
    const entry = formulas.entry(cell.id);
    return entry?.ok === false ? entry.issues : [];
  }
  const board = boardFor(cell.board, table, `${at.place}.board`, at.label);
  if (!board.ok) return board.issues.filter((issue) => issue.severity === 'fault');
  if (cell.kind === 'board') return checkKnobs(cell, board, at, cells);
  if (cell.kind === 'claim') return claimIssues(cell, board, at, formulas.parser);
  if (isStudyCell(cell)) return [...checkPeriods(cell, board, at), ...studyIssues(cell, board, at, formulas.parser)];
  return [...checkPeriods(cell, board, at), ...nameIssues(cell, board, at)];
}

function nameIssues(cell: RunCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  if (cell.kind === 'trace') return readShow(cell, runNames(board), at).issues;
  if (cell.kind === 'reading') return readTake(cell, runNames(board), at).issues;
  const timer = readTimer(cell, board, at);
  return 'issues' in timer ? timer.issues : [];
}

/** Faults of one note listed; a text with more wrong links is wrong altogether. */
const MOST_QUOTE_FAULTS = 20;

function quoteIssues(cell: NoteCell, targets: QuoteTargets, at: CellPlace): Issue[] {
  const issues: Issue[] = [];
  for (const target of new Set(findQuotes(cell.text).map((quote) => quote.target))) {
    const found = quoteFault(target, targets);
    if (found === undefined) continue;
    const got = quotedText(`#${target}`);
    issues.push(fault('missing-target', `${at.place}.text`, { label: at.label, field: 'text', ...found, got }));
    if (issues.length === MOST_QUOTE_FAULTS) break;
  }
  return issues;
}

/** What kinds of cells give numbers to notes. */
const QUOTED_KINDS = 'reading, formula, fates, sweep, spread, choose, claim, swaps, and board with a ready board';

function quoteFault(target: string, targets: QuoteTargets): { rule: string; advice: string } | undefined {
  const { cell, name } = splitTarget(target);
  const names = targets.names.get(cell);
  if (names === undefined) {
    const rule = 'link only to cells of this page, as #cell or #cell.name';
    return { rule, advice: nameAdvice(cell, targets.cells, 'Correct the link, or add the cell.') };
  }
  if (name === undefined || names === 'unknown' || names.includes(name)) return undefined;
  if (names.length === 0) {
    const rule = `quote only cells that give numbers: ${QUOTED_KINDS}`;
    return { rule, advice: `${cell} gives none.` };
  }
  return {
    rule: `quote a number that ${cell} gives (${listedNames(names)})`,
    advice: nameAdvice(name, names, 'Correct the link.'),
  };
}

/** What a note can quote. */
interface QuoteTargets {
  readonly cells: readonly string[];
  /** For each cell, the names of its numbers; `unknown` where a fault elsewhere hides them. */
  readonly names: ReadonlyMap<string, readonly string[] | 'unknown'>;
}
