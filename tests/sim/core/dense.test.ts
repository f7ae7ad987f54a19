import {
  cholesky,
  identity,
  type Matrix,
  multiply,
  nullSpaceOfWholeNumbers,
  orthogonalCompletion,
  singularVectors,
  solveLower,
  solveLowerTransposed,
  transpose,
  zeros,
} from '#sim/core/dense.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

function matrix(rows: number, columns: number, entry: (i: number, j: number) => number): Matrix {
  const result = zeros(rows, columns);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) result.data[i * columns + j] = entry(i, j);
  return result;
}

function at(a: Matrix, i: number, j: number): number {
  return a.data[i * a.columns + j]!;
}

/** Largest difference between the entries of two matrices of one shape. */
function distance(a: Matrix, b: Matrix): number {
  expect([b.rows, b.columns]).toEqual([a.rows, a.columns]);
  return a.data.reduce((most, value, k) => Math.max(most, Math.abs(value - b.data[k]!)), 0);
}

const entry = fc.integer({ min: -1000, max: 1000 }).map((thousandths) => thousandths / 1000);

function anyMatrix(rows: number, columns: number): fc.Arbitrary<Matrix> {
  return fc
    .array(entry, { minLength: rows * columns, maxLength: rows * columns })
    .map((list) => matrix(rows, columns, (i, j) => list[i * columns + j]!));
}

const order = fc.integer({ min: 1, max: 7 });

describe('multiply and transpose', () => {
  test('multiply rows with columns', () => {
    // By hand.
    const a = matrix(2, 3, (i, j) => 3 * i + j + 1);
    const b = matrix(3, 2, (i, j) => i - j);
    expect([...multiply(a, b).data]).toEqual([8, 2, 17, 2]);
    expect([...transpose(a).data]).toEqual([1, 4, 2, 5, 3, 6]);
  });

  test('the unit matrix changes nothing', () => {
    fc.assert(
      fc.property(
        order.chain((n) => anyMatrix(n, n)),
        (a) => {
          expect(multiply(identity(a.rows), a)).toEqual(a);
        },
      ),
    );
  });
});

describe('cholesky, solveLower, solveLowerTransposed', () => {
  /** Symmetric, positive definite, eigenvalues from 1 on. */
  const definite = order
    .chain((n) => anyMatrix(n, n))
    .map((a) => {
      const product = multiply(a, transpose(a));
      return matrix(a.rows, a.rows, (i, j) => at(product, i, j) + (i === j ? 1 : 0));
    });

  test('the factor times its transpose is the matrix, and it is lower triangular', () => {
    fc.assert(
      fc.property(definite, (a) => {
        const l = cholesky(a);
        for (let i = 0; i < l.rows; i++) for (let j = i + 1; j < l.rows; j++) expect(at(l, i, j)).toBe(0);
        // Backward error of the factorisation: order times the rounding of entries up to 8.
        expect(distance(multiply(l, transpose(l)), a)).toBeLessThanOrEqual(8 * 8 * Number.EPSILON);
      }),
    );
  });

  test('both substitutions undo the factor', () => {
    fc.assert(
      fc.property(definite, (a) => {
        const l = cholesky(a);
        const x = matrix(a.rows, 2, (i, j) => i + 1 - 3 * j);
        // The factor's eigenvalues lie in [1, 8], so its condition is below 1e2.
        expect(distance(solveLower(l, multiply(l, x)), x)).toBeLessThanOrEqual(1e2 * 10 * 8 * Number.EPSILON);
        expect(distance(solveLowerTransposed(l, multiply(transpose(l), x)), x)).toBeLessThanOrEqual(
          1e2 * 10 * 8 * Number.EPSILON,
        );
      }),
    );
  });
});

describe('nullSpaceOfWholeNumbers', () => {
  test('gives one column per independent solution, each solved exactly', () => {
    const small = fc.integer({ min: -1, max: 1 });
    const shapes = fc
      .tuple(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 1, max: 5 }))
      .chain(([rows, columns]) =>
        fc
          .array(small, { minLength: rows * columns, maxLength: rows * columns })
          .map((list) => matrix(rows, columns, (i, j) => list[i * columns + j]!)),
      );
    fc.assert(
      fc.property(shapes, (a) => {
        const basis = nullSpaceOfWholeNumbers(a);
        expect(basis.rows).toBe(a.columns);
        // Entries are quotients of small whole numbers.
        expect(distance(multiply(a, basis), zeros(a.rows, basis.columns))).toBeLessThanOrEqual(1e-12);
        expect(basis.columns).toBe(a.columns - rank(a));
      }),
    );
  });

  test('without rows everything is free', () => {
    expect(nullSpaceOfWholeNumbers(zeros(0, 3))).toEqual(identity(3));
  });
});

/** Rank by elimination in fractions of whole numbers. */
function rank(a: Matrix): number {
  const rows = Array.from({ length: a.rows }, (_, i) =>
    Array.from({ length: a.columns }, (_unused, j) => BigInt(at(a, i, j))),
  );
  let found = 0;
  for (let column = 0; column < a.columns; column++) {
    const pivot = rows.findIndex((row, i) => i >= found && row[column] !== 0n);
    if (pivot < 0) continue;
    [rows[found], rows[pivot]] = [rows[pivot]!, rows[found]!];
    for (let i = found + 1; i < a.rows; i++) {
      const factor = rows[i]![column]!;
      rows[i] = rows[i]!.map((value, j) => value * rows[found]![column]! - factor * rows[found]![j]!);
    }
    found++;
  }
  return found;
}

describe('orthogonalCompletion', () => {
  test('is orthogonal, and its first columns span the given ones', () => {
    const tall = fc
      .tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 0, max: 6 }))
      .filter(([n, m]) => m <= n)
      .chain(([n, m]) => anyMatrix(n, m).map((a) => matrix(n, m, (i, j) => at(a, i, j) + (i === j ? 8 : 0))));
    fc.assert(
      fc.property(tall, (a) => {
        const q = orthogonalCompletion(a);
        expect(distance(multiply(transpose(q), q), identity(a.rows))).toBeLessThanOrEqual(64 * Number.EPSILON);
        const inside = multiply(transpose(q), a);
        for (let i = a.columns; i < a.rows; i++) {
          for (let j = 0; j < a.columns; j++)
            expect(Math.abs(at(inside, i, j))).toBeLessThanOrEqual(512 * Number.EPSILON);
        }
      }),
    );
  });
});

describe('singularVectors', () => {
  test('the vectors are orthonormal and the columns of a v are orthogonal, with the values as lengths', () => {
    const shapes = fc
      .tuple(fc.integer({ min: 0, max: 8 }), fc.integer({ min: 1, max: 6 }))
      .chain(([rows, columns]) => anyMatrix(rows, columns));
    fc.assert(
      fc.property(shapes, (a) => {
        const { v, av, values } = singularVectors(a);
        expect(distance(multiply(transpose(v), v), identity(a.columns))).toBeLessThanOrEqual(128 * Number.EPSILON);
        expect(distance(multiply(a, v), av)).toBeLessThanOrEqual(256 * Number.EPSILON);
        const gram = multiply(transpose(av), av);
        for (let i = 0; i < a.columns; i++) {
          expect(Math.abs(Math.sqrt(at(gram, i, i)) - values[i]!)).toBeLessThanOrEqual(64 * Number.EPSILON);
          for (let j = 0; j < i; j++) {
            expect(Math.abs(at(gram, i, j))).toBeLessThanOrEqual(64 * Number.EPSILON * values[i]! * values[j]! + 1e-30);
          }
        }
      }),
    );
  });

  test('keeps the small value of two badly scaled columns: the closed form of order two', () => {
    // Columns (s, 0) and (1, 1), s from 1e3 to 1e9: the values have product s and squares that add up to s^2 + 2, so the
    // smaller is s / larger.
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 9 }), (power) => {
        const s = 10 ** power;
        const { values } = singularVectors(matrix(2, 2, (i, j) => (j === 1 ? 1 : i === 0 ? s : 0)));
        const sum = s * s + 2;
        const larger = Math.sqrt((sum + Math.sqrt(sum * sum - 4 * s * s)) / 2);
        const [least, greatest] = [...values].sort((p, q) => p - q) as [number, number];
        expect(Math.abs(greatest / larger - 1)).toBeLessThanOrEqual(8 * Number.EPSILON);
        expect(Math.abs((least * larger) / s - 1)).toBeLessThanOrEqual(8 * Number.EPSILON);
      }),
    );
  });

  test('keeps every value of a well-conditioned matrix with columns scaled over twelve decades', () => {
    // Column scaling of one-sided Jacobi (Demmel and Veselic 1992): relative accuracy follows the unscaled matrix. The
    // product of the values is the determinant, whose closed form for this matrix is the product of the scales times 2 - 1.
    fc.assert(
      fc.property(fc.integer({ min: -6, max: 6 }), fc.integer({ min: -6, max: 6 }), (p, q) => {
        const scales = [10 ** p, 10 ** q];
        const { values } = singularVectors(matrix(2, 2, (i, j) => (i === 0 && j === 0 ? 2 : 1) * scales[j]!));
        const product = values[0]! * values[1]!;
        expect(Math.abs(product / (scales[0]! * scales[1]!) - 1)).toBeLessThanOrEqual(32 * Number.EPSILON);
      }),
    );
  });
});
