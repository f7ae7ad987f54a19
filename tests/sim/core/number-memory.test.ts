import { NumberMemory } from '#sim/core/number-memory.ts';
import { describe, expect, test } from 'vitest';

describe('NumberMemory', () => {
  test('gives rows of zeros of the length asked for, none of which shares a number with another', () => {
    const memory = new NumberMemory();
    // More than several pieces hold, with rows too long for any piece between them.
    const lengths = Array.from({ length: 400 }, (_, index) => (index % 50 === 7 ? 5000 : (index * 7) % 90));
    const rows = lengths.map((length) => memory.row(length));
    expect(rows.map((row) => row.length)).toEqual(lengths);
    rows.forEach((row, index) => {
      expect(row.every((value) => value === 0)).toBe(true);
      row.fill(index + 1);
    });
    rows.forEach((row, index) => expect(row.every((value) => value === index + 1)).toBe(true));
  });

  test('takes many short rows from one piece of memory', () => {
    const memory = new NumberMemory();
    const rows = Array.from({ length: 20 }, () => memory.row(3));
    expect(new Set(rows.map(({ buffer }) => buffer)).size).toBe(1);
  });
});
