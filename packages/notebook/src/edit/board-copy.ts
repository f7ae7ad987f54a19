import { type BoardChange, changeBoard } from './board-change.ts';
import { boardWindow } from './board-start.ts';
import type { Edit } from './history.ts';
import { isRecord, type Json, type JsonRecord } from './json.ts';
import { addBoardCell, addCell, freeName } from './page-edits.ts';
import { valueAt, withValue } from './path.ts';
import { showOf } from './starting-cells.ts';

/** A document with one board more. */
interface BoardBeside {
  readonly document: Json;
  /** The name of the new board. */
  readonly name: string;
  /** The position after the last of its cells. */
  readonly next: number;
}

/**
 * Opens a change as a board of its own: a copy of the board with it under a free name, the cell that shows it and a trace
 * of it from `position` on, as one edit. Undefined where it means nothing on the board.
 */
export function openAsBoard(document: Json, board: string, change: BoardChange, position: number): Edit | undefined {
  const set = changeBoard(document, board, change);
  if (set === undefined || !isRecord(set.value)) return undefined;
  const beside = addBoardBeside(document, board, set.value, position);
  if (beside === undefined) return undefined;
  return { path: [], value: beside.document, label: `open ${set.label} as ${beside.name}` };
}

/** Adds a board under a free name after that of another, with the cell that shows it and a trace of it. */
export function addBoardBeside(
  document: Json,
  board: string,
  data: JsonRecord,
  position: number,
): BoardBeside | undefined {
  const boards = valueAt(document, ['boards']);
  if (!isRecord(boards)) return undefined;
  const name = freeName(Object.keys(boards), `${board}2`);
  const copied = withValue(document, ['boards', name], data);
  const shown = addBoardCell(copied, position, name).edit;
  const after = withValue(copied, shown.path, shown.value);
  const window = boardWindow(document, board);
  if (window === undefined) return { document: after, name, next: position + 1 };
  const trace = addCell(after, position + 1, 'trace', { ...window, board: name, show: showOf(after, name) }).edit;
  return { document: withValue(after, trace.path, trace.value), name, next: position + 2 };
}
