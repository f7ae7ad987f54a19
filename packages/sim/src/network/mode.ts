import {
  cholesky,
  type Matrix,
  multiply,
  nullSpaceOfWholeNumbers,
  orthogonalCompletion,
  singularVectors,
  solveLower,
  solveLowerTransposed,
  transpose,
  zeros,
} from '../core/dense.ts';
import type { Law, Network } from './element.ts';
import { Readouts } from './readouts.ts';
import { eliminateComponents, type Reduced } from './reduce.ts';
import { restVoltages } from './rest.ts';
import { buildTree, countIdle, isIdealSource, type Short, type Tree } from './tree.ts';

/**
 * A linear readout: y = state . z + input . u + inputSlope . u', where z is the modal state, u = [inputs; 1] and u' its
 * time derivative. `scale` bounds |y| per volt of state and input, for judging what is rounding.
 */
export interface Readout {
  readonly state: Float64Array;
  readonly input: Float64Array;
  readonly inputSlope: Float64Array;
  readonly scale: number;
}

/**
 * The exact equations of one mode. With the modal state z (square root of joule),
 *
 *     z_k' = -rates[k] z_k + drive_k . u + driveSlope_k . u'
 *
 * Rates ascend; a zero rate is found from the structure, never from a small number.
 */
export interface Mode {
  readonly stateCount: number;
  readonly rates: Float64Array;
  /** Rows of `inputCount + 1`: where each decaying part tends to; zero in rows of zero rate. */
  readonly equilibrium: Float64Array;
  /** Rows of `inputCount + 1`: drift of the parts of zero rate; zero in the others. */
  readonly drift: Float64Array;
  readonly driveSlope: Float64Array;
  /** z from all capacitor voltages (the network's, then the held nets'): rows of `capacitorCount`. */
  readonly project: Float64Array;
  readonly projectInput: Float64Array;
  readonly capacitorCount: number;
  /** Nodes whose last voltage a stray capacitor holds. */
  readonly held: readonly number[];
  readonly nodes: Readouts<Readout>;
  readonly branchCurrents: Readouts<Readout>;
  readonly capacitorCurrents: Readouts<Readout>;
  readonly capacitorVoltages: Readouts<Readout>;
}

/** Compiles the mode that the given laws make of a network, or names the sources that contradict each other. */
export function compileMode(network: Network, laws: readonly Law[]): Mode | Short {
  const tree = buildTree(network, laws);
  if ('shortedParts' in tree) return tree;
  const reduced = eliminateComponents(network, laws, tree);
  return new ModeBuilder(network, laws, tree, reduced).build();
}

class ModeBuilder {
  private readonly n: number;
  private readonly nU: number;
  private readonly width: number;
  /** x = toState z. */
  private toState: Matrix = zeros(0, 0);

  constructor(
    private readonly network: Network,
    private readonly laws: readonly Law[],
    private readonly tree: Tree,
    private readonly reduced: Reduced,
  ) {
    this.n = tree.states.length;
    this.nU = network.inputCount + 1;
    this.width = tree.width;
  }

  build(): Mode {
    const { n, nU, tree, reduced } = this;
    const drops = tree.capacitors.map((capacitor) => this.difference(capacitor.a, capacitor.b));
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
    const { vectors, rates } = this.spectrum(lower);
    this.toState = solveLowerTransposed(lower, vectors);
    const vectorsT = transpose(vectors);
    const force = zeros(n, 1);
    for (let i = 0; i < n; i++) force.data[i] = reduced.force[i]!;
    const modalForce = multiply(vectorsT, solveLower(lower, force));
    const idle = rates[0] === 0;
    const rest = restVoltages(this.network, this.laws, tree, !idle);
    const equilibrium = this.modalRest(rest, multiply(vectorsT, transpose(lower)));
    const drift = new Float64Array(n * nU);
    for (let k = 0; k < n; k++) {
      const row = k * nU;
      if (rates[k] === 0) {
        equilibrium.fill(0, row, row + nU);
        drift[row + nU - 1] = -modalForce.data[k]!;
      } else if (idle) equilibrium[row + nU - 1]! -= modalForce.data[k]! / rates[k]!;
    }
    const driveSlope = multiply(vectorsT, solveLower(lower, massInput)).data.map((value) => -value);
    const projectMatrix = multiply(vectorsT, solveLower(lower, charge));
    const dynamics: Dynamics = { rates, equilibrium, drift, driveSlope };
    const capacitorCurrents = new Readouts(drops.length, (index) =>
      this.rateOfChange(drops[index]!, tree.capacitors[index]!.capacitance, dynamics),
    );
    const allCurrents = new Readouts(1, () => this.branchCurrents(capacitorCurrents));
    return {
      stateCount: n,
      rates,
      equilibrium,
      drift,
      driveSlope,
      project: projectMatrix.data,
      // Charge goes to [states] against what the inputs already hold: x = M^-1 B^T C (v - b u).
      projectInput: multiply(vectorsT, solveLower(lower, massInput)).data.map((value) => -value),
      capacitorCount: tree.capacitors.length,
      held: tree.held,
      nodes: new Readouts(this.network.nodeCount, (node) => this.readout(this.nodeRow(node))),
      // The current of a source without resistance is what all others leave; any other stands for itself.
      branchCurrents: new Readouts(this.network.branches.length, (index) =>
        isIdealSource(this.laws[index]!) ? allCurrents.at(0)[index]! : this.ownCurrent(index),
      ),
      capacitorCurrents,
      capacitorVoltages: new Readouts(drops.length, (index) => this.readout(drops[index]!)),
    };
  }

  /** The modal state of capacitor voltages at rest, corrected once by what it leaves of them. */
  private modalRest(rest: Matrix, toModal: Matrix): Float64Array {
    const modal = multiply(toModal, rest);
    const left = multiply(this.toState, modal).data.map((value, index) => rest.data[index]! - value);
    const correction = multiply(toModal, { ...rest, data: left });
    return modal.data.map((value, index) => value + correction.data[index]!);
  }

  /** v(a) - v(b) on w, without what the components' own potentials add. */
  private difference(a: number, b: number): Float64Array {
    const row = new Float64Array(this.width);
    for (let j = 0; j < this.width; j++) {
      row[j] = this.tree.potential[a * this.width + j]! - this.tree.potential[b * this.width + j]!;
    }
    return row;
  }

  private nodeRow(node: number): Float64Array {
    const row = new Float64Array(this.width);
    const component = this.tree.component[node]!;
    for (let j = 0; j < this.width; j++) {
      row[j] = this.tree.potential[node * this.width + j]! + this.reduced.offsets[component * this.width + j]!;
    }
    return row;
  }

  /**
   * Modal vectors (columns, orthonormal) and rates of L^-1 K L^-T, from the factor F = sqrt(g) d L^-T of K rather than
   * from K, so that slow rates beside fast ones keep their digits.
   */
  private spectrum(lower: Matrix): { vectors: Matrix; rates: Float64Array } {
    const { n } = this;
    const conductors = this.reduced.conductors;
    const factorT = zeros(n, conductors.length);
    conductors.forEach(({ conductance, drop }, b) => {
      for (let i = 0; i < n; i++) {
        factorT.data[i * conductors.length + b] = Math.sqrt(conductance) * drop[i]!;
      }
    });
    const factor = transpose(solveLower(lower, factorT));
    const idle = this.idleVoltages();
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

  /**
   * A basis (columns) of the capacitor voltages that drive no current through any resistance: with some potentials of the
   * components all drops are zero. All entries are whole numbers, so this is decided by the structure alone.
   */
  private idleVoltages(): Matrix {
    const { n, network, laws, tree } = this;
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
      shape.data.set(this.difference(a, b).subarray(0, n), at);
      if (component[a]! > 0) shape.data[at + n - 1 + component[a]!]! += 1;
      if (component[b]! > 0) shape.data[at + n - 1 + component[b]!]! -= 1;
    });
    const basis = nullSpaceOfWholeNumbers(shape);
    return { rows: n, columns: basis.columns, data: basis.data.slice(0, n * basis.columns) };
  }

  /** Turns a row on w = [x; inputs; 1] into a readout of the modal state. */
  private readout(row: Float64Array): Readout {
    const { n, nU } = this;
    const state = new Float64Array(n);
    let scale = 0;
    for (let i = 0; i < n; i++) {
      scale += Math.abs(row[i]!);
      if (row[i] === 0) continue;
      for (let k = 0; k < n; k++) state[k]! += row[i]! * this.toState.data[i * n + k]!;
    }
    const input = row.slice(n, n + nU);
    for (let j = 0; j < nU; j++) scale += Math.abs(input[j]!);
    return { state, input, inputSlope: new Float64Array(nU), scale };
  }

  /** capacitance times the time derivative of a row on w. */
  private rateOfChange(row: Float64Array, capacitance: number, dynamics: Dynamics): Readout {
    const { n, nU } = this;
    const voltage = this.readout(row);
    const state = new Float64Array(n);
    const input = new Float64Array(nU);
    const inputSlope = new Float64Array(nU);
    const scale = n === 0 ? 0 : capacitance * dynamics.rates[n - 1]! * voltage.scale;
    for (let k = 0; k < n; k++) {
      const weight = capacitance * voltage.state[k]!;
      state[k] = -weight * dynamics.rates[k]!;
      for (let j = 0; j < nU; j++) {
        input[j]! += weight * (dynamics.rates[k]! * dynamics.equilibrium[k * nU + j]! + dynamics.drift[k * nU + j]!);
        inputSlope[j]! += weight * dynamics.driveSlope[k * nU + j]!;
      }
    }
    for (let j = 0; j < nU; j++) {
      inputSlope[j]! += capacitance * voltage.input[j]!;
    }
    return { state, input, inputSlope, scale };
  }

  /**
   * Current of a resistance between nodes given as rows on w. What cancels to rounding is zero, and the scale is that of
   * what was subtracted: a current that is small beside volts per ohm is known no better than they are.
   */
  private conducted(a: Float64Array, b: Float64Array, law: Law & { kind: 'thevenin' }): Readout {
    const { n } = this;
    const row = new Float64Array(this.width);
    let scale = 0;
    for (let j = 0; j < this.width; j++) {
      const drop = (law.input >= 0 && j === n + law.input ? 1 : 0) + (j === this.width - 1 ? law.offset : 0);
      const size = Math.abs(a[j]!) + Math.abs(b[j]!) + Math.abs(drop);
      const difference = a[j]! - b[j]! - drop;
      scale += size / law.resistance;
      if (Math.abs(difference) > 8 * Number.EPSILON * size) row[j] = difference / law.resistance;
    }
    return { ...this.readout(row), scale };
  }

  /** What a branch conducts by its own law; nothing for a source without resistance. */
  private ownCurrent(index: number): Readout {
    const law = this.laws[index]!;
    if (law.kind === 'current') {
      const readout = this.zero();
      readout.input[this.nU - 1] = law.current;
      return { ...readout, scale: Math.abs(law.current) };
    }
    if (law.kind === 'open' || isIdealSource(law)) return this.zero();
    const { a, b } = this.network.branches[index]!;
    return this.conducted(this.nodeRow(a), this.nodeRow(b), law);
  }

  private zero(): Readout {
    const { n, nU } = this;
    return {
      state: new Float64Array(n),
      input: new Float64Array(nU),
      inputSlope: new Float64Array(nU),
      scale: 0,
    };
  }

  /** Currents of all branches; those of ideal sources by Kirchhoff's current law on the far side of their tree edge. */
  private branchCurrents(capacitorCurrents: Readouts<Readout>): Readout[] {
    const { branches, nodeCount } = this.network;
    const { tree, n, nU } = this;
    const currents = branches.map((_, index) => this.ownCurrent(index));
    const outflow = Array.from({ length: nodeCount }, () => this.zero()) as {
      -readonly [K in keyof Readout]: Readout[K];
    }[];
    const add = (node: number, readout: Readout, sign: number): void => {
      const into = outflow[node]!;
      for (let k = 0; k < n; k++) into.state[k]! += sign * readout.state[k]!;
      for (let j = 0; j < nU; j++) {
        into.input[j]! += sign * readout.input[j]!;
        into.inputSlope[j]! += sign * readout.inputSlope[j]!;
      }
      into.scale += readout.scale;
    };
    branches.forEach((branch, index) => {
      add(branch.a, currents[index]!, 1);
      add(branch.b, currents[index]!, -1);
    });
    tree.capacitors.forEach((capacitor, index) => {
      if (tree.states.includes(index)) return;
      add(capacitor.a, capacitorCurrents.at(index), 1);
      add(capacitor.b, capacitorCurrents.at(index), -1);
    });
    for (let i = tree.visited.length - 1; i >= 0; i--) {
      const node = tree.visited[i]!;
      const parent = tree.parent[node]!;
      if (parent < 0) continue;
      const index = tree.parentBranch[node]!;
      if (index >= 0) {
        const sign = branches[index]!.a === node ? -1 : 1;
        const total = outflow[node]!;
        currents[index] = {
          state: total.state.map((value) => sign * value),
          input: total.input.map((value) => sign * value),
          inputSlope: total.inputSlope.map((value) => sign * value),
          scale: total.scale,
        };
      }
      add(parent, outflow[node]!, 1);
    }
    return currents;
  }
}

interface Dynamics {
  readonly rates: Float64Array;
  readonly equilibrium: Float64Array;
  readonly drift: Float64Array;
  readonly driveSlope: Float64Array;
}
