import { describe, expect, test } from 'vitest';
import { slipWords } from '#notebook/runtime/slips.ts';

describe('slipWords(typed, computed, isPlain)', () => {
  // R = 390 kΩ, C = 10 µF. Factors in closed form; how such slips come about is common practice, no source.
  const interval = Math.log(3) * 3.9;
  const half = Math.log(2) * 3.9;

  test.each([
    ['a prefix too small', interval / 1000, interval, /1000 times too low: 3 decades, as where one prefix/],
    ['a prefix too large', interval * 1e6, interval, /1000000 times too high: 6 decades/],
    ['a decade', 10 * interval, interval, /10 times too high: one decade/],
    ['two decades', interval / 100, interval, /100 times too low: two decades/],
    [
      'the rule for half an oscillation in place of that for an interval',
      half,
      interval,
      /1.58 times too low: .* 1.1 R C/,
    ],
    ['the rule for an interval in place of that for half an oscillation', interval, half, /1.58 times too high/],
    ['the whole in place of its half', 2 * half, half, /2 times too high: as where the whole/],
    ['1.44 in place of 0.693', 3.9 / Math.log(2), half, /2.08 times too high: .* frequencies/],
    ['the rounded rule against a real timer', 0.7 * 3.9, 1.1 * 3.9 * 1.01, /1.58 times too low/],
  ])('knows %s', (_, typed, computed, words) => {
    expect(slipWords(typed, computed, false)).toMatch(words);
  });

  test('a count may be one off, a time may not', () => {
    expect(slipWords(3, 4, true)).toMatch(/^One off/);
    expect(slipWords(3, 4, false)).toBeUndefined();
    expect(slipWords(3.5, 4.5, true)).toBeUndefined();
  });

  test('a sign alone is told; other answers, and zero, suggest nothing', () => {
    expect(slipWords(-2, 2, false)).toMatch(/the sign is not/);
    expect(slipWords(1.3, 1, false)).toBeUndefined();
    expect(slipWords(0, 1, false)).toBeUndefined();
    expect(slipWords(1, 0, false)).toBeUndefined();
  });
});
