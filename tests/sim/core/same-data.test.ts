import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sameData } from '#sim/core/same-data.ts';

describe('sameData()', () => {
  test('tells apart what JSON does not: endless, nothing and not stated', () => {
    expect(sameData({ count: Infinity }, { count: null })).toBe(false);
    expect(sameData({ count: undefined }, {})).toBe(false);
    expect(sameData({}, { count: undefined })).toBe(false);
    expect(sameData({ a: undefined }, { b: undefined })).toBe(false);
    expect(sameData([], {})).toBe(false);
    expect(sameData([1, 2], [1])).toBe(false);
    expect(sameData([1, 2], [2, 1])).toBe(false);
    expect(sameData({ count: Infinity, a: [1], n: NaN }, { n: NaN, a: [1], count: Infinity })).toBe(true);
  });

  test('holds for a copy, and for no copy in which one number is another', () => {
    const data = fc.dictionary(fc.string(), fc.oneof(fc.double(), fc.string(), fc.array(fc.double())));
    fc.assert(
      fc.property(data, fc.string(), fc.double({ noNaN: true }), (one, name, value) => {
        expect(sameData({ ...one, [name]: [value] }, { ...structuredClone(one), [name]: [value] })).toBe(true);
        expect(sameData({ ...one, [name]: [value] }, { ...one, [name]: [value + 1, value] })).toBe(false);
      }),
    );
  });
});
