import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Matrix, multiply, zeros } from '#sim/core/dense.ts';
import { type RealEigenbasis, realEigenbasis } from '#sim/core/real-eigenbasis.ts';
import { big, type BigReal, magnitude, over, times, toDouble } from '../../support/big-real.ts';
import { spread } from '../../support/arbitrary-numbers.ts';

function square(...rows: readonly (readonly number[])[]): Matrix {
  return { rows: rows.length, columns: rows.length, data: Float64Array.from(rows.flat()) };
}

function eigenbasisOf({ rows, data }: Matrix): RealEigenbasis | undefined {
  return realEigenbasis(rows, (i, j) => ({ high: data[i * rows + j]!, low: 0 }));
}

/** A diagonal and what one amplifier adds to it: its eigenvalues are the zeros of 1 + sum f_k g_k / (d_k - value). */
const amplified = fc
  .array(fc.record({ diagonal: spread(1e-4, 1e10), in: spread(0.03, 3), out: spread(0.03, 3) }), {
    minLength: 1,
    maxLength: 7,
  })
  .map((list) => {
    const d = list.map(({ diagonal }) => diagonal);
    const f = list.map((entry, k) => entry.in * Math.sqrt(d[k]!));
    const g = list.map((entry, k) => entry.out * Math.sqrt(d[k]!));
    const a = square(...d.map((value, i) => d.map((_, j) => (i === j ? value : 0) + f[i]! * g[j]!)));
    return { a, n: d.length };
  });

/** The determinant of a less a value, in 512-bit arithmetic, and the size of what it is the sum of. */
function determinant(a: Matrix, value: number): { readonly value: number; readonly slope: number } {
  const n = a.rows;
  const at = (shift: BigReal): BigReal => {
    const m = Array.from({ length: n }, (_, i) =>
      Array.from({ length: n }, (_column, j) => big(a.data[i * n + j]!) - (i === j ? shift : 0n)),
    );
    let product = big(1);
    for (let k = 0; k < n; k++) {
      let best = k;
      for (let i = k + 1; i < n; i++) if (magnitude(m[i]![k]!) > magnitude(m[best]![k]!)) best = i;
      if (best !== k) product = -product;
      [m[k], m[best]] = [m[best]!, m[k]!];
      product = times(product, m[k]![k]!);
      for (let i = k + 1; i < n; i++) {
        const factor = over(m[i]![k]!, m[k]![k]!);
        for (let j = k; j < n; j++) m[i]![j] = m[i]![j]! - times(factor, m[k]![j]!);
      }
    }
    return product;
  };
  const by = value * 1e-9;
  const [here, above, below] = [at(big(value)), at(big(value + by)), at(big(value - by))];
  return { value: toDouble(here), slope: toDouble(over(above - below, big(2 * by))) };
}

describe('realEigenbasis()', () => {
  test('values of fourteen decades keep all their digits: the determinant has its zero within two units of rounding', () => {
    let looked = 0;
    fc.assert(
      fc.property(amplified, ({ a }) => {
        const { values } = eigenbasisOf(a)!;
        for (const value of values) {
          const { value: rest, slope } = determinant(a, value);
          looked++;
          // Newton's step that is left; the slope is known to some digits only, and values may lie near each other.
          expect(Math.abs(rest / slope)).toBeLessThanOrEqual(2 * Number.EPSILON * value * (1 + 1e-6));
        }
      }),
    );
    expect(looked).toBeGreaterThan(100);
  });

  test('vectors and their inverse give the matrix back, and each other', () => {
    fc.assert(
      fc.property(amplified, ({ a, n }) => {
        const { values, vectors, inverse } = eigenbasisOf(a)!;
        for (let k = 1; k < n; k++) expect(values[k]).toBeGreaterThanOrEqual(values[k - 1]!);
        const both = multiply(vectors, inverse);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) {
            let size = 0;
            let entry = 0;
            let entrySize = 0;
            for (let k = 0; k < n; k++) {
              const part = vectors.data[i * n + k]! * inverse.data[k * n + j]!;
              size += Math.abs(part);
              entry += part * values[k]!;
              entrySize += Math.abs(part * values[k]!);
            }
            // Rounding of the entries to doubles.
            expect(Math.abs(both.data[i * n + j]! - (i === j ? 1 : 0))).toBeLessThanOrEqual(8 * Number.EPSILON * size);
            expect(Math.abs(entry - a.data[i * n + j]!)).toBeLessThanOrEqual(8 * Number.EPSILON * entrySize);
          }
        }
      }),
    );
  });

  test.each([
    ['a rotation', square([1, 1], [-1, 1])],
    ['a ring of three with one sign turned', square([3, 0, 2], [-2, 3, 0], [0, 2, 3])],
    ['a ring of five beside two real ones', ringOfFive()],
  ])('%s has complex eigenvalues: undefined', (_, a) => {
    expect(eigenbasisOf(a)).toBeUndefined();
  });

  test('a value that occurs twice with two vectors is no trouble', () => {
    // By hand: 2 with (1, 0, 0) and (0, 1, 0), 3 with (1, 1, 1).
    const { values, vectors, inverse } = eigenbasisOf(square([2, 0, 1], [0, 2, 1], [0, 0, 3]))!;
    expect([...values]).toEqual([2, 2, 3]);
    expect([...vectors.data, ...inverse.data].every((entry) => Math.abs(entry) <= 1 + 1e-15)).toBe(true);
  });

  test('a value that occurs twice with one vector alone shows in entries of the inverse without bound', () => {
    const { inverse } = eigenbasisOf(square([2, 1], [0, 2]))!;
    expect(inverse.data.some((entry) => Math.abs(entry) > 1e20)).toBe(true);
  });

  test('a value of zero and one below zero are found as such', () => {
    // By hand: x^2 - x - 2 = (x - 2) (x + 1), and rows that are multiples of each other.
    expect([...eigenbasisOf(square([0, 2], [1, 1]))!.values]).toEqual([-1, 2]);
    const [none, five] = eigenbasisOf(square([1, 2], [2, 4]))!.values;
    // Rounding of two-part numbers.
    expect(Math.abs(none!)).toBeLessThanOrEqual(1e-30);
    expect(five).toBe(5);
  });
});

/** Two real eigenvalues of a triangle, then a ring that turns by a third of a circle and more. */
function ringOfFive(): Matrix {
  const a = zeros(5, 5);
  const set = (i: number, j: number, value: number): void => void (a.data[i * 5 + j] = value);
  set(0, 0, 1);
  set(1, 1, 7);
  set(0, 3, 2);
  for (const [i, j] of [
    [2, 3],
    [3, 4],
    [4, 2],
  ] as const)
    set(i, j, 5);
  for (const i of [2, 3, 4]) set(i, i, 6);
  return a;
}
