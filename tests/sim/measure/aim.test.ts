import { expect, test } from 'vitest';
import type { ExponentialSum } from '#sim/core/exponential-sum.ts';
import { aimOf, neverPasses } from '#sim/measure/aim.ts';

function sum(constant: number, terms: readonly (readonly [number, number])[] = [], slope = 0): ExponentialSum {
  return {
    constant,
    slope,
    coefficients: Float64Array.from(terms, ([coefficient]) => coefficient),
    rates: Float64Array.from(terms, ([, rate]) => rate),
  };
}

// What does not decay is what is left for t to infinity.
test('aimOf() is the constant with the terms that stand still, and nothing on a ramp', () => {
  expect(aimOf(sum(3))).toBe(3);
  expect(
    aimOf(
      sum(3, [
        [2, 0],
        [-0.5, 0],
        [7, 4],
        [9, 5],
      ]),
    ),
  ).toBe(4.5);
  expect(aimOf(sum(3, [[7, 4]]))).toBe(3);
  expect(aimOf(sum(3, [], 1e-9))).toBeUndefined();
});

test('aimOf() is nothing where a part grows, however little of it there is; of one that is not there it says nothing', () => {
  const growing = (share: number): ExponentialSum =>
    sum(3, [
      [0, -4],
      [share, -2],
      [2, 0],
      [7, 4],
    ]);
  expect(aimOf(growing(1e-9))).toBeUndefined();
  expect(aimOf(growing(-1e-9))).toBeUndefined();
  expect(aimOf(growing(0))).toBe(5);
  expect(aimOf(sum(3, [[1e-9, -4]]))).toBeUndefined();
  expect(neverPasses(growing(-1), 8)).toBe(false);
});

test('neverPasses() tells a voltage that stays below its limit from one that passes it, even if it comes back', () => {
  // Distances from a limit of 8 V: still at -1 V, rising to -1 V, rising to +1 V, and falling from +1 V to -1 V.
  expect(neverPasses(sum(-1), 8)).toBe(true);
  expect(neverPasses(sum(-1, [[-5, 1]]), 8)).toBe(true);
  expect(neverPasses(sum(1, [[-5, 1]]), 8)).toBe(false);
  expect(neverPasses(sum(-1, [[2, 1]]), 8)).toBe(false);
  // -1 + 8 (x - x^2), x = exp(-t), is +1 V at its highest and ends at -1 V.
  expect(
    neverPasses(
      sum(-1, [
        [8, 1],
        [-8, 2],
      ]),
      8,
    ),
  ).toBe(false);
  expect(neverPasses(sum(-1, [], 1e-9), 8)).toBe(false);
  expect(neverPasses(sum(-1, [], -1e-9), 8)).toBe(false);
});

test('neverPasses() takes an aim within 1e-12 of the limit for the limit, which is only approached', () => {
  for (const limit of [8, -8]) {
    expect(neverPasses(sum(0, [[-5, 1]]), limit)).toBe(true);
    expect(neverPasses(sum(9e-12), limit)).toBe(false);
    expect(neverPasses(sum(7e-12), limit)).toBe(true);
  }
});
