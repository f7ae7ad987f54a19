import { openAsBoard } from '#notebook/edit/board-copy.ts';
import type { Json } from '#notebook/edit/json.ts';
import { withValue } from '#notebook/edit/path.ts';
import { computeDocument, parseDocument } from '#sim/document/index.ts';
import { expect, test } from 'vitest';

const document: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { lamp: { ready: 'monostable', values: { R1: '390 kΩ' } }, lamp2: { ready: 'astable' } },
  page: [
    { id: 'board', kind: 'board', board: 'lamp', knobs: [] },
    { id: 'after', kind: 'note', text: '' },
  ],
};

test('a point becomes a board of its own under a free name, with its cell and a trace, and leaves the old one alone', () => {
  const edit = openAsBoard(
    document,
    'lamp',
    [
      { name: 'R1', unit: 'Ω', value: 1e6 },
      { name: 'U1.family', unit: null, value: 'cmos' },
    ],
    1,
  );
  if (edit === undefined) throw new Error('it must be opened');
  const after = withValue(document, edit.path, edit.value);
  expect(after).toMatchObject({
    boards: {
      lamp: { ready: 'monostable', values: { R1: '390 kΩ' } },
      lamp3: { ready: 'monostable', values: { R1: '1 MΩ', 'U1.family': 'cmos' } },
    },
    page: [
      { id: 'board', board: 'lamp' },
      { id: 'board2', kind: 'board', board: 'lamp3' },
      { id: 'trace', kind: 'trace', board: 'lamp3', show: ['button', 'timing', 'out'] },
      { id: 'after' },
    ],
  });
  const parsed = parseDocument(JSON.stringify(after));
  if (parsed.document === undefined) throw new Error(parsed.unusable?.message);
  expect(computeDocument(parsed.document).results['trace']).toMatchObject({ ok: true });
});

test('nothing is opened where a value means nothing on the board', () => {
  expect(openAsBoard(document, 'lamp', [{ name: 'R9', unit: 'Ω', value: 1 }], 1)).toBeUndefined();
  expect(openAsBoard(document, 'bell', [], 1)).toBeUndefined();
});
