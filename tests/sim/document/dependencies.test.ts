import { cellNeeds, findCircle, inOrder } from '#sim/document/dependencies.ts';
import { describe, expect, test } from 'vitest';

describe('cellNeeds(cell)', () => {
  test('gives the cells whose numbers a note quotes, each once', () => {
    const text = '[a](#one.a) [b](#two.b) [c](#one.c) [d](#three)';
    expect(cellNeeds({ kind: 'note', text })).toEqual(['one', 'two']);
  });

  test.each([undefined, null, 7, 'note', { kind: 'note', text: 7 }, { kind: 'trace' }])('gives none for %j', (data) => {
    expect(cellNeeds(data)).toEqual([]);
  });
});

describe('findCircle(needs)', () => {
  const circleIn = (needs: Record<string, string[]>): string[] | undefined =>
    findCircle(new Map(Object.entries(needs)));

  test('gives the path of a circle, its first cell again at the end', () => {
    expect(circleIn({ start: ['a'], a: ['b'], b: ['c'], c: ['a'] })).toEqual(['a', 'b', 'c', 'a']);
    expect(circleIn({ a: ['a'] })).toEqual(['a', 'a']);
  });

  test('finds none where cells only share what they need, or need what does not exist', () => {
    expect(circleIn({ a: ['c', 'b'], b: ['c'], c: ['nowhere'] })).toBeUndefined();
  });

  test('follows a chain of a hundred thousand cells without running out of stack', () => {
    const length = 100_000;
    const needs = new Map(Array.from({ length }, (_, i) => [`n${i}`, [`n${(i + 1) % length}`]]));
    expect(findCircle(needs)).toHaveLength(length + 1);
  });
});

describe('inOrder(cell, needsOf)', () => {
  const order = (needs: Record<string, string[]>): string[] => inOrder('a', (id) => needs[id] ?? []);

  test('gives what a cell needs before the cell, each once', () => {
    expect(order({ a: ['b', 'c'], b: ['d'], c: ['d'] })).toEqual(['d', 'b', 'c', 'a']);
  });

  test('ends in a circle', () => {
    expect(order({ a: ['b'], b: ['a'] })).toEqual(['b', 'a']);
  });

  test('follows a chain of a hundred thousand cells without running out of stack', () => {
    const found = inOrder('n0', (id) => (id === 'n99999' ? [] : [`n${Number(id.slice(1)) + 1}`]));
    expect([found.length, found[0]]).toEqual([100_000, 'n99999']);
  });
});
