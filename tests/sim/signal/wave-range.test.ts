import type { Wave } from '#sim/signal/wave.ts';
import { waveRange } from '#sim/signal/wave-range.ts';
import { expect, test } from 'vitest';

test.each<[Wave, number, number]>([
  [{ shape: 'constant', level: -3 }, -3, -3],
  [{ shape: 'pulses', period: 1, width: 0.1, rest: 5, pulse: -1, delay: 0, count: Infinity }, -1, 5],
  [{ shape: 'square', frequency: 1, duty: 0.5, high: -2, low: 4, delay: 0 }, -2, 4],
  [
    {
      shape: 'points',
      points: [
        [0, 1],
        [1, 9],
        [2, -4],
      ],
      between: 'lines',
    },
    -4,
    9,
  ],
])('waveRange(%j) is %d V to %d V', (wave, low, high) => {
  expect(waveRange(wave)).toEqual({ low, high });
});

test('waveRange takes the longest list of points there may be', () => {
  const points = Array.from({ length: 100_000 }, (_, index) => [index, index % 7] as const);
  expect(waveRange({ shape: 'points', points, between: 'steps' })).toEqual({ low: 0, high: 6 });
});
