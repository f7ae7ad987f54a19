import { areAlike, firstAlike, type Readings } from '#sim/study/alike.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

/** By comparing every set with every first one before it. */
function slowly(sets: readonly Readings[], share: number): number[] {
  const firsts: number[] = [];
  return sets.map((set, index) => {
    const first = firsts.find((each) => areAlike(set, sets[each] ?? [], share));
    if (first !== undefined) return first;
    firsts.push(index);
    return index;
  });
}

describe('areAlike(a, b, share)', () => {
  test('compares each reading with a share of the larger one', () => {
    expect(areAlike([100], [98], 0.02)).toBe(true);
    expect(areAlike([100], [97.9], 0.02)).toBe(false);
    expect(areAlike([100, 5], [99, 6], 0.02)).toBe(false);
    expect(areAlike([1], [-1], 0.02)).toBe(false);
    expect(areAlike([0], [1e-30], 0.02)).toBe(false);
  });

  test('takes no value for itself only', () => {
    expect(areAlike([null, 1], [null, 1], 0.02)).toBe(true);
    expect(areAlike([null], [0], 0.02)).toBe(false);
  });
});

describe('firstAlike(sets, share)', () => {
  test('finds the first one for a chain in which only neighbours are alike', () => {
    expect(firstAlike([[100], [101.5], [103], [100.5]], 0.02)).toEqual([0, 0, 2, 0]);
  });

  test('gives what comparing all with all gives', () => {
    const value = fc.oneof(
      fc.constantFrom(null, 0),
      fc.double({ min: 0.9, max: 1.1, noNaN: true }),
      fc.double({ min: -1.05, max: -0.95, noNaN: true }),
    );
    const sets = fc.array(fc.tuple(value, value), { maxLength: 40 });
    fc.assert(
      fc.property(sets, fc.constantFrom(0.02, 0.3), (all, share) => {
        expect(firstAlike(all, share)).toEqual(slowly(all, share));
      }),
    );
  });
});
