import {
  addBoardCell,
  addCell,
  addReadyBoard,
  deleteCell,
  duplicateCell,
  moveCell,
  type PageEdit,
} from '#notebook/edit/page-edits.ts';
import { openHistory, record, undo } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { valueAt } from '#notebook/edit/path.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { checkDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const page: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { lamp: { ready: 'monostable' } },
  page: [
    { id: 'words', kind: 'note', text: 'The platform of Fernhollow Junction.' },
    { id: 'look', kind: 'trace', board: 'lamp', until: '8 s', show: ['out'] },
    { id: 'numbers', kind: 'reading', board: 'lamp', until: '8 s', take: { lit: 'width(out)' } },
  ],
};

function after(change: PageEdit | undefined): {
  ids: string[];
  focus: string | undefined;
  label: string;
  document: Json;
} {
  if (change === undefined) throw new Error('there must be an edit');
  const { document } = record(openHistory(page), change.edit);
  return { ids: cellsOf(document).map(({ id }) => id), focus: change.focus, label: change.edit.label, document };
}

describe('edits of the page as a whole', () => {
  test('addCell puts a cell at a position, under a name that is free, and leaves the others the same objects', () => {
    const { ids, focus, document } = after(addCell(page, 1, 'look', { text: '' }));
    expect(ids).toEqual(['words', 'look2', 'look', 'numbers']);
    expect(focus).toBe('look2');
    expect(valueAt(document, ['page', 2])).toBe(valueAt(page, ['page', 1]));
  });

  test('deleteCell names what it deletes; the focus goes to the cell that takes its place, at the end to the one before', () => {
    expect(after(deleteCell(page, 'words'))).toMatchObject({
      ids: ['look', 'numbers'],
      focus: 'look',
      label: 'delete note',
    });
    expect(after(deleteCell(page, 'numbers'))).toMatchObject({ ids: ['words', 'look'], focus: 'look' });
    expect(deleteCell(page, 'nobody')).toBeUndefined();
  });

  test('deleteCell leaves no focus when the page becomes empty', () => {
    const single = { ...page, page: [{ id: 'words', kind: 'note', text: '' }] };
    expect(deleteCell(single, 'words')?.focus).toBeUndefined();
  });

  test('moveCell moves by places and gives nothing at the end of the page', () => {
    expect(after(moveCell(page, 'numbers', -1)).ids).toEqual(['words', 'numbers', 'look']);
    expect(after(moveCell(page, 'words', 1)).label).toBe('move note down');
    expect(moveCell(page, 'words', -1)).toBeUndefined();
    expect(moveCell(page, 'numbers', 1)).toBeUndefined();
  });

  test('duplicateCell puts the copy below and numbers its name', () => {
    const { ids, document } = after(duplicateCell(page, 'look'));
    expect(ids).toEqual(['words', 'look', 'look2', 'numbers']);
    expect(valueAt(document, ['page', 2, 'show'])).toEqual(['out']);
    expect(after(duplicateCell(document, 'look2')).ids).toContain('look3');
  });

  test('addReadyBoard adds board and cell as one edit that can be computed and undone', () => {
    const change = addReadyBoard(page, 0, 'frequency divider');
    const history = record(openHistory(page), change.edit);
    expect(checkDocument(history.document).issues.filter(({ severity }) => severity !== 'warning')).toEqual([]);
    expect(valueAt(history.document, ['boards', 'frequency_divider'])).toEqual({ ready: 'frequency divider' });
    expect(valueAt(history.document, ['page', 0, 'knobs'])).toContain('G1.wave.period');
    expect(undo(history).document).toBe(page);
    const again = record(history, addReadyBoard(history.document, 0, 'frequency divider').edit);
    expect(Object.keys(valueAt(again.document, ['boards']) as object)).toContain('frequency_divider2');
  });

  test('addBoardCell shows a board the page has already, with a knob for every plain quantity it names', () => {
    const { document } = after(addBoardCell(page, 3, 'lamp'));
    // The presses of the button and the timer family are no quantities that a knob could turn.
    expect(valueAt(document, ['page', 3, 'knobs'])).toEqual(['R1', 'C1', 'BT1', 'R3']);
  });
});
