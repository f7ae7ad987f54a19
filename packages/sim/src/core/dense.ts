import type { NumberMemory } from './number-memory.ts';

/**
 * A dense matrix in row order. The functions that make one can write into one instead, which they then return: what
 * it held is lost. It must have the right size, and hold nothing that is still to be read.
 */
export interface Matrix {
  readonly rows: number;
  readonly columns: number;
  readonly data: Float64Array;
}

/** A matrix of zeros. */
export function zeros(rows: number, columns: number): Matrix {
  return { rows, columns, data: new Float64Array(rows * columns) };
}

/** A matrix of zeros, in memory that many share. */
export function matrixIn(memory: NumberMemory, rows: number, columns: number): Matrix {
  return { rows, columns, data: memory.row(rows * columns) };
}

/** The unit matrix of order n. */
export function identity(n: number): Matrix {
  const result = zeros(n, n);
  for (let i = 0; i < n; i++) result.data[i * n + i] = 1;
  return result;
}

/** a b. */
export function multiply(a: Matrix, b: Matrix, into?: Matrix): Matrix {
  const result = into ?? zeros(a.rows, b.columns);
  // By hand: filling short arrays takes longer.
  if (into) for (let at = 0; at < into.data.length; at++) into.data[at] = 0;
  for (let i = 0; i < a.rows; i++) {
    for (let k = 0; k < a.columns; k++) {
      const factor = a.data[i * a.columns + k]!;
      if (factor === 0) continue;
      for (let j = 0; j < b.columns; j++) {
        result.data[i * b.columns + j]! += factor * b.data[k * b.columns + j]!;
      }
    }
  }
  return result;
}

/** The transpose of a. */
export function transpose(a: Matrix, into?: Matrix): Matrix {
  const result = into ?? zeros(a.columns, a.rows);
  for (let i = 0; i < a.rows; i++) {
    for (let j = 0; j < a.columns; j++) result.data[j * a.rows + i] = a.data[i * a.columns + j]!;
  }
  return result;
}

/** Lower triangular L with a = L L^T, for a symmetric positive definite matrix. */
export function cholesky(a: Matrix, into?: Matrix): Matrix {
  const n = a.rows;
  const result = into ?? zeros(n, n);
  const l = result.data;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let value = a.data[i * n + j]!;
      for (let k = 0; k < j; k++) value -= l[i * n + k]! * l[j * n + k]!;
      l[i * n + j] = i === j ? Math.sqrt(value) : value / l[j * n + j]!;
    }
  }
  return result;
}

/** L^-1 b by forward substitution. */
export function solveLower(l: Matrix, b: Matrix, into?: Matrix): Matrix {
  const n = l.rows;
  const result: Matrix = into ?? zeros(b.rows, b.columns);
  const x = result.data;
  for (let at = 0; at < x.length; at++) x[at] = b.data[at]!;
  for (let j = 0; j < b.columns; j++) {
    for (let i = 0; i < n; i++) {
      let value = x[i * b.columns + j]!;
      for (let k = 0; k < i; k++) value -= l.data[i * n + k]! * x[k * b.columns + j]!;
      x[i * b.columns + j] = value / l.data[i * n + i]!;
    }
  }
  return result;
}

/** L^-T b by backward substitution. */
export function solveLowerTransposed(l: Matrix, b: Matrix, into?: Matrix): Matrix {
  const n = l.rows;
  const result: Matrix = into ?? zeros(b.rows, b.columns);
  const x = result.data;
  for (let at = 0; at < x.length; at++) x[at] = b.data[at]!;
  for (let j = 0; j < b.columns; j++) {
    for (let i = n - 1; i >= 0; i--) {
      let value = x[i * b.columns + j]!;
      for (let k = i + 1; k < n; k++) value -= l.data[k * n + i]! * x[k * b.columns + j]!;
      x[i * b.columns + j] = value / l.data[i * n + i]!;
    }
  }
  return result;
}

/**
 * A basis (as columns) of the null space of a matrix of small whole numbers, by Gauss-Jordan elimination with full row
 * pivoting. Entries this small and well scaled make the rank decision safe, whatever the part values are.
 */
export function nullSpaceOfWholeNumbers(a: Matrix): Matrix {
  const { rows, columns } = a;
  const m = a.data.slice();
  const pivotColumns: number[] = [];
  let row = 0;
  for (let column = 0; column < columns && row < rows; column++) {
    let best = row;
    for (let i = row + 1; i < rows; i++) {
      if (Math.abs(m[i * columns + column]!) > Math.abs(m[best * columns + column]!)) best = i;
    }
    if (Math.abs(m[best * columns + column]!) < 1e-9) continue;
    for (let j = 0; j < columns; j++) {
      const held = m[row * columns + j]!;
      m[row * columns + j] = m[best * columns + j]!;
      m[best * columns + j] = held;
    }
    const pivot = m[row * columns + column]!;
    for (let j = 0; j < columns; j++) m[row * columns + j]! /= pivot;
    for (let i = 0; i < rows; i++) {
      const factor = m[i * columns + column]!;
      if (i === row || factor === 0) continue;
      for (let j = 0; j < columns; j++) m[i * columns + j]! -= factor * m[row * columns + j]!;
    }
    pivotColumns.push(column);
    row++;
  }
  const free = [...Array(columns).keys()].filter((column) => !pivotColumns.includes(column));
  const basis = zeros(columns, free.length);
  free.forEach((column, j) => {
    basis.data[column * free.length + j] = 1;
    pivotColumns.forEach((pivotColumn, i) => {
      basis.data[pivotColumn * free.length + j] = -m[i * columns + column]!;
    });
  });
  return basis;
}

/**
 * An orthogonal matrix whose first columns span the columns of a (independent), by Householder reflections; the other
 * columns span the complement.
 */
export function orthogonalCompletion(a: Matrix): Matrix {
  const n = a.rows;
  const work = a.data.slice();
  const q = identity(n);
  const v = new Float64Array(n);
  for (let j = 0; j < a.columns; j++) {
    let norm = 0;
    for (let i = j; i < n; i++) norm = Math.hypot(norm, work[i * a.columns + j]!);
    if (norm === 0) continue;
    v.fill(0);
    for (let i = j; i < n; i++) v[i] = work[i * a.columns + j]! / norm;
    v[j]! += v[j]! < 0 ? -1 : 1;
    let square = 0;
    for (let i = j; i < n; i++) square += v[i]! * v[i]!;
    const reflect = (data: Float64Array, columns: number, byRow: boolean): void => {
      for (let line = 0; line < (byRow ? n : columns); line++) {
        let dot = 0;
        for (let i = j; i < n; i++) dot += v[i]! * data[byRow ? line * columns + i : i * columns + line]!;
        dot *= 2 / square;
        for (let i = j; i < n; i++) data[byRow ? line * columns + i : i * columns + line]! -= dot * v[i]!;
      }
    };
    reflect(work, a.columns, false);
    reflect(q.data, n, true);
  }
  return q;
}

/**
 * Right singular vectors (columns of `v`, an orthogonal matrix) and singular values of a by one-sided Jacobi rotations
 * (Hestenes 1958), which keep small singular values relatively accurate when rows and columns are badly scaled (Demmel
 * and Veselic 1992): rate ratios of 1e14 between a slow and a fast capacitor are ordinary here. `av` is a v.
 */
export function singularVectors(a: Matrix): { readonly v: Matrix; readonly av: Matrix; readonly values: Float64Array } {
  const { rows, columns } = a;
  const w = a.data.slice();
  const v = identity(columns);
  for (let sweep = 0; sweep < 60; sweep++) {
    let rotated = false;
    for (let p = 0; p < columns - 1; p++) {
      for (let q = p + 1; q < columns; q++) {
        let alpha = 0;
        let beta = 0;
        let gamma = 0;
        for (let i = 0; i < rows; i++) {
          const x = w[i * columns + p]!;
          const y = w[i * columns + q]!;
          alpha += x * x;
          beta += y * y;
          gamma += x * y;
        }
        if (Math.abs(gamma) <= Number.EPSILON * Math.sqrt(alpha * beta) || gamma === 0) continue;
        rotated = true;
        const zeta = (beta - alpha) / (2 * gamma);
        const t = (zeta < 0 ? -1 : 1) / (Math.abs(zeta) + Math.hypot(1, zeta));
        const cosine = 1 / Math.hypot(1, t);
        const sine = cosine * t;
        rotateColumns(w, rows, columns, p, q, cosine, sine);
        rotateColumns(v.data, columns, columns, p, q, cosine, sine);
      }
    }
    if (!rotated) break;
  }
  const values = new Float64Array(columns);
  for (let j = 0; j < columns; j++) {
    let square = 0;
    for (let i = 0; i < rows; i++) square += w[i * columns + j]! * w[i * columns + j]!;
    values[j] = Math.sqrt(square);
  }
  return { v, av: { rows, columns, data: w }, values };
}

function rotateColumns(
  data: Float64Array,
  rows: number,
  columns: number,
  p: number,
  q: number,
  cosine: number,
  sine: number,
): void {
  for (let i = 0; i < rows; i++) {
    const x = data[i * columns + p]!;
    const y = data[i * columns + q]!;
    data[i * columns + p] = cosine * x - sine * y;
    data[i * columns + q] = sine * x + cosine * y;
  }
}
