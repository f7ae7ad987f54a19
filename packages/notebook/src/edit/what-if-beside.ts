import { addBoardBeside } from './board-copy.ts';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json } from './json.ts';
import { addCell } from './page-edits.ts';
import { valueAt, withValue } from './path.ts';
import { takenBack } from './what-if.ts';
import type { AskedOfBoard } from './what-if-mark.ts';

/**
 * Keeps what is asked of a board as a board of its own below it, with a trace of it and its readings, and puts the board
 * itself back to what it was, as one edit; undefined where the board cannot be copied.
 *
 * @param asked what is asked of this board.
 */
export function keepBeside(document: Json, board: string, asked: readonly AskedOfBoard[]): Edit | undefined {
  const data = valueAt(document, ['boards', board]);
  const before = takenBack(document, asked);
  const page = valueAt(before, ['page']);
  if (!isRecord(data) || !isList(page)) return undefined;
  const last = page.findLastIndex((cell) => isRecord(cell) && cell['board'] === board);
  const copy = addBoardBeside(before, board, data, last + 1);
  if (copy === undefined) return undefined;
  const reading = page.filter(isRecord).find((cell) => cell['board'] === board && cell['kind'] === 'reading');
  const { id: _, hold_back: __, ...content } = reading ?? {};
  const added =
    reading === undefined ? undefined : addCell(copy.document, copy.next, 'reading', { ...content, board: copy.name });
  const value = added === undefined ? copy.document : withValue(copy.document, added.edit.path, added.edit.value);
  const told = asked.map((each) => each.told).join(', ');
  return {
    path: [],
    value,
    label: `keep ${told} as ${copy.name}`,
    whatIf: { board, off: asked.map(({ key }) => key) },
  };
}
