import { cholesky, type Matrix, matrixIn, solveLower, transpose } from '../core/dense.ts';
import type { NumberMemory } from '../core/number-memory.ts';
import { type Network, STRAY_CAPACITANCE } from './element.ts';
import type { Tree } from './tree.ts';

/** What all modes of one tree have in common: how its capacitors hold energy and charge, with w as in `Tree`. */
export class Form {
  /** Voltage of each capacitor, as a row on w. */
  readonly drops: readonly Float64Array[];
  /** Capacitance of each (F), those of the strays included. */
  readonly capacitances: Float64Array;
  /** L of the capacitance matrix M = L L^T of the independent voltages, and L^T. */
  readonly lower: Matrix;
  readonly upper: Matrix;
  /** L^-1 times what the inputs couple in: columns are the inputs. */
  readonly coupled: Matrix;
  /** L^-1 times the charges that the capacitors bring along: columns are the capacitors. */
  readonly charge: Matrix;
  private readonly mass: Matrix;
  private readonly massInput: Matrix;
  private readonly massCharge: Matrix;
  /** The network whose capacitances it has. */
  private network: Network | undefined;

  constructor(
    readonly tree: Tree,
    network: Network,
    /** Where it has its rows, and the modes of the tree theirs. */
    readonly memory: NumberMemory,
  ) {
    const { width, states, capacitors } = tree;
    const n = states.length;
    const nU = width - n;
    this.drops = capacitors.map(({ a, b }) => dropBetween(tree, a, b, memory.row(width)));
    this.capacitances = memory.row(capacitors.length);
    this.mass = matrixIn(memory, n, n);
    this.massInput = matrixIn(memory, n, nU);
    this.massCharge = matrixIn(memory, n, capacitors.length);
    this.lower = matrixIn(memory, n, n);
    this.upper = matrixIn(memory, n, n);
    this.coupled = matrixIn(memory, n, nU);
    this.charge = matrixIn(memory, n, capacitors.length);
    this.renew(network);
  }

  /** Takes up the capacitances of a network with the same tree, unless it has them. */
  renew(network: Network): void {
    if (network === this.network) return;
    this.network = network;
    const { mass, massInput, massCharge, drops, capacitances } = this;
    const n = mass.rows;
    const nU = massInput.columns;
    mass.data.fill(0);
    massInput.data.fill(0);
    for (let index = 0; index < drops.length; index++) {
      const capacitance = network.capacitors[index]?.capacitance ?? STRAY_CAPACITANCE;
      capacitances[index] = capacitance;
      const drop = drops[index]!;
      for (let i = 0; i < n; i++) {
        massCharge.data[i * drops.length + index] = capacitance * drop[i]!;
        for (let j = 0; j < n; j++) mass.data[i * n + j]! += capacitance * drop[i]! * drop[j]!;
        for (let j = 0; j < nU; j++) massInput.data[i * nU + j]! += capacitance * drop[i]! * drop[n + j]!;
      }
    }
    cholesky(mass, this.lower);
    transpose(this.lower, this.upper);
    solveLower(this.lower, massInput, this.coupled);
    solveLower(this.lower, massCharge, this.charge);
  }
}

/** v(a) - v(b) as a row on w, without what the potentials of the components add. */
export function dropBetween(
  { width, potential }: Tree,
  a: number,
  b: number,
  row: Float64Array = new Float64Array(width),
): Float64Array {
  for (let j = 0; j < width; j++) row[j] = potential[a * width + j]! - potential[b * width + j]!;
  return row;
}
