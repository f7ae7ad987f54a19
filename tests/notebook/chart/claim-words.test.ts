import { counterexampleWords, trialWords, verdictWords } from '#notebook/chart/claim-words.ts';
import type { ClaimResult } from '#sim/document/index.ts';
import { expect, test } from 'vitest';

test.each([
  [72, 28, 0, 'Of 100 trials it held in 72 and failed in 28.'],
  [100, 0, 0, 'Of 100 trials it held in 100.'],
  [0, 100, 0, 'Of 100 trials it failed in 100.'],
  [70, 28, 2, 'Of 100 trials it held in 70, failed in 28 and 2 decided nothing.'],
  [0, 0, 100, 'Of 100 trials 100 decided nothing.'],
])('trialWords tells %i, %i and %i of 100 trials, and nothing of what there was none', (holds, fails, open, words) => {
  expect(trialWords({ trials: 100, holds, fails, open } as ClaimResult)).toBe(words);
});

test.each([
  ['holds', 1, 'It holds wherever it was tried.'],
  ['holds', 0.5, 'So far it holds wherever it was tried.'],
  ['fails', 0.5, 'It does not hold everywhere.'],
  ['open', 0.5, 'Nothing is decided yet.'],
] as const)('verdictWords of a claim that %s, %d of it computed', (verdict, share, words) => {
  expect(verdictWords({ verdict, share } as ClaimResult)).toBe(words);
});

test('counterexampleWords calls values as sentences and knobs do', () => {
  const values = { 'G1.wave.period': 0.12, 'G1.wave.points[1][1]': 4, 'U1.family': 'cmos' };
  const result = {
    unit: 's',
    relation: '=',
    over: [
      { value: 'G1.wave.period', unit: 's' },
      { value: 'G1.wave.points[1][1]', unit: 'V' },
      { value: 'U1.family', unit: null },
    ],
    counterexample: { values, left: 0.3, right: 0.2, error: 0.5 },
  } as unknown as ClaimResult;
  expect(counterexampleWords(result)?.replace(/\s/gu, ' ')).toBe(
    'With G1 period 120 ms, G1 point 2 voltage 4 V, U1 family cmos: 300 ms on the left, 200 ms on the right, off by 50 %.',
  );
});
