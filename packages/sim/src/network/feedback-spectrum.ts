import { identity, type Matrix, multiply, zeros } from '../core/dense.ts';
import { type RealEigenbasis, realEigenbasis } from '../core/real-eigenbasis.ts';
import { addTwoPart, multiplyExactly } from '../core/two-part.ts';
import type { Untold } from './mode.ts';

/** diag(rates) + out in = basis diag(result) inverse: how modal parts decay once they feed back on each other. */
interface FeedbackSpectrum {
  readonly rates: Float64Array;
  /** Columns on the parts as they were without feedback, and the inverse. */
  readonly basis: Matrix;
  readonly inverse: Matrix;
}

const EPSILON = Number.EPSILON;
/** Share of a rate that may be rounding: times then keep nine digits at least. */
const MOST_UNCERTAIN = 1e-10;
/** Units of rounding in a sum of a few products. */
const UNITS = 8;

/** A matrix of sums, and the size of what each entry is the sum of. */
export interface Summed {
  readonly value: Matrix;
  readonly size: Matrix;
}

/**
 * The rates and modal parts of a mode with feedback, from those without. Parts that no control sees are driven alone: they
 * keep their rates, however much is fed into them, which is what makes chains of stages exact. The others, mostly one or
 * two, are a small matrix without symmetry. It must have real eigenvalues; one below zero is a part that grows.
 *
 * @param idle how many of the first parts drive nothing at all and keep their rate of zero.
 * @param out what each control feeds into the parts (columns), `into` what it sees of them (rows).
 */
export function feedbackSpectrum(
  own: Float64Array,
  idle: number,
  out: Summed,
  into: Summed,
): FeedbackSpectrum | Untold['reason'] {
  const n = own.length;
  const m = into.value.rows;
  const seen: number[] = [];
  const driven: number[] = [];
  for (let k = 0; k < n; k++) {
    let sees = false;
    for (let l = 0; l < m && k >= idle; l++) if (into.value.data[l * n + k] !== 0) sees = true;
    (sees ? seen : driven).push(k);
  }
  if (!out.value.data.every(Number.isFinite) || !into.value.data.every(Number.isFinite)) return 'forks';
  const s = seen.length;
  const turned = realEigenbasis(s, (i, j) => {
    let entry = { high: i === j ? own[seen[i]!]! : 0, low: 0 };
    for (let l = 0; l < m; l++) {
      entry = addTwoPart(entry, multiplyExactly(out.value.data[seen[i]! * m + l]!, into.value.data[l * n + seen[j]!]!));
    }
    return entry;
  });
  if (turned === undefined) return 'rings';
  const { values, vectors, inverse } = turned;
  for (let k = 0; k < s; k++) {
    const unsure = uncertainty(k, turned, seen, own, out, into);
    if (!(unsure <= MOST_UNCERTAIN * Math.abs(values[k]!))) return 'alike';
  }

  const rates = own.slice();
  const basis = identity(n);
  const back = identity(n);
  seen.forEach((k, i) => {
    rates[k] = values[i]!;
    seen.forEach((l, j) => {
      basis.data[k * n + l] = vectors.data[i * s + j]!;
      back.data[k * n + l] = inverse.data[i * s + j]!;
    });
  });
  // What each control carries in the parts that drive, and what that brings about in those that they drive.
  const carried = multiply(columnsOf(into.value, seen), vectors);
  for (const k of driven) {
    for (const [j, l] of seen.entries()) {
      let fed = 0;
      for (let c = 0; c < m; c++) fed += out.value.data[k * m + c]! * carried.data[c * s + j]!;
      basis.data[k * n + l] = fed === 0 ? 0 : fed / (values[j]! - own[k]!);
    }
    for (const [j, l] of seen.entries()) {
      let brought = 0;
      for (let i = 0; i < s; i++) brought -= basis.data[k * n + seen[i]!]! * inverse.data[i * s + j]!;
      back.data[k * n + l] = brought;
    }
  }
  return inOrder(rates, basis, back);
}

function columnsOf({ rows, columns, data }: Matrix, chosen: readonly number[]): Matrix {
  const result = zeros(rows, chosen.length);
  for (let i = 0; i < rows; i++) {
    chosen.forEach((column, j) => (result.data[i * chosen.length + j] = data[i * columns + column]!));
  }
  return result;
}

/**
 * By how much rounding may change an eigenvalue (1/s): left vector times the change of the matrix times right vector, for
 * a diagonal, what is fed out and what is seen that each carry the rounding of what they are sums of. The matrix itself is
 * worked out from these without any.
 */
function uncertainty(
  k: number,
  { vectors, inverse }: RealEigenbasis,
  seen: readonly number[],
  own: Float64Array,
  out: Summed,
  into: Summed,
): number {
  const s = seen.length;
  const n = own.length;
  const m = into.value.rows;
  let total = 0;
  seen.forEach((part, i) => (total += Math.abs(inverse.data[k * s + i]! * vectors.data[i * s + k]!) * own[part]!));
  for (let l = 0; l < m; l++) {
    let [fed, fedSize, carried, carriedSize] = [0, 0, 0, 0];
    seen.forEach((part, i) => {
      fed += inverse.data[k * s + i]! * out.value.data[part * m + l]!;
      fedSize += Math.abs(inverse.data[k * s + i]!) * out.size.data[part * m + l]!;
      carried += into.value.data[l * n + part]! * vectors.data[i * s + k]!;
      carriedSize += into.size.data[l * n + part]! * Math.abs(vectors.data[i * s + k]!);
    });
    total += Math.abs(fed) * carriedSize + fedSize * (Math.abs(carried) + UNITS * EPSILON * carriedSize);
  }
  return UNITS * EPSILON * total;
}

/** The same with ascending rates; parts of equal rates stay in their order. */
function inOrder(rates: Float64Array, basis: Matrix, back: Matrix): FeedbackSpectrum {
  const n = rates.length;
  const order = [...rates.keys()].sort((p, q) => rates[p]! - rates[q]! || p - q);
  const turned = zeros(n, n);
  const inverse = zeros(n, n);
  order.forEach((from, k) => {
    for (let i = 0; i < n; i++) {
      turned.data[i * n + k] = basis.data[i * n + from]!;
      inverse.data[k * n + i] = back.data[from * n + i]!;
    }
  });
  return { rates: Float64Array.from(order, (k) => rates[k]!), basis: turned, inverse };
}
