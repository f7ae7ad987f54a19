import { isSameJson, type Json } from '#notebook/edit/json.ts';
import { expect, test } from 'vitest';

test('isSameJson() tells what is written the same in a file from what is not', () => {
  const values: (Json | undefined)[] = [
    undefined,
    null,
    0,
    '',
    '0',
    [],
    {},
    [1, 2],
    [2, 1],
    [1, 2, 3],
    { R1: '1k', C1: '1u' },
    { C1: '1u', R1: '1k' },
    { R1: '1k', C1: '1u', R2: undefined },
    { R1: '1k', C1: { value: '1u', leakage: null } },
    { R1: '1k', C1: { value: '1u', leakage: undefined } },
    { R1: '1k', C1: { value: '1u' } },
    [{ 0: 1, 1: 2 }],
    [[1, 2]],
  ];
  for (const one of values)
    for (const other of values)
      expect(isSameJson(one, other), JSON.stringify([one, other])).toBe(JSON.stringify(one) === JSON.stringify(other));
});
