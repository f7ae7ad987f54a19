import { standardKinds } from '../device/standard-kinds.ts';
import type { FormulaParser } from '../formula/index.ts';
import type { ClaimTrials } from '../study/claim-trials.ts';
import type { Study } from '../study/study.ts';
import { type Captures, isInline } from './capture-request.ts';
import { checkBoards } from './board-table.ts';
import { type CheckedCell, CheckedPage } from './check-page.ts';
import { cellNeeds } from './dependencies.ts';
import { FormulaTable } from './formula-table.ts';
import type { KnownChecks } from './known-checks.ts';
import type { NotebookDocument } from './notebook-document.ts';
import type { StudyResult } from './results.ts';
import { isStudyCell, missingTools, planStudy } from './study-cells.ts';

/** A cell that computes many runs, as a study whose jobs can be run anywhere. */
export interface DocumentStudy {
  /** Key of the cell in results. */
  readonly id: string;
  readonly study: Study<unknown, StudyResult>;
}

/** What {@link documentStudies} may be told. */
export interface DocumentStudiesOptions {
  /** Ids of the cells wanted, and those that notes among them quote; all if not given. */
  readonly only?: readonly string[];
  /** What takes formulas apart, as for `computeDocument`. */
  readonly formulas?: FormulaParser;
  /** What claims draw their trials with, as for `computeDocument`. */
  readonly claims?: ClaimTrials;
  /** What was read from the files of capture cells, as for `computeDocument`; those without are left out. */
  readonly captures?: Captures;
  /** Events each run may have; as `computeDocument` if not given. */
  readonly maxEvents?: number;
  /** What checks of boards and cells found before, as for `computeDocument`. */
  readonly checks?: KnownChecks;
}

/**
 * The cells of a document that compute many runs, in page order, those with faults left out. Their jobs may be run in any
 * order, in several threads or on several machines; `computeDocument` makes results of them when they are given as `jobs`.
 */
export function documentStudies(document: NotebookDocument, options: DocumentStudiesOptions = {}): DocumentStudy[] {
  const { only, formulas, claims, captures, maxEvents, checks } = options;
  const table = checkBoards(document, standardKinds, checks);
  const { cells } = new CheckedPage(document.page, table, new FormulaTable(document.page, table, formulas), checks);
  const wanted = only && withNeeds(only, cells);
  return cells.flatMap((checked) => {
    if (!checked.ok || !isStudyCell(checked.cell) || wanted?.has(checked.key) === false) return [];
    const board = table.boards.get(checked.cell.board);
    const read = captures?.get(checked.key);
    const tools = { formulas, claims, capture: read };
    if (board?.ok !== true || missingTools(checked.cell, tools) !== undefined) return [];
    // Without its measurement a capture cannot be planned; computing it says so.
    if (checked.cell.kind === 'capture' && !isInline(checked.cell) && read?.ok !== true) return [];
    return [{ id: checked.key, study: planStudy(checked.cell, board, checked.at, maxEvents, tools) }];
  });
}

/** The cells asked for and, of notes, those they quote. */
function withNeeds(only: readonly string[], cells: readonly CheckedCell[]): ReadonlySet<string> {
  const needs = cells.flatMap((cell) => (cell.ok && only.includes(cell.key) ? cellNeeds(cell.cell) : []));
  return new Set([...only, ...needs]);
}
