import type { CaptureOutcome } from '../capture/capture-reader.ts';
import type { Issue } from '../core/errors.ts';
import type { Study } from '../study/study.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { type Cell, type ClaimCell, STUDY_EVENT_BUDGET, type StudyCell } from './notebook-document.ts';
import { type ClaimTools, planClaim } from './plan-claim.ts';
import { captureIssues, planCapture } from './plan-capture.ts';
import { mapIssues, planMap } from './plan-map.ts';
import { chooseIssues, planChoose } from './plan-choose.ts';
import { planSpread, spreadIssues } from './plan-spread.ts';
import { planSwaps, swapsIssues } from './plan-swaps.ts';
import { planSymptoms, symptomsIssues } from './plan-symptoms.ts';
import { planSweep, sweepIssues } from './plan-sweep.ts';
import type { StudyResult } from './results.ts';

/** Whether a cell computes many runs, cut into jobs. */
export function isStudyCell(cell: Cell): cell is StudyCell {
  return (
    cell.kind === 'sweep' ||
    cell.kind === 'map' ||
    cell.kind === 'spread' ||
    cell.kind === 'choose' ||
    cell.kind === 'claim' ||
    cell.kind === 'capture' ||
    cell.kind === 'symptoms' ||
    cell.kind === 'swaps'
  );
}

/** What is wrong with the names and ranges of a sweep or map cell on its board. */
export function studyIssues(cell: Exclude<StudyCell, ClaimCell>, board: GoodBoard, at: CellPlace): readonly Issue[] {
  switch (cell.kind) {
    case 'sweep':
      return sweepIssues(cell, board, at);
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
 * Makes a study of a cell that its check has found nothing wrong with.
 *
 * @param maxEvents events of each run.
 * @param capture what was read from the file of a capture cell, where it names one.
 * @param claims what claims are computed with; a claim must not be planned without.
 */
export function planStudy(
  cell: StudyCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number = STUDY_EVENT_BUDGET,
  claims?: ClaimTools,
  capture?: CaptureOutcome,
): Study<unknown, StudyResult> {
  switch (cell.kind) {
    case 'sweep':
      return planSweep(cell, board, at, maxEvents);
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
      if (claims === undefined) throw new RangeError('planStudy: claims must be given for a claim cell; got none.');
      return planClaim(cell, board, at, maxEvents, claims);
  }
}
