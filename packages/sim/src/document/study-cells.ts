import type { Issue } from '../core/errors.ts';
import type { Study } from '../study/study.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { type Cell, STUDY_EVENT_BUDGET, type StudyCell } from './notebook-document.ts';
import { mapIssues, planMap } from './plan-map.ts';
import { planSweep, sweepIssues } from './plan-sweep.ts';
import type { StudyResult } from './results.ts';

/** Whether a cell computes many runs, cut into jobs. */
export function isStudyCell(cell: Cell): cell is StudyCell {
  return cell.kind === 'sweep' || cell.kind === 'map';
}

/** What is wrong with the names and ranges of a study cell on its board. */
export function studyIssues(cell: StudyCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  switch (cell.kind) {
    case 'sweep':
      return sweepIssues(cell, board, at);
    case 'map':
      return mapIssues(cell, board, at);
  }
}

/** Makes a study of a cell that {@link studyIssues} has found nothing wrong with. @param maxEvents events of each run. */
export function planStudy(
  cell: StudyCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number = STUDY_EVENT_BUDGET,
): Study<unknown, StudyResult> {
  switch (cell.kind) {
    case 'sweep':
      return planSweep(cell, board, at, maxEvents);
    case 'map':
      return planMap(cell, board, at, maxEvents);
  }
}
