import { laneRole } from '#sim/document/lane-role.ts';
import { describe, expect, test } from 'vitest';

/** An envelope whose columns each hold one stretch from low to high. */
function shape(...columns: (readonly [low: number, high: number])[]) {
  const low = columns.map(([value]) => value);
  const high = columns.map(([, value]) => value);
  return { first: low, last: high, low, high };
}

describe('laneRole(shape, isOutput)', () => {
  test('calls a signal logic that only steps between two levels', () => {
    expect(laneRole(shape([0.1, 0.1], [0.1, 10.7], [10.7, 10.7]), false)).toBe('logic');
  });

  test('overlooks a small sag of a level', () => {
    expect(laneRole(shape([0, 0], [0, 12], [11.8, 12]), false)).toBe('logic');
  });

  test('calls a signal analog that stops in between', () => {
    expect(laneRole(shape([0, 4], [4, 8], [0, 8]), false)).toBe('analog');
  });

  test('calls a signal that never moves logic only where it is an output', () => {
    expect(laneRole(shape([5, 5], [5, 5]), false)).toBe('analog');
    expect(laneRole(shape([0, 0]), true)).toBe('logic');
    expect(laneRole(shape(), true)).toBe('logic');
  });
});
