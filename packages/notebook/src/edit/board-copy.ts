import { boardWindow } from './board-start.ts';
import type { Edit } from './history.ts';
import { isRecord, type Json } from './json.ts';
import { loadPoint, type PointValue } from './load-point.ts';
import { addBoardCell, addCell, freeName } from './page-edits.ts';
import { valueAt, withValue } from './path.ts';
import { showOf } from './starting-cells.ts';

/**
 * Opens a point as a board of its own: a copy of the board with these values under a free name, the cell that shows it
 * and a trace of it from `position` on, as one edit. Undefined where a value means nothing on the board.
 */
export function openAsBoard(
  document: Json,
  board: string,
  values: readonly PointValue[],
  position: number,
): Edit | undefined {
  const boards = valueAt(document, ['boards']);
  const data = valueAt(boards, [board]);
  if (data === undefined || !isRecord(boards)) return undefined;
  const name = freeName(Object.keys(boards), `${board}2`);
  const copied = withValue(document, ['boards', name], data);
  const set = loadPoint(copied, name, values);
  if (set === undefined) return undefined;
  let after = withValue(copied, set.path, set.value);
  const shown = addBoardCell(after, position, name).edit;
  after = withValue(after, shown.path, shown.value);
  const window = boardWindow(after, name);
  if (window !== undefined) {
    const trace = addCell(after, position + 1, 'trace', { ...window, show: showOf(after, name) }).edit;
    after = withValue(after, trace.path, trace.value);
  }
  return { path: [], value: after, label: `open ${set.label} as ${name}` };
}
