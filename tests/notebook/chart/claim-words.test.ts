import { trialWords } from '#notebook/chart/claim-words.ts';
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
