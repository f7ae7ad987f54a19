import { describe, expect, test } from 'vitest';
import { NEVER } from '#sim/engine/agenda-standing.ts';
import { DueLines } from '#sim/engine/due-lines.ts';

/** Lines that all come, at the given times. */
function linesAt(...times: readonly (readonly [high: number, low: number])[]): DueLines {
  const lines = new DueLines(times.length, [...times.keys()]);
  times.forEach(([high, low], line) => lines.set(line, { high, low }));
  lines.pickFirst();
  return lines;
}

describe('DueLines', () => {
  test('picks the line that comes first, by the low part where the high parts are the same', () => {
    expect(linesAt([3, 0], [2, 0], [4, 0])).toMatchObject({ first: 1, firstHigh: 2, firstLow: 0 });
    expect(linesAt([2, 2 ** -60], [2, -(2 ** -60)])).toMatchObject({ first: 1, firstHigh: 2, firstLow: -(2 ** -60) });
  });

  test('picks the first of lines that come at one time', () => {
    expect(linesAt([5, 0], [2, 0], [2, 0]).first).toBe(1);
  });

  test('has nothing come where no line does, or none is told of', () => {
    for (const lines of [new DueLines(2, []), new DueLines(2, [0, 1])]) {
      lines.pickFirst();
      expect(lines).toMatchObject({ firstHigh: Infinity, firstLow: 0 });
      expect(lines.at(1)).toBe(NEVER);
    }
  });

  test('counts from the first line once it has moved there, in both parts, and leaves alone what never comes', () => {
    const lines = linesAt([1, 2 ** -60], [3, 0], [Infinity, 0]);
    lines.moveToFirst();
    // 3 - (1 + 2^-60), which two doubles hold exactly.
    expect([lines.at(0), lines.at(1), lines.at(2)]).toEqual([
      { high: 0, low: 0 },
      { high: 2, low: -(2 ** -60) },
      NEVER,
    ]);
  });
});
