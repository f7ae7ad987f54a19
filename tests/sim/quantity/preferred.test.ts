import { nearestPreferred, preferredBetween, type Series, stepPreferred } from '#sim/quantity/index.ts';
import { describe, expect, test } from 'vitest';

// All values are compared exactly: a preferred value is the double nearest to its decimal text.
// Expected values follow from the lists in shared/preferred-numbers.json and the ratio rule.

describe('nearestPreferred', () => {
  test.each<[number, Series, number]>([
    [68_000, 'E12', 68_000],
    [70_000, 'E12', 68_000],
    [75_000, 'E12', 82_000], // 75/68 = 1.103, 82/75 = 1.093
    [74_000, 'E12', 68_000], // 74/68 = 1.088, 82/74 = 1.108
    [2.2e-9, 'E6', 2.2e-9],
    [2.2000000000000003e-9, 'E6', 2.2e-9],
    [4.7e-6, 'E3', 4.7e-6],
    [1e-7, 'E12', 1e-7],
    [9.6, 'E12', 10], // 9.6/8.2 = 1.171, 10/9.6 = 1.042: into the next decade
    [0.96, 'E3', 1],
    [99.9, 'E192', 100],
    [9150, 'E192', 9200], // 9150/9090 = 1.0066, 9200/9150 = 1.0055
    [319_100, 'E24', 330_000], // 319.1/300 = 1.0637, 330/319.1 = 1.0342
    [314_000, 'E24', 300_000],
    [1, 'E96', 1],
    [10, 'E96', 10],
  ])('(%d, %s) is %d', (value, series, expected) => {
    expect(nearestPreferred(value, series)).toBe(expected);
  });

  test('the limit between two neighbours is their geometric mean', () => {
    // Derived: v/10 = 12/v at v = sqrt(120). 1e-12 is far above rounding and far below a step.
    const middle = Math.sqrt(10 * 12);
    expect(nearestPreferred(middle * (1 - 1e-12), 'E12')).toBe(10);
    expect(nearestPreferred(middle * (1 + 1e-12), 'E12')).toBe(12);
  });

  test.each([0, -5, NaN, Infinity, 1e301, 1e-301])('(%d) is refused', (value) => {
    expect(() => nearestPreferred(value, 'E12')).toThrow(RangeError);
    expect(() => nearestPreferred(value, 'E12')).toThrow(
      `nearestPreferred: value must be from 1e-300 to 1e+300; got ${value}.`,
    );
  });

  test.each([1e-300, 1e300])('(%d), the end of the range, is found', (value) => {
    expect(nearestPreferred(value, 'E12')).toBe(value);
  });
});

describe('stepPreferred', () => {
  test.each<[number, Series, number, number]>([
    [68_000, 'E12', 1, 82_000],
    [68_000, 'E12', -1, 56_000],
    [68_000, 'E12', 0, 68_000],
    [68_000, 'E12', 12, 680_000],
    [68_000, 'E12', -24, 680],
    [82_000, 'E12', 1, 100_000],
    [1, 'E12', -1, 0.82],
    [1, 'E3', -1, 0.47],
    [1e-7, 'E6', 1, 1.5e-7],
    [1.5e-9, 'E6', 1, 2.2e-9],
    [70_000, 'E12', 1, 82_000],
    [70_000, 'E12', -1, 68_000],
    [70_000, 'E12', 2, 100_000],
    [70_000, 'E12', -2, 56_000],
    [70_000, 'E12', 0, 68_000],
    [990, 'E12', 1, 1000],
    [988, 'E192', 1, 1000],
  ])('(%d, %s, %d) is %d', (value, series, steps, expected) => {
    expect(stepPreferred(value, series, steps)).toBe(expected);
  });

  test('a value off by rounding counts as the preferred one, above and below it', () => {
    expect(stepPreferred(2.2000000000000003e-9, 'E12', 1)).toBe(2.7e-9);
    expect(stepPreferred(2.2000000000000003e-9, 'E12', -1)).toBe(1.8e-9);
    expect(stepPreferred(2.1999999999999996e-9, 'E12', 1)).toBe(2.7e-9);
    expect(stepPreferred(2.1999999999999996e-9, 'E12', -1)).toBe(1.8e-9);
    expect(stepPreferred(999.9999999999999, 'E12', 1)).toBe(1200);
    expect(stepPreferred(999.9999999999999, 'E12', -1)).toBe(820);
  });

  test.each([0.5, NaN, Infinity])('steps of %d are refused', (steps) => {
    expect(() => stepPreferred(1000, 'E12', steps)).toThrow(
      `stepPreferred: steps must be a whole number; got ${steps}.`,
    );
  });

  test('steps out of the range of values are refused', () => {
    expect(() => stepPreferred(1, 'E3', 3000)).toThrow('stepPreferred: result must be from 1e-300');
    expect(() => stepPreferred(1, 'E3', -3000)).toThrow('got 0.');
    expect(() => stepPreferred(0, 'E3', 1)).toThrow('stepPreferred: value must be from 1e-300');
  });
});

describe('preferredBetween', () => {
  test('(1000, 10000, E6) holds both ends', () => {
    expect(preferredBetween(1000, 10_000, 'E6')).toEqual([1000, 1500, 2200, 3300, 4700, 6800, 10_000]);
  });

  test('(2e-9, 1e-7, E3) crosses decades without rounding errors', () => {
    expect(preferredBetween(2e-9, 1e-7, 'E3')).toEqual([2.2e-9, 4.7e-9, 1e-8, 2.2e-8, 4.7e-8, 1e-7]);
  });

  test('a range between two neighbours holds nothing', () => {
    expect(preferredBetween(69_000, 81_000, 'E12')).toEqual([]);
  });

  test('a range of one preferred value holds that value', () => {
    expect(preferredBetween(47, 47, 'E3')).toEqual([47]);
  });

  test('a range upside down is refused', () => {
    expect(() => preferredBetween(10, 1, 'E3')).toThrow(
      'preferredBetween: high must be at least low, 10; got 1. Swap the two.',
    );
  });

  test.each([
    [0, 1, 'low'],
    [1, Infinity, 'high'],
    [NaN, 1, 'low'],
  ])('(%d, %d) is refused for its %s', (low, high, name) => {
    expect(() => preferredBetween(low, high, 'E3')).toThrow(`preferredBetween: ${name} must be from`);
  });
});
