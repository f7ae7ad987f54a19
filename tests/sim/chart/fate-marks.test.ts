import { fateMarks } from '#sim/chart/fate-marks.ts';
import { linearScale } from '#sim/chart/scale.ts';
import type { Fate, PulseRow } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const x = linearScale(0, 10, 0, 1000);
const pulse = (time: number, fate: Fate, end: number | null = time + 0.001): PulseRow => ({
  time,
  end,
  fate,
  reason: '',
});

describe('fateMarks', () => {
  test('a pulse is as wide as it lasts, but never too narrow to be seen', () => {
    const marks = fateMarks([pulse(1, 'started'), pulse(2, 'held', 4)], x, 10);
    expect(marks.map(({ x: at, width }) => [at, width])).toEqual([
      [100, 5],
      [200, 200],
    ]);
  });

  test('a pulse still open reaches the end of the window', () => {
    expect(fateMarks([pulse(9, 'started', null)], x, 10)[0]?.width).toBe(100);
  });

  test('pulses alike that would run together become one mark with a count', () => {
    const crowd = Array.from({ length: 35 }, (_, index) => pulse(1 + index * 0.05, 'ignored'));
    const marks = fateMarks([pulse(0.9, 'started'), ...crowd, pulse(3, 'started')], x, 10);
    expect(marks.map(({ fate, count, first }) => [fate, count, first])).toEqual([
      ['started', 1, 0],
      ['ignored', 35, 1],
      ['started', 1, 36],
    ]);
  });

  test('pulses with room between them stay apart', () => {
    expect(fateMarks([pulse(1, 'ignored'), pulse(1.1, 'ignored')], x, 10)).toHaveLength(2);
  });
});
