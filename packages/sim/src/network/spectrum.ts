import {
  type Matrix,
  multiply,
  nullSpaceOfWholeNumbers,
  orthogonalCompletion,
  singularVectors,
  solveLower,
  transpose,
  zeros,
} from '../core/dense.ts';
import type { Network, OwnLaw } from './element.ts';
import { dropBetween } from './form.ts';
import type { Reduced } from './reduce.ts';
import { countIdle, type Tree } from './tree.ts';

/** The modal vectors (columns, orthonormal) and rates (1/s, ascending) of a mode. */
interface Spectrum {
  readonly vectors: Matrix;
  readonly rates: Float64Array;
}

/**
 * Modal vectors (columns, orthonormal) and rates of L^-1 K L^-T, from the factor F = sqrt(g) d L^-T of K rather than
 * from K, so that slow rates beside fast ones keep their digits.
 */
export function spectrum(lower: Matrix, conductors: Reduced['conductors'], idle: Matrix): Spectrum {
  const n = lower.rows;
  if (n === 0) return { vectors: idle, rates: new Float64Array(0) };
  if (n === 1) {
    const isIdle = idle.columns === 1;
    const vectors = zeros(1, 1);
    // A reflection turns the only direction round; either would do.
    vectors.data[0] = isIdle ? -1 : 1;
    const rates = new Float64Array(1);
    if (!isIdle) rates[0] = onlyRate(lower, conductors);
    return { vectors, rates };
  }
  const factorT = zeros(n, conductors.length);
  conductors.forEach(({ conductance, drop }, b) => {
    for (let i = 0; i < n; i++) {
      factorT.data[i * conductors.length + b] = Math.sqrt(conductance) * drop[i]!;
    }
  });
  const factor = transpose(solveLower(lower, factorT));
  const idleCount = idle.columns;
  const basis = orthogonalCompletion(multiply(transpose(lower), idle));
  const active = zeros(n, n - idleCount);
  for (let i = 0; i < n; i++) {
    for (let j = idleCount; j < n; j++) active.data[i * active.columns + j - idleCount] = basis.data[i * n + j]!;
  }
  const { v, values } = singularVectors(idleCount === 0 ? factor : multiply(factor, active));
  const turned = idleCount === 0 ? v : multiply(active, v);
  const order = [...values.keys()].sort((p, q) => values[p]! - values[q]!);
  const vectors = zeros(n, n);
  const rates = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < idleCount; k++) vectors.data[i * n + k] = basis.data[i * n + k]!;
    order.forEach((column, k) => {
      vectors.data[i * n + idleCount + k] = turned.data[i * turned.columns + column]!;
    });
  }
  order.forEach((column, k) => {
    rates[idleCount + k] = values[column]! * values[column]!;
  });
  return { vectors, rates };
}

/** The same with one state, in which nothing has to be turned. */
function onlyRate({ data }: Matrix, conductors: Reduced['conductors']): number {
  const root = data[0]!;
  let square = 0;
  for (let b = 0; b < conductors.length; b++) {
    const { conductance, drop } = conductors[b]!;
    const factor = (Math.sqrt(conductance) * drop[0]!) / root;
    square += factor * factor;
  }
  const value = Math.sqrt(square);
  return value * value;
}

/**
 * A basis (columns) of the capacitor voltages that drive no current through any resistance: with some potentials of the
 * components all drops are zero. All entries are whole numbers, so this is decided by the structure alone.
 */
export function idleVoltages(network: Network, laws: readonly OwnLaw[], tree: Tree): Matrix {
  const n = tree.states.length;
  if (countIdle(network, laws, tree) === 0) return zeros(n, 0);
  const { component, componentCount } = tree;
  const resistive = network.branches.filter((_, index) => {
    const law = laws[index]!;
    return law.kind === 'thevenin' && law.resistance > 0;
  });
  // Columns: the states, then the potentials of all components but ground's.
  const shape = zeros(resistive.length, n + componentCount - 1);
  resistive.forEach(({ a, b }, row) => {
    const at = row * shape.columns;
    shape.data.set(dropBetween(tree, a, b).subarray(0, n), at);
    if (component[a]! > 0) shape.data[at + n - 1 + component[a]!]! += 1;
    if (component[b]! > 0) shape.data[at + n - 1 + component[b]!]! -= 1;
  });
  const basis = nullSpaceOfWholeNumbers(shape);
  return { rows: n, columns: basis.columns, data: basis.data.slice(0, n * basis.columns) };
}

/**
 * A basis of the idle voltages of a network (columns) that begins with those of the same network with more resistances:
 * the second list, as far as it adds to the first. Both are of small whole numbers, so what is left of them is clear.
 */
export function joinedIdle(first: Matrix, all: Matrix): Matrix {
  const n = first.rows;
  const columns: Float64Array[] = [];
  const orthonormal: Float64Array[] = [];
  for (const [source, whole] of [
    [first, true],
    [all, false],
  ] as const) {
    for (let j = 0; j < source.columns; j++) {
      const column = Float64Array.from({ length: n }, (_, i) => source.data[i * source.columns + j]!);
      const left = column.slice();
      // Twice is enough (Kahan, in Parlett 1980).
      for (let round = 0; round < 2; round++) {
        for (const each of orthonormal) {
          const share = each.reduce((sum, value, i) => sum + value * left[i]!, 0);
          each.forEach((value, i) => (left[i]! -= share * value));
        }
      }
      const length = Math.hypot(...left);
      if (!whole && length < 1e-9) continue;
      columns.push(column);
      orthonormal.push(left.map((value) => value / length));
    }
  }
  const joined = zeros(n, columns.length);
  columns.forEach((column, j) => column.forEach((value, i) => (joined.data[i * columns.length + j] = value)));
  return joined;
}
