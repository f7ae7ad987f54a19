import { type Matrix, zeros } from './dense.ts';
import {
  addTwoPart,
  divideTwoPart,
  multiplyTwoPart,
  rootOfTwoPart,
  subtractTwoPart,
  type TwoPart,
} from './two-part.ts';

/** A = vectors diag(values) inverse, with real values, ascending; the columns of `vectors` have the largest entry 1. */
export interface RealEigenbasis {
  readonly values: Float64Array;
  readonly vectors: Matrix;
  readonly inverse: Matrix;
}

/** What two-part numbers leave of rounding (a share), with room for the steps that it adds up over. */
const ROUNDING = 2 ** -96;
/** Steps that one eigenvalue may take; a real one takes about three. */
const MOST_STEPS = 100;

type Rows = TwoPart[][];

const ZERO: TwoPart = { high: 0, low: 0 };
const ONE: TwoPart = { high: 1, low: 0 };

/**
 * All eigenvalues and eigenvectors of a real matrix of order n without symmetry, where all of them are real; undefined where some
 * come in complex pairs. Worked out in two-part numbers by the QR algorithm with real shifts (Francis 1961; Golub and Van
 * Loan, "Matrix Computations", chapter 7), so that an eigenvalue 1e14 times smaller than the largest still has all digits
 * of a double. Values that coincide without having vectors of their own give vectors that are nearly the same: `inverse`
 * has huge entries then.
 */
export function realEigenbasis(n: number, entry: (i: number, j: number) => TwoPart): RealEigenbasis | undefined {
  const t = rowsOf(n, entry);
  const q = rowsOf(n, (i, j) => (i === j ? ONE : ZERO));
  toHessenberg(t, q);
  if (!toTriangle(t, q)) return undefined;
  const order = [...Array(n).keys()].sort((p, r) => t[p]![p]!.high - t[r]![r]!.high);
  const triangle = vectorsOfTriangle(t);
  const vectors = rowsOf(n, (i, k) => {
    let sum = ZERO;
    for (let j = 0; j <= order[k]!; j++) sum = addTwoPart(sum, multiplyTwoPart(q[i]![j]!, triangle[j]![order[k]!]!));
    return sum;
  });
  for (let k = 0; k < n; k++) {
    let largest = ZERO;
    for (let i = 0; i < n; i++) if (size(vectors[i]![k]!) > size(largest)) largest = vectors[i]![k]!;
    for (let i = 0; i < n; i++) vectors[i]![k] = divideTwoPart(vectors[i]![k]!, largest);
  }
  const inverse = inverseOf(vectors);
  return {
    values: Float64Array.from(order, (k) => t[k]![k]!.high),
    vectors: rounded(vectors),
    inverse: rounded(inverse),
  };
}

function rowsOf(n: number, entry: (i: number, j: number) => TwoPart): Rows {
  return Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_column, j) => entry(i, j)));
}

function rounded(rows: Rows): Matrix {
  const n = rows.length;
  const result = zeros(n, n);
  rows.forEach((row, i) => row.forEach(({ high }, j) => (result.data[i * n + j] = high)));
  return result;
}

function size({ high }: TwoPart): number {
  return Math.abs(high);
}

/** Cosine and sine of the rotation that takes (x, y) to (length, 0). */
function rotationOf(x: TwoPart, y: TwoPart): readonly [TwoPart, TwoPart] {
  if (y.high === 0) return [ONE, ZERO];
  // By the larger of the two, so that no square is lost.
  const larger = size(x) > size(y) ? x : y;
  const [p, r] = [divideTwoPart(x, larger), divideTwoPart(y, larger)];
  const length = rootOfTwoPart(addTwoPart(multiplyTwoPart(p, p), multiplyTwoPart(r, r)));
  return [divideTwoPart(p, length), divideTwoPart(r, length)];
}

function turnRows(rows: Rows, i: number, cosine: TwoPart, sine: TwoPart, from: number): void {
  const [upper, lower] = [rows[i]!, rows[i + 1]!];
  for (let j = from; j < upper.length; j++) {
    const [x, y] = [upper[j]!, lower[j]!];
    upper[j] = addTwoPart(multiplyTwoPart(cosine, x), multiplyTwoPart(sine, y));
    lower[j] = subtractTwoPart(multiplyTwoPart(cosine, y), multiplyTwoPart(sine, x));
  }
}

function turnColumns(rows: Rows, i: number, cosine: TwoPart, sine: TwoPart): void {
  for (const row of rows) {
    const [x, y] = [row[i]!, row[i + 1]!];
    row[i] = addTwoPart(multiplyTwoPart(cosine, x), multiplyTwoPart(sine, y));
    row[i + 1] = subtractTwoPart(multiplyTwoPart(cosine, y), multiplyTwoPart(sine, x));
  }
}

/** Turns t into a matrix that is zero below its first subdiagonal, and q along with it: q t q^T stays. */
function toHessenberg(t: Rows, q: Rows): void {
  const n = t.length;
  for (let column = 0; column < n - 2; column++) {
    for (let row = n - 1; row > column + 1; row--) {
      if (t[row]![column]!.high === 0) continue;
      const [cosine, sine] = rotationOf(t[row - 1]![column]!, t[row]![column]!);
      turnRows(t, row - 1, cosine, sine, 0);
      turnColumns(t, row - 1, cosine, sine);
      turnColumns(q, row - 1, cosine, sine);
      t[row]![column] = ZERO;
    }
  }
}

/** Takes the subdiagonal of t to zero; false where it cannot be, since eigenvalues are complex. */
function toTriangle(t: Rows, q: Rows): boolean {
  let last = t.length - 1;
  let steps = 0;
  while (last > 0) {
    let first = last;
    while (first > 0 && !negligible(t, first)) first--;
    if (first > 0) t[first]![first - 1] = ZERO;
    if (first === last) {
      last--;
      steps = 0;
      continue;
    }
    const shift = shiftOf(t, last);
    if (shift === undefined && first === last - 1) return false;
    if (++steps > MOST_STEPS) return false;
    // Where the last two are complex for the moment, or nothing moves, any other shift breaks the symmetry.
    const tried = shift !== undefined && steps % 11 !== 0 ? shift : addTwoPart(t[last]![last]!, t[last]![last - 1]!);
    step(t, q, first, last, tried);
  }
  return true;
}

function negligible(t: Rows, row: number): boolean {
  return size(t[row]![row - 1]!) <= ROUNDING * (size(t[row]![row]!) + size(t[row - 1]![row - 1]!));
}

/** The eigenvalue of the last two rows that is nearer to the last entry; undefined where they are complex. */
function shiftOf(t: Rows, last: number): TwoPart | undefined {
  const [a, b] = [t[last - 1]![last - 1]!, t[last - 1]![last]!];
  const [c, d] = [t[last]![last - 1]!, t[last]![last]!];
  const half = multiplyTwoPart({ high: 0.5, low: 0 }, subtractTwoPart(a, d));
  const product = multiplyTwoPart(b, c);
  const square = addTwoPart(multiplyTwoPart(half, half), product);
  // A double eigenvalue has a discriminant of nothing but rounding.
  if (square.high < -ROUNDING * (half.high * half.high + size(product))) return undefined;
  const root = square.high <= 0 ? ZERO : rootOfTwoPart(square);
  const reach = half.high < 0 ? subtractTwoPart(half, root) : addTwoPart(half, root);
  return reach.high === 0 ? d : subtractTwoPart(d, divideTwoPart(product, reach));
}

/** One QR step with a shift on the rows from `first` to `last`. */
function step(t: Rows, q: Rows, first: number, last: number, shift: TwoPart): void {
  for (let i = first; i <= last; i++) t[i]![i] = subtractTwoPart(t[i]![i]!, shift);
  const turns: (readonly [TwoPart, TwoPart])[] = [];
  for (let i = first; i < last; i++) {
    const turn = rotationOf(t[i]![i]!, t[i + 1]![i]!);
    turns.push(turn);
    turnRows(t, i, turn[0], turn[1], i);
    t[i + 1]![i] = ZERO;
  }
  turns.forEach(([cosine, sine], k) => {
    turnColumns(t.slice(0, Math.min(first + k + 2, last + 1)), first + k, cosine, sine);
    turnColumns(q, first + k, cosine, sine);
  });
  for (let i = first; i <= last; i++) t[i]![i] = addTwoPart(t[i]![i]!, shift);
}

/** Eigenvectors (columns) of an upper triangle. */
function vectorsOfTriangle(t: Rows): Rows {
  const n = t.length;
  let norm = 0;
  for (const row of t) for (const entry of row) norm = Math.max(norm, size(entry));
  const least = 16 * ROUNDING * norm;
  const y = rowsOf(n, (i, j) => (i === j ? ONE : ZERO));
  for (let k = 1; k < n; k++) {
    for (let i = k - 1; i >= 0; i--) {
      let sum = ZERO;
      for (let j = i + 1; j <= k; j++) sum = addTwoPart(sum, multiplyTwoPart(t[i]![j]!, y[j]![k]!));
      let apart = subtractTwoPart(t[k]![k]!, t[i]![i]!);
      if (size(apart) < least) apart = { high: least, low: 0 };
      // What is left of rounding between values that coincide is no coupling.
      y[i]![k] = size(sum) <= least ? ZERO : divideTwoPart(sum, apart);
    }
  }
  return y;
}

/** The inverse by elimination with row pivoting; not finite for a singular matrix. */
function inverseOf(a: Rows): Rows {
  const n = a.length;
  const m = a.map((row, i) => [...row, ...row.map((_, j) => (i === j ? ONE : ZERO))]);
  for (let column = 0; column < n; column++) {
    let best = column;
    for (let i = column + 1; i < n; i++) if (size(m[i]![column]!) > size(m[best]![column]!)) best = i;
    [m[column], m[best]] = [m[best]!, m[column]!];
    const pivot = m[column]![column]!;
    m[column] = m[column]!.map((entry) => divideTwoPart(entry, pivot));
    for (let i = 0; i < n; i++) {
      const factor = m[i]![column]!;
      if (i === column || factor.high === 0) continue;
      m[i] = m[i]!.map((entry, j) => subtractTwoPart(entry, multiplyTwoPart(factor, m[column]![j]!)));
    }
  }
  return m.map((row) => row.slice(n));
}
