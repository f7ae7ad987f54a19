import { identity, type Matrix, multiply, zeros } from '../core/dense.ts';
import { realEigenbasis } from '../core/real-eigenbasis.ts';
import type { Untold } from './mode.ts';

/** diag(rates) + out in = basis diag(result) inverse: how modal parts decay once they feed back on each other. */
interface FeedbackSpectrum {
  readonly rates: Float64Array;
  /** Columns on the parts as they were without feedback, and the inverse. */
  readonly basis: Matrix;
  readonly inverse: Matrix;
}

const EPSILON = Number.EPSILON;
/** Share of a rate that may be rounding: times then keep nine digits beside limits that are grazed, and else all. */
const MOST_UNCERTAIN = 1e-10;

/**
 * The rates and modal parts of a mode with feedback, from those without. Parts that no control sees are driven alone: they
 * keep their rates, however much is fed into them, which is what makes chains of stages exact. The others, mostly one or
 * two, are a small matrix without symmetry. It must have real eigenvalues above zero.
 *
 * @param idle how many of the first parts drive nothing at all and keep their rate of zero.
 * @param out what each control feeds into the parts (columns), `into` what it sees of them (rows).
 */
export function feedbackSpectrum(
  own: Float64Array,
  idle: number,
  out: Matrix,
  into: Matrix,
): FeedbackSpectrum | Untold['reason'] {
  const n = own.length;
  const m = into.rows;
  const seen: number[] = [];
  const driven: number[] = [];
  for (let k = 0; k < n; k++) {
    let sees = false;
    for (let l = 0; l < m && k >= idle; l++) if (into.data[l * n + k] !== 0) sees = true;
    (sees ? seen : driven).push(k);
  }
  // What one part feeds into another through all controls.
  const feed = multiply(out, into).data;
  const s = seen.length;
  const core = zeros(s, s);
  seen.forEach((k, i) => {
    seen.forEach((l, j) => (core.data[i * s + j] = feed[k * n + l]! + (k === l ? own[k]! : 0)));
  });
  if (!core.data.every(Number.isFinite)) return 'grows';
  const turned = realEigenbasis(core);
  if (turned === undefined) return 'rings';
  const { values, vectors, inverse } = turned;
  for (let k = 0; k < s; k++) {
    // What rounding of the entries may change of the value.
    let unsure = 0;
    for (let i = 0; i < s; i++) {
      for (let j = 0; j < s; j++) {
        const size = Math.abs(feed[seen[i]! * n + seen[j]!]!) + (i === j ? own[seen[i]!]! : 0);
        unsure += Math.abs(inverse.data[k * s + i]! * vectors.data[j * s + k]!) * size;
      }
    }
    unsure *= 4 * EPSILON;
    if (values[k]! <= -unsure) return 'grows';
    if (!(unsure <= MOST_UNCERTAIN * values[k]!)) return 'alike';
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
  // What a part that drives alone brings about in those that it drives: they follow with its rate.
  for (const k of driven) {
    for (const [j, l] of seen.entries()) {
      let fed = 0;
      for (const [i, from] of seen.entries()) fed += feed[k * n + from]! * vectors.data[i * s + j]!;
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
