import { expect, test } from 'vitest';
import { bounceEdit } from '#notebook/edit/bounce-edit.ts';
import { boardParts } from '#notebook/edit/board-values.ts';
import type { Json } from '#notebook/edit/json.ts';
import { withValue } from '#notebook/edit/path.ts';

const own: Json = { boards: { bell: { parts: [{ name: 'S1', kind: 'button', a: 'rail', b: 'bell' }] } } };
const ready: Json = { boards: { bell: { ready: 'monostable' } } };

function applied(document: Json, bounces: boolean): Json {
  const edit = bounceEdit(document, 'bell', 'S1', bounces);
  if (edit === undefined) throw new Error('edit: there must be one; got none.');
  return withValue(document, edit.path, edit.value);
}

test.each([
  ['of its own', own],
  ['of a ready board', ready],
])('a button %s is let bounce and close cleanly again', (_, document) => {
  const bouncing = applied(document, true);
  const button = boardParts(bouncing, 'bell').find(({ name }) => name === 'S1');
  expect(button?.['bounce']).toEqual({ for: '5 ms', seed: 1 });
  const clean = boardParts(applied(bouncing, false), 'bell').find(({ name }) => name === 'S1');
  expect(clean).not.toHaveProperty('bounce');
});

test('what does not bounce is not let stop', () => {
  expect(bounceEdit(own, 'bell', 'S1', false)).toBeUndefined();
  expect(bounceEdit(ready, 'bell', 'S1', false)).toBeUndefined();
  expect(bounceEdit(own, 'tower', 'S1', true)).toBeUndefined();
});
