import { type BoardResult, SYMBOL_STANDARDS, type SymbolStandard, type TraceResult } from '@two-thirds/sim/document';
import { startingTime } from '../chart/cursor.ts';
import { type CellStates, stateOf } from './cell-state.ts';
import { boardOf, type PageCell } from './cells.ts';

/** Where somebody put the time cursor: in a trace cell, seconds. */
export interface Cursor {
  readonly cell: string;
  readonly time: number;
}

/** The board in hand: the one that was last touched, else the first on the page. */
export function boardInHand(cells: readonly PageCell[], touched: string | undefined): string | undefined {
  const names = cells.map(boardOf).filter((name): name is string => name !== undefined);
  return touched !== undefined && names.includes(touched) ? touched : names[0];
}

/** The last good result of a board. */
export function boardResult(
  cells: readonly PageCell[],
  states: CellStates,
  board: string | undefined,
): BoardResult | undefined {
  for (const cell of cells) {
    const { shown } = stateOf(states, cell.id);
    if (boardOf(cell) === board && shown?.kind === 'board') return shown;
  }
  return undefined;
}

/** Why there is no drawing of a board that has no result. */
export function whyUndrawn(cells: readonly PageCell[], states: CellStates, board: string): string {
  const own = cells
    .filter((cell) => cell.kind === 'board' && boardOf(cell) === board)
    .map(({ id }) => stateOf(states, id));
  if (own.length === 0) return 'Nothing to draw: the page has no list of parts of this board.';
  if (own.some(({ fault }) => fault !== undefined)) {
    return 'Nothing to draw yet: something of this board cannot be used. Its list of parts says what.';
  }
  return own.some(({ phase }) => phase === 'stopped')
    ? 'Nothing to draw yet: computing was stopped.'
    : 'The drawing comes once the board is computed.';
}

/** The standard that the drawing of a board follows: that of the first of its cells that names one. */
export function drawingStandard(cells: readonly PageCell[], board: string | undefined): SymbolStandard {
  const named = cells
    .filter((cell) => cell.kind === 'board' && boardOf(cell) === board)
    .flatMap(({ data }) => SYMBOL_STANDARDS.filter((standard) => standard === data['standard']));
  return named[0] ?? SYMBOL_STANDARDS[0];
}

/** The last good trace of a cell. */
function traceOf(cell: PageCell | undefined, states: CellStates): TraceResult | undefined {
  const shown = cell === undefined ? undefined : stateOf(states, cell.id).shown;
  return shown?.kind === 'trace' ? shown : undefined;
}

/**
 * The trace that the cursor of a board stands in, and its time: where somebody put it, else where the board's first
 * trace begins to tell something.
 */
export function cursorPlace(
  cells: readonly PageCell[],
  states: CellStates,
  board: string | undefined,
  cursor: Cursor | undefined,
): { readonly trace: TraceResult; readonly time: number } | undefined {
  const traces = cells.filter((cell) => cell.kind === 'trace' && boardOf(cell) === board);
  const chosen = traces.find((cell) => cell.id === cursor?.cell);
  const trace = traceOf(chosen ?? traces.find((cell) => traceOf(cell, states) !== undefined), states);
  if (trace === undefined) return undefined;
  return { trace, time: chosen === undefined || cursor === undefined ? startingTime(trace) : cursor.time };
}

/** A time, as far as it lies in the window of a cell's trace. */
export function timeInTrace(cell: PageCell, states: CellStates, time: number | undefined): number | undefined {
  const trace = traceOf(cell, states);
  return trace !== undefined && time !== undefined && time >= trace.from && time <= trace.until ? time : undefined;
}
