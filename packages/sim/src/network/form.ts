import { cholesky, type Matrix, solveLower, transpose, zeros } from '../core/dense.ts';
import type { Tree } from './tree.ts';

/** What all modes of one tree have in common: how its capacitors hold energy and charge, with w as in `Tree`. */
export interface Form {
  readonly tree: Tree;
  /** Voltage of each capacitor, as a row on w. */
  readonly drops: readonly Float64Array[];
  /** L of the capacitance matrix M = L L^T of the independent voltages, and L^T. */
  readonly lower: Matrix;
  readonly upper: Matrix;
  /** L^-1 times what the inputs couple in: columns are the inputs. */
  readonly coupled: Matrix;
  /** L^-1 times the charges that the capacitors bring along: columns are the capacitors. */
  readonly charge: Matrix;
}

/** Works out the form of a tree. */
export function formOf(tree: Tree): Form {
  const n = tree.states.length;
  const nU = tree.width - n;
  const drops = tree.capacitors.map(({ a, b }) => dropBetween(tree, a, b));
  const mass = zeros(n, n);
  const massInput = zeros(n, nU);
  const charge = zeros(n, drops.length);
  tree.capacitors.forEach(({ capacitance }, index) => {
    const drop = drops[index]!;
    for (let i = 0; i < n; i++) {
      charge.data[i * drops.length + index] = capacitance * drop[i]!;
      for (let j = 0; j < n; j++) mass.data[i * n + j]! += capacitance * drop[i]! * drop[j]!;
      for (let j = 0; j < nU; j++) massInput.data[i * nU + j]! += capacitance * drop[i]! * drop[n + j]!;
    }
  });
  const lower = cholesky(mass);
  return {
    tree,
    drops,
    lower,
    upper: transpose(lower),
    coupled: solveLower(lower, massInput),
    charge: solveLower(lower, charge),
  };
}

/** v(a) - v(b) as a row on w, without what the potentials of the components add. */
export function dropBetween({ width, potential }: Tree, a: number, b: number): Float64Array {
  const row = new Float64Array(width);
  for (let j = 0; j < width; j++) row[j] = potential[a * width + j]! - potential[b * width + j]!;
  return row;
}
