import type { explanationObserver } from './ask-explanations.ts';
import type { GoodBoard } from './board-table.ts';
import type { CheckedCell } from './check-page.ts';
import type { Cell, RunCell } from './notebook-document.ts';
import type { RunPlan } from './run-plan.ts';

/** Cells that one run serves. */
export interface SharedRun {
  readonly board: GoodBoard;
  readonly until: number;
  readonly cells: { checked: Extract<CheckedCell, { ok: true }>; plan: RunPlan }[];
  /** Questions whose answer comes from this run. */
  readonly explains: { ask: string; observer: NonNullable<ReturnType<typeof explanationObserver>> }[];
}

/** Whether a cell computes one run. */
export function isRunCell(cell: Cell): cell is RunCell {
  return cell.kind === 'trace' || cell.kind === 'reading' || cell.kind === 'fates';
}
