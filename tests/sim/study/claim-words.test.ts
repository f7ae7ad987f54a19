import type { ClaimOutcome } from '#sim/study/claim.ts';
import { claimWords } from '#sim/study/claim-words.ts';
import { expect, test } from 'vitest';

const wording = { left: 'width(out)', right: '2', relation: '=', unit: null, choices: [], seed: 1 } as const;

function told(outcome: Pick<ClaimOutcome, 'share' | 'trials'>): string {
  const { trials } = outcome;
  return claimWords(wording, {
    verdict: 'holds',
    holds: trials,
    fails: 0,
    open: 0,
    reasons: [],
    counterexample: null,
    nominal: null,
    courses: [],
    box: null,
    ...outcome,
  });
}

test('claimWords says what holds only so far while a part of it is computed', () => {
  expect(told({ share: 0, trials: 0 })).toBe('Nothing is computed yet.');
  expect(told({ share: 0.1, trials: 0 })).toBe('No trial is done yet.');
  expect(told({ share: 0.5, trials: 7 })).toBe('So far it holds in all of 7 trials (seed 1).');
  expect(told({ share: 1, trials: 20 })).toBe('It holds in all of 20 trials (seed 1).');
});
