import type { Matrix } from '../core/dense.ts';
import type { Network, OwnLaw } from './element.ts';
import type { Form } from './form.ts';
import type { Mode, Readout } from './mode.ts';
import { Readouts } from './readouts.ts';
import type { Reduced } from './reduce.ts';
import { isIdealSource, type Tree } from './tree.ts';

/** How the modal state of a mode moves, see `Mode`. */
export type Motion = Pick<Mode, 'rates' | 'equilibrium' | 'drift' | 'driveSlope'>;

/** What is different in a mode in which branches control each other. */
interface Controlled {
  /** Currents of branches as rows on w (A). */
  readonly rows: ReadonlyMap<number, Float64Array>;
  /** How large each part of the modal state can be per volt of state: such parts may cancel. */
  readonly reach: Float64Array;
}

/** All readouts of a mode; each is worked out when it is first asked for. */
export class ModeReadouts {
  readonly nodes: Readouts<Readout>;
  readonly branchCurrents: Readouts<Readout>;
  readonly capacitorCurrents: Readouts<Readout>;
  readonly capacitorVoltages: Readouts<Readout>;
  private readonly tree: Tree;
  private readonly n: number;
  private readonly nU: number;
  private readonly width: number;

  /** @param toState the independent capacitor voltages from the modal state. */
  constructor(
    private readonly network: Network,
    private readonly laws: readonly OwnLaw[],
    { tree, drops }: Form,
    private readonly reduced: Reduced,
    private readonly motion: Motion,
    private readonly toState: Matrix,
    private readonly controlled?: Controlled,
  ) {
    this.tree = tree;
    this.width = tree.width;
    this.n = tree.states.length;
    this.nU = tree.width - this.n;
    this.nodes = new Readouts(network.nodeCount, (node) => this.readout(this.nodeRow(node)));
    this.capacitorVoltages = new Readouts(drops.length, (index) => this.readout(drops[index]!));
    this.capacitorCurrents = new Readouts(drops.length, (index) =>
      this.rateOfChange(drops[index]!, tree.capacitors[index]!.capacitance),
    );
    const all = new Readouts(1, () => this.allCurrents());
    // The current of a source without resistance is what all others leave; any other stands for itself.
    this.branchCurrents = new Readouts(network.branches.length, (index) =>
      isIdealSource(laws[index]!) ? all.at(0)[index]! : this.ownCurrent(index),
    );
  }

  private nodeRow(node: number): Float64Array {
    const row = new Float64Array(this.width);
    const component = this.tree.component[node]!;
    for (let j = 0; j < this.width; j++) {
      row[j] = this.tree.potential[node * this.width + j]! + this.reduced.offsets[component * this.width + j]!;
    }
    return row;
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
    if (this.controlled) {
      let parts = 0;
      for (let k = 0; k < n; k++) parts += Math.abs(state[k]!) * this.controlled.reach[k]!;
      scale = Math.max(scale, parts);
    }
    const input = row.slice(n, n + nU);
    for (let j = 0; j < nU; j++) scale += Math.abs(input[j]!);
    return { state, input, inputSlope: new Float64Array(nU), scale };
  }

  /** capacitance times the time derivative of a row on w. */
  private rateOfChange(row: Float64Array, capacitance: number): Readout {
    const { n, nU, motion: dynamics } = this;
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
  private conducted(a: Float64Array, b: Float64Array, law: OwnLaw & { kind: 'thevenin' }): Readout {
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
    const readout = this.readout(row);
    return { ...readout, scale: Math.max(scale, this.controlled ? readout.scale : 0) };
  }

  /** What a branch conducts by its own law; nothing for a source without resistance. */
  private ownCurrent(index: number): Readout {
    const row = this.controlled?.rows.get(index);
    if (row) return this.readout(row);
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
  private allCurrents(): Readout[] {
    const { branches, nodeCount } = this.network;
    const { tree, n, nU, capacitorCurrents } = this;
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
