import { partStarts } from '#notebook/edit/part-starts.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { expect, test } from 'vitest';

test('partStarts offer every kind of part once', () => {
  expect(partStarts.map(({ kind }) => kind).sort()).toEqual([...standardKinds.keys()].sort());
});
