import fc from 'fast-check';
import { surveyOf } from '#sim/document/choose-survey.ts';
import { preferredBetween } from '#sim/quantity/index.ts';
import { describe, expect, test } from 'vitest';

const resistances = preferredBetween(1e3, 1e6, 'E24');
const capacitances = preferredBetween(1e-7, 1e-5, 'E12');

describe('surveyOf(points, wishes, runOnce)', () => {
  test('foretells products of powers exactly, from at most 200 runs', () => {
    fc.assert(
      fc.property(fc.double({ min: -2, max: 2, noNaN: true }), fc.double({ min: -2, max: 2, noNaN: true }), (p, q) => {
        const value = (r: number, c: number): number => 3 * (r / 1e4) ** p * (c / 1e-6) ** q;
        const { runs, foretell } = surveyOf([resistances, capacitances], 1, ([r, c]) => [value(r!, c!)]);
        expect(runs).toBe(14 * 14);
        for (const r of resistances.filter((_, k) => k % 7 === 0)) {
          for (const c of capacitances) {
            // Some dozen roundings of logarithms of this size.
            expect(Math.abs(Math.log(foretell([r, c])[0]! / value(r, c)))).toBeLessThanOrEqual(1e-12);
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  test('asks for the ends of every range, and for the values themselves where they are few', () => {
    const asked: (readonly number[])[] = [];
    const run = (set: readonly number[]): number[] => {
      asked.push(set);
      return [set[0]!];
    };
    expect(surveyOf([[3, 1, 2], resistances], 1, run).runs).toBe(3 * 14);
    expect(new Set(asked.map(([first]) => first))).toEqual(new Set([1, 2, 3]));
    expect(Math.min(...asked.map(([, r]) => r!))).toBe(1e3);
    expect(Math.max(...asked.map(([, r]) => r!))).toBe(1e6);
    expect(
      surveyOf(
        Array.from({ length: 6 }, () => resistances),
        1,
        () => [1],
      ).runs,
    ).toBe(2 ** 6);
  });

  test('goes by the runs that have a value; without any near it foretells nothing', () => {
    const { foretell } = surveyOf([[1, 2, 3, 4]], 2, ([x]) => [x! < 3 ? x! : null, null]);
    expect(foretell([2])).toEqual([2, NaN]);
    expect(foretell([2.5])[0]).toBe(2);
    expect(foretell([4])[0]).toBeNaN();
  });

  test('takes readings below zero as they are', () => {
    const { foretell } = surveyOf([[1, 2, 4, 8, 16]], 1, ([x]) => [-x!]);
    expect(foretell([4])[0]).toBe(-4);
  });
});
