import { envelopePath, levelPath } from '#sim/chart/envelope.ts';
import { linearScale } from '#sim/chart/scale.ts';
import { describe, expect, test } from 'vitest';

const y = linearScale(0, 10, 100, 0);

describe('envelopePath', () => {
  test('a level signal is one straight line, however many columns it has', () => {
    const level = Array.from({ length: 500 }, () => 5);
    expect(envelopePath({ first: level, last: level, low: level, high: level }, y, 0, 500)).toBe('M0 50L500 50');
  });

  test('a spike inside a column is drawn at its full height', () => {
    const path = envelopePath({ first: [1], last: [1], low: [1], high: [9] }, y, 0, 10);
    expect(path).toBe('M0 90L5 90L5 10L10 90');
  });

  test('a jump between columns is an upright line', () => {
    const path = envelopePath({ first: [0, 10], last: [0, 10], low: [0, 10], high: [0, 10] }, y, 0, 10);
    expect(path).toBe('M0 100L5 100L5 0L10 0');
  });

  test('no columns give no path', () => {
    expect(envelopePath({ first: [], last: [], low: [], high: [] }, y, 0, 10)).toBe('');
  });
});

test('levelPath() is the outline of columns that all have one value, whatever part of them is shown', () => {
  const count = 40;
  const level = Array.from({ length: count }, () => 3);
  const columns = { first: level, last: level, low: level, high: level };
  for (const [left, right] of [
    [0, 500],
    [-200, 900],
    [-1e6, 2e6],
    [700, 900],
  ] as const) {
    const plot = { left: 20, right: 480 };
    expect(levelPath(3, count, y, left, right, plot)).toBe(envelopePath(columns, y, left, right, plot));
  }
});
