import type { CaptureOutcome } from '../capture/capture-reader.ts';
import type { Issue } from '../core/errors.ts';
import type { FormulaParser } from '../formula/index.ts';
import type { ClaimTrials } from '../study/claim-trials.ts';
import type { Study } from '../study/study.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { type Cell, type ClaimCell, STUDY_EVENT_BUDGET, type StudyCell } from './notebook-document.ts';
import { planClaim } from './plan-claim.ts';
import { captureIssues, planCapture } from './plan-capture.ts';
import { mapIssues, planMap } from './plan-map.ts';
import { chooseIssues, planChoose } from './plan-choose.ts';
import { planSpread, spreadIssues } from './plan-spread.ts';
import { planSwaps, swapsIssues } from './plan-swaps.ts';
import { planSymptoms, symptomsIssues } from './plan-symptoms.ts';
import { planSweep, sweepIssues } from './plan-sweep.ts';
import type { StudyResult } from './results.ts';
import { studyKinds } from './study-kinds.ts';

const kinds: ReadonlySet<string> = new Set(studyKinds);

/** Whether a cell computes many runs, cut into jobs. */
export function isStudyCell(cell: Cell): cell is StudyCell {
  return kinds.has(cell.kind);
}

/** What some studies need beside their cell and its board. */
export interface StudyTools {
  /** What takes formulas apart: for claims, and for sweeps with rules. */
  readonly formulas?: FormulaParser | undefined;
  /** What claims draw their trials with. */
  readonly claims?: ClaimTrials | undefined;
  /** What was read from the file of a capture cell, where it names one. */
  readonly capture?: CaptureOutcome | undefined;
}

/** The field of a cell that cannot be planned for want of a tool, and the options it is given by; nothing where all is there. */
export function missingTools(
  cell: StudyCell,
  { formulas, claims }: StudyTools,
): { readonly field: string; readonly options: string } | undefined {
  if (cell.kind === 'claim' && (formulas === undefined || claims === undefined)) {
    return { field: 'says', options: 'the options formulas and claims' };
  }
  if (cell.kind === 'sweep' && cell.against !== undefined && formulas === undefined) {
    return { field: 'against', options: 'the option formulas' };
  }
  return undefined;
}

/**
 * What is wrong with the names and ranges of a study cell on its board.
 *
 * @param parse takes rules of thumb apart; without it they are not looked at.
 */
export function studyIssues(
  cell: Exclude<StudyCell, ClaimCell>,
  board: GoodBoard,
  at: CellPlace,
  parse: FormulaParser | undefined,
): readonly Issue[] {
  switch (cell.kind) {
    case 'sweep':
      return sweepIssues(cell, board, at, parse);
    case 'capture':
      return captureIssues(cell, board, at);
    case 'map':
      return mapIssues(cell, board, at);
    case 'spread':
      return spreadIssues(cell, board, at);
    case 'choose':
      return chooseIssues(cell, board, at);
    case 'swaps':
      return swapsIssues(cell, board, at);
    case 'symptoms':
      return symptomsIssues(cell, board, at);
  }
}

/**
 * Makes a study of a cell that its check has found nothing wrong with, and that {@link missingTools} has all it needs for.
 *
 * @param maxEvents events of each run.
 */
export function planStudy(
  cell: StudyCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number = STUDY_EVENT_BUDGET,
  { formulas, claims, capture }: StudyTools = {},
): Study<unknown, StudyResult> {
  switch (cell.kind) {
    case 'sweep':
      return planSweep(cell, board, at, maxEvents, formulas);
    case 'capture':
      return planCapture(cell, board, at, maxEvents, capture);
    case 'map':
      return planMap(cell, board, at, maxEvents);
    case 'spread':
      return planSpread(cell, board, at, maxEvents);
    case 'choose':
      return planChoose(cell, board, at, maxEvents);
    case 'swaps':
      return planSwaps(cell, board, at, maxEvents);
    case 'symptoms':
      return planSymptoms(cell, board, at, maxEvents);
    case 'claim':
      if (formulas === undefined || claims === undefined) {
        throw new RangeError('planStudy: formulas and claims must be given for a claim cell; got none.');
      }
      return planClaim(cell, board, at, maxEvents, { parse: formulas, trials: claims });
  }
}
