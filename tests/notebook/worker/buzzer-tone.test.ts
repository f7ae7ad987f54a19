import { buzzerTone } from '#notebook/worker/buzzer-tone.ts';
import { expect, test } from 'vitest';

// 500 Hz: up from each whole 2 ms on for 1 ms.
const tone = (spans: [number, number][], from: number, until: number): ReturnType<typeof buzzerTone> =>
  buzzerTone(
    'LS1',
    500,
    spans.map(([start, end]) => ({ from: start, until: end })),
    from,
    until,
  );
const digits = (times: readonly number[]): number[] => times.map((time) => Number(time.toFixed(9)));

test('buzzerTone() goes up and down twice in 4 ms, in halves that are counted from time 0', () => {
  const { high, changes, cut } = tone([[0.01, 0.014]], 0.01, 0.014);
  expect([high, cut]).toEqual([true, false]);
  expect(digits(changes)).toEqual([0.011, 0.012, 0.013]);
});

test('buzzerTone() begins and ends where the buzzer does', () => {
  const { high, changes } = tone([[0.0125, 0.0145]], 0.01, 0.02);
  expect(high).toBe(false);
  expect(digits(changes)).toEqual([0.0125, 0.013, 0.014, 0.0145]);
});

test('buzzerTone() is silent without a span', () => {
  expect(tone([], 0, 1)).toEqual({ timer: 'LS1', high: false, changes: [], cut: false });
});

test('buzzerTone() tells that it lists no more than an ear could take in', () => {
  const { changes, cut } = tone([[0, 100]], 0, 100);
  expect(cut).toBe(true);
  expect(changes.length).toBe(4000);
});
