import type { Json } from '#notebook/edit/json.ts';
import { listEdit } from '#notebook/edit/list-edit.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { expect, test } from 'vitest';

const presses = [1, 3, 5].map((at) => ({ at: `${at} s`, for: '0.2 s' }));
const document: Json = {
  boards: { lamp: { parts: [{ name: 'S1', kind: 'button', a: 'in', b: 'ground', presses }] } },
  page: [
    {
      id: 'lamp',
      kind: 'board',
      board: 'lamp',
      knobs: ['S1.presses[0].for', 'S1.presses[1].at', 'S1.presses[2].for', 'R1'],
    },
  ],
};
const place = { part: 'S1', steps: ['presses'] };

test('a press that is taken out takes its knobs along, and those after it follow their presses', () => {
  const entries = presses.filter((_, index) => index !== 1);
  const edit = listEdit(document, 'lamp', place, { entries, label: 'take out press 2 of S1', removed: 1 });
  if (edit === undefined) throw new Error('the board must have the part');
  const after = withValue(document, edit.path, edit.value);
  expect(valueAt(after, ['page', 0, 'knobs'])).toEqual(['S1.presses[0].for', 'S1.presses[1].for', 'R1']);
  expect(valueAt(after, ['boards', 'lamp', 'parts', 0, 'presses'])).toEqual(entries);
  expect(edit.label).toBe('take out press 2 of S1');
});

test('a list that grows leaves the knobs as they are', () => {
  const entries = [...presses, { at: '7 s', for: '0.2 s' }];
  expect(listEdit(document, 'lamp', place, { entries, label: 'add a press to S1' })).toEqual({
    path: ['boards', 'lamp', 'parts', 0, 'presses'],
    value: entries,
    label: 'add a press to S1',
  });
});
