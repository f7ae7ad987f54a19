import type { FormulaParser } from '../formula/index.ts';
import type { ClaimTrials } from '../study/claim-trials.ts';
import type { Study } from '../study/study.ts';
import { type Captures, isInline } from './capture-request.ts';
import { checkBoards } from './board-table.ts';
import { checkPage } from './check-page.ts';
import { FormulaTable } from './formula-table.ts';
import type { NotebookDocument } from './notebook-document.ts';
import type { StudyResult } from './results.ts';
import { claimTools } from './plan-claim.ts';
import { isStudyCell, planStudy } from './study-cells.ts';

/** A cell that computes many runs, as a study whose jobs can be run anywhere. */
export interface DocumentStudy {
  /** Key of the cell in results. */
  readonly id: string;
  readonly study: Study<unknown, StudyResult>;
}

/** What {@link documentStudies} may be told. */
export interface DocumentStudiesOptions {
  /** Ids of the cells wanted, all if not given. */
  readonly only?: readonly string[];
  /** What takes formulas apart, as for `computeDocument`. */
  readonly formulas?: FormulaParser;
  /** What claims draw their trials with, as for `computeDocument`. */
  readonly claims?: ClaimTrials;
  /** What was read from the files of capture cells, as for `computeDocument`; those without are left out. */
  readonly captures?: Captures;
  /** Events each run may have; as `computeDocument` if not given. */
  readonly maxEvents?: number;
}

/**
 * The cells of a document that compute many runs, in page order, those with faults left out. Their jobs may be run in any
 * order, in several threads or on several machines; `computeDocument` makes results of them when they are given as `jobs`.
 */
export function documentStudies(document: NotebookDocument, options: DocumentStudiesOptions = {}): DocumentStudy[] {
  const { only, formulas, claims, captures, maxEvents } = options;
  const tools = claimTools(formulas, claims);
  const table = checkBoards(document);
  const cells = checkPage(document.page, table, new FormulaTable(document.page, table, formulas));
  return cells.flatMap((checked) => {
    if (!checked.ok || !isStudyCell(checked.cell) || only?.includes(checked.key) === false) return [];
    const board = table.boards.get(checked.cell.board);
    if (board?.ok !== true || (checked.cell.kind === 'claim' && tools === undefined)) return [];
    const read = captures?.get(checked.key);
    // Without its measurement a capture cannot be planned; computing it says so.
    if (checked.cell.kind === 'capture' && !isInline(checked.cell) && read?.ok !== true) return [];
    return [{ id: checked.key, study: planStudy(checked.cell, board, checked.at, maxEvents, tools, read) }];
  });
}
