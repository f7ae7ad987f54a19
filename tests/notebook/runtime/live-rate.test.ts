import { Pace, RATES, rateWords, REAL_TIME } from '#notebook/runtime/live-rate.ts';
import { expect, test } from 'vitest';

test('rates go from a thousandth to a thousand, real time among them', () => {
  expect([RATES[0], RATES[REAL_TIME], RATES.at(-1)]).toEqual([1e-3, 1, 1000]);
  expect([...RATES].sort((a, b) => a - b)).toEqual(RATES);
});

test.each([
  [1e-3, '1 s here is 1 ms there'],
  [0.05, '1 s here is 50 ms there'],
  [1, '1 s here is 1 s there'],
  [1000, '1 s here is 1000 s there'],
  [0.000_312, '1 s here is 310 µs there'],
])('rateWords(%d) says %s', (rate, words) => {
  expect(rateWords(rate).replaceAll('\u202f', ' ')).toBe(words);
});

test('a run that does what is asked is not behind; one that does a third is', () => {
  const pace = new Pace();
  for (let frame = 0; frame < 120; frame += 1) pace.take(1 / 60, 1 / 60);
  expect(pace.behind(1)).toBeUndefined();
  for (let frame = 0; frame < 70; frame += 1) pace.take(1 / 60, 1 / 180);
  expect(pace.behind(1)).toBeCloseTo(1 / 3, 2);
  pace.clear();
  expect(pace.behind(1)).toBeUndefined();
});
