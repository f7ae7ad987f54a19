import { expect, test } from 'vitest';
import { readAmplitudes } from '#sim/engine/amplitudes.ts';
import type { Situation } from '#sim/engine/situation.ts';

/** What readAmplitudes() looks at: two parts that grow, one that decays. */
const situation = {
  rates: Float64Array.of(-2, -1, 3),
  rest: Float64Array.of(4, -8, 5),
  drift: Float64Array.of(1, 0, 1),
  grows: true,
  stateCount: 3,
} as Situation;

function amplitudesOf(z: readonly number[], changes: object = {}): number[] {
  const amplitudes = Float64Array.of(9, 9, 9);
  readAmplitudes({ ...situation, ...changes } as Situation, Float64Array.from(z), amplitudes);
  return [...amplitudes];
}

test('readAmplitudes() gives the distance of each part from where it aims', () => {
  expect(amplitudesOf([5, -8.5, 1])).toEqual([1, -0.5, -4]);
});

test('readAmplitudes() leaves a part that grows and is driven at least a rounding from where it aims', () => {
  // Half a unit in the last place of 4 to either side is what rounding may hide: 2^-52 times 4, exactly.
  expect(amplitudesOf([4, -8, 5])).toEqual([2 ** -50, 0, 0]);
  expect(amplitudesOf([4, -8, 5], { grows: false })).toEqual([0, 0, 0]);
});

test('readAmplitudes() does so of each part that grows, and of none that stands still', () => {
  const driven = { drift: Float64Array.of(1, 1, 1) };
  expect(amplitudesOf([5, -8, 5], driven)).toEqual([1, -(2 ** -49), 0]);
  expect(amplitudesOf([5, -8, 5], { ...driven, rates: Float64Array.of(-2, 0, 3) })).toEqual([1, 0, 0]);
});

test('readAmplitudes() writes to no more parts than the situation has', () => {
  expect(amplitudesOf([5, 5, 5], { stateCount: 2 })).toEqual([1, 13, 9]);
});
