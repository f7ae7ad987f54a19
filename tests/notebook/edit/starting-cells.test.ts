import { addCell, addReadyBoard } from '#notebook/edit/page-edits.ts';
import { cellStarts } from '#notebook/edit/starting-cells.ts';
import { startingWindow } from '#notebook/edit/starting-window.ts';
import { boardParts } from '#notebook/edit/board-values.ts';
import type { Json, JsonRecord } from '#notebook/edit/json.ts';
import { withValue } from '#notebook/edit/path.ts';
import { readyBoards } from '#sim/board/index.ts';
import { computeDocument, formulasFor, parseDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const empty: Json = { format: 'two-thirds', version: 1, boards: {}, page: [] };

function applied(
  document: Json,
  { edit }: { edit: { path: readonly (string | number)[]; value: Json | undefined } },
): Json {
  return withValue(document, edit.path, edit.value);
}

describe('cellStarts(document, board)', () => {
  test('offers only what needs no board while there is none', () => {
    expect(cellStarts(empty, undefined).every(({ kind }) => !['trace', 'fates', 'reading'].includes(kind))).toBe(true);
    expect(cellStarts(empty, undefined).map(({ kind }) => kind)).toContain('note');
  });

  test.each([...readyBoards.keys()])('every cell offered for the ready board %s computes at once', async (ready) => {
    const withBoard = applied(empty, addReadyBoard(empty, 0, ready));
    const board = ready.replace(/\W+/g, '_');
    let document = withBoard;
    // A question can be asked once there is a reading.
    for (const kind of ['trace', 'fates', 'reading', 'formula', 'note', 'ask', 'swaps', 'symptoms']) {
      const start = cellStarts(document, board).find((each) => each.kind === kind);
      const content = start?.content(document, board);
      if (content === undefined) throw new Error(`${kind} must be offered`);
      document = applied(document, addCell(document, 1, kind, content));
    }
    const parsed = parseDocument(JSON.stringify(document));
    if (parsed.document === undefined) throw new Error(parsed.unusable?.message);
    const formulas = await formulasFor(parsed.document);
    const { results } = computeDocument(parsed.document, { formulas });
    expect(Object.entries(results).filter(([, result]) => !result.ok)).toEqual([]);
    const reading = results['reading'];
    if (reading?.kind !== 'reading' || !reading.ok) throw new Error('there must be readings');
    // The window is long enough for the readings to have values.
    expect(Object.values(reading.values)).not.toContain(null);
  });

  test.each([...readyBoards.keys()])('a measurement of %s only lacks its file', (ready) => {
    const document = applied(empty, addReadyBoard(empty, 0, ready));
    const board = ready.replace(/\W+/g, '_');
    const content = cellStarts(document, board)
      .find(({ kind }) => kind === 'capture')
      ?.content(document, board);
    if (content === undefined) throw new Error('a measurement must be offered');
    // Two samples of the supply, which every ready board has as rail.
    const data = 't_s,rail_V\n0,5\n1,5\n';
    const parsed = parseDocument(
      JSON.stringify(applied(document, addCell(document, 1, 'capture', { ...content, data }))),
    );
    expect(parsed.issues).toEqual([]);
    const [issue] = parseDocument(JSON.stringify(applied(document, addCell(document, 1, 'capture', content)))).issues;
    expect(issue).toBeUndefined();
  });

  test('a new cell looks as long as another cell of its board', () => {
    const document = applied(empty, addReadyBoard(empty, 0, 'monostable'));
    const looked = applied(
      document,
      addCell(document, 1, 'trace', { board: 'monostable', until: '77 s', show: ['out'] }),
    );
    const reading = cellStarts(looked, 'monostable').find(({ kind }) => kind === 'reading');
    expect(reading?.content(looked, 'monostable')).toMatchObject({ until: '77 s' });
  });
});

describe('startingWindow(parts)', () => {
  const monostable = boardParts({ boards: { lamp: { ready: 'monostable' } } }, 'lamp');

  test('reaches past the last press and a whole interval after it', () => {
    // Pressed from 1 s for 0.2 s; 1.1 x 390 kohm x 10 uF = 4.29 s (TI SLFS022I, p. 10), 1.3 of which is 5.6 s.
    expect(startingWindow(monostable)).toBe('8 s');
  });

  test('follows the parts, down to microseconds', () => {
    const faster = monostable.map(
      (part): JsonRecord => (part['name'] === 'C1' ? { ...part, capacitance: '100 pF' } : part),
    );
    expect(startingWindow(faster)).toBe('1.5 s');
    expect(startingWindow(faster.map((part) => (part['name'] === 'S1' ? { ...part, presses: [] } : part)))).toBe(
      '600 µs',
    );
  });

  test('is a second for a board that nothing can be told of', () => {
    expect(startingWindow([])).toBe('1 s');
    expect(startingWindow([{ name: 'R1', kind: 'resistor', resistance: 'about 5' }])).toBe('1 s');
  });
});
