import { withSharedPieces } from '#sim/document/shared-pieces.ts';
import { describe, expect, test } from 'vitest';

describe('withSharedPieces', () => {
  const before = { boards: { lamp: { R1: '1k' }, bell: { R1: '2k' } }, page: [{ id: 'a' }, { id: 'b' }] };
  const copy = (): typeof before => structuredClone(before);

  test('what is the same in both is the same object', () => {
    expect(withSharedPieces(before, copy())).toBe(before);
    const after = copy();
    after.boards.lamp.R1 = '3k';
    const shared = withSharedPieces(before, after) as typeof before;
    expect(shared).toEqual(after);
    expect(shared.boards.bell).toBe(before.boards.bell);
    expect(shared.page).toBe(before.page);
    expect(shared.boards.lamp).not.toBe(before.boards.lamp);
  });

  test('fields in another order are not the same, for results follow that order', () => {
    const after = { ...copy(), boards: { bell: { R1: '2k' }, lamp: { R1: '1k' } } };
    const shared = withSharedPieces(before, after) as typeof before;
    expect(shared.boards).not.toBe(before.boards);
    expect(Object.keys(shared.boards)).toEqual(['bell', 'lamp']);
    expect(shared.boards.bell).toBe(before.boards.bell);
  });

  test('entries and fields that came or went are told', () => {
    expect(withSharedPieces(before, { ...copy(), page: [{ id: 'a' }] })).toEqual({ ...before, page: [{ id: 'a' }] });
    expect(withSharedPieces({ a: 1, b: undefined }, { a: 1 })).toEqual({ a: 1 });
    expect(withSharedPieces([1, 2], { 0: 1, 1: 2 })).toEqual({ 0: 1, 1: 2 });
    expect(withSharedPieces(undefined, before)).toBe(before);
    expect(Object.keys(withSharedPieces({ a: 1, b: undefined }, { a: 1 }) as object)).toEqual(['a']);
  });

  test('a field with the name of the prototype stays plain data', () => {
    const after = JSON.parse('{"__proto__": {"harm": 1}}') as object;
    const shared = withSharedPieces({}, after) as object;
    expect(Object.keys(shared)).toEqual(['__proto__']);
    expect(Object.getPrototypeOf(shared)).toBe(Object.prototype);
  });
});
