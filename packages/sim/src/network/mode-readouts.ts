import type { Matrix } from '../core/dense.ts';
import type { NumberMemory } from '../core/number-memory.ts';
import type { Bearing } from './bearing.ts';
import type { Network, OwnLaw } from './element.ts';
import type { Form } from './form.ts';
import type { Mode, Readout } from './mode.ts';
import { Readouts } from './readouts.ts';
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

/** A readout that is being worked out. */
type Open = { -readonly [K in keyof Readout]: Readout[K] };

/** All readouts of a mode; each is worked out when it is first asked for. */
export class ModeReadouts {
  readonly nodes: Readouts<Readout>;
  readonly branchCurrents: Readouts<Readout>;
  readonly capacitorCurrents: Readouts<Readout>;
  readonly capacitorVoltages: Readouts<Readout>;
  private readonly all: Readouts<readonly Open[]>;
  private readonly tree: Tree;
  private readonly n: number;
  private readonly nU: number;
  private readonly width: number;
  /** Rows on w that are being worked with. */
  private readonly row: Float64Array;
  private readonly other: Float64Array;
  private readonly memory: NumberMemory;
  /** Of all readouts that no slope of an input plays a part in. */
  private readonly noSlopes: Float64Array;
  /** What flows out of each node, `flows` entries each: state, input, inputSlope and scale of a readout, in turn. */
  private outflow: Float64Array | undefined;
  private readonly flows: number;

  /**
   * @param offsets p of each component as a row on w, as in `Reduced`.
   * @param toState the independent capacitor voltages from the modal state.
   */
  constructor(
    private readonly network: Network,
    form: Form,
    private readonly offsets: Float64Array,
    private readonly motion: Motion,
    private readonly toState: Matrix,
    private laws: readonly OwnLaw[],
    private readonly controlled?: Controlled,
  ) {
    const { tree, drops, capacitances, memory } = form;
    this.tree = tree;
    this.width = tree.width;
    this.n = tree.states.length;
    this.nU = tree.width - this.n;
    this.row = memory.row(this.width);
    this.other = memory.row(this.width);
    this.memory = memory;
    this.noSlopes = memory.row(this.nU);
    this.flows = this.n + 2 * this.nU + 1;
    this.nodes = new Readouts(network.nodeCount, (node, into) => this.readout(this.nodeRow(node, this.row), into));
    this.capacitorVoltages = new Readouts(drops.length, (index, into) => this.readout(drops[index]!, into));
    this.capacitorCurrents = new Readouts(drops.length, (index, into) =>
      this.rateOfChange(drops[index]!, capacitances[index]!, into),
    );
    this.all = new Readouts(1, (_, into) => this.allCurrents(into));
    // The current of a source without resistance is what all others leave; any other stands for itself.
    this.branchCurrents = new Readouts(network.branches.length, (index, into) =>
      isIdealSource(this.laws[index]!) ? this.all.at(0)[index]! : this.ownCurrent(index, into),
    );
  }

  /**
   * Takes up other laws of the same kinds, and whatever else has changed of what it was made with.
   *
   * @param changed what that has a part in; everything, if left out.
   */
  renew(laws: readonly OwnLaw[], changed?: Pick<Bearing, 'nodes' | 'currents'>): void {
    this.laws = laws;
    this.nodes.forget(changed?.nodes);
    this.branchCurrents.forget(changed?.currents);
    this.capacitorCurrents.forget();
    this.capacitorVoltages.forget();
    this.all.forget();
  }

  private nodeRow(node: number, row: Float64Array): Float64Array {
    const { width, offsets } = this;
    const { component, potential } = this.tree;
    const own = component[node]! * width;
    for (let j = 0; j < width; j++) row[j] = potential[node * width + j]! + offsets[own + j]!;
    return row;
  }

  /** Turns a row on w = [x; inputs; 1] into a readout of the modal state. */
  private readout(row: Float64Array, into: Open = this.zero()): Open {
    const { n, nU } = this;
    const { state, input, inputSlope } = into;
    const { data } = this.toState;
    for (let k = 0; k < n; k++) state[k] = 0;
    let scale = 0;
    for (let i = 0; i < n; i++) {
      scale += Math.abs(row[i]!);
      if (row[i] === 0) continue;
      for (let k = 0; k < n; k++) state[k]! += row[i]! * data[i * n + k]!;
    }
    if (this.controlled) {
      let parts = 0;
      for (let k = 0; k < n; k++) parts += Math.abs(state[k]!) * this.controlled.reach[k]!;
      scale = Math.max(scale, parts);
    }
    for (let j = 0; j < nU; j++) {
      input[j] = row[n + j]!;
      inputSlope[j] = 0;
      scale += Math.abs(input[j]!);
    }
    into.scale = scale;
    return into;
  }

  /** capacitance times the time derivative of a row on w. */
  private rateOfChange(row: Float64Array, capacitance: number, into = this.zero(true)): Open {
    const { n, nU } = this;
    const { rates, equilibrium, drift, driveSlope } = this.motion;
    const result = this.readout(row, into);
    const { state, input, inputSlope } = result;
    result.scale = n === 0 ? 0 : capacitance * rates[n - 1]! * result.scale;
    for (let j = 0; j < nU; j++) {
      const own = input[j]!;
      input[j] = 0;
      for (let k = 0; k < n; k++) {
        const weight = capacitance * state[k]!;
        input[j]! += weight * (rates[k]! * equilibrium[k * nU + j]! + drift[k * nU + j]!);
        inputSlope[j]! += weight * driveSlope[k * nU + j]!;
      }
      inputSlope[j]! += capacitance * own;
    }
    for (let k = 0; k < n; k++) state[k] = -(capacitance * state[k]!) * rates[k]!;
    return result;
  }

  /**
   * Current of a resistance between two nodes. What cancels to rounding is zero, and the scale is that of what was
   * subtracted: a current that is small beside volts per ohm is known no better than they are.
   */
  private conducted(index: number, law: OwnLaw & { kind: 'thevenin' }, into?: Open): Open {
    const { n, row, other, width } = this;
    const { a, b } = this.network.branches[index]!;
    this.nodeRow(a, row);
    this.nodeRow(b, other);
    let scale = 0;
    for (let j = 0; j < width; j++) {
      const drop = (law.input >= 0 && j === n + law.input ? 1 : 0) + (j === width - 1 ? law.offset : 0);
      const size = Math.abs(row[j]!) + Math.abs(other[j]!) + Math.abs(drop);
      const difference = row[j]! - other[j]! - drop;
      scale += size / law.resistance;
      row[j] = Math.abs(difference) > 8 * Number.EPSILON * size ? difference / law.resistance : 0;
    }
    const result = this.readout(row, into);
    result.scale = Math.max(scale, this.controlled ? result.scale : 0);
    return result;
  }

  /** What a branch conducts by its own law; nothing for a source without resistance. */
  private ownCurrent(index: number, into?: Open): Open {
    const row = this.controlled?.rows.get(index);
    if (row) return this.readout(row, into);
    const law = this.laws[index]!;
    if (law.kind === 'thevenin' && !isIdealSource(law)) return this.conducted(index, law, into);
    const result = into === undefined ? this.zero(isIdealSource(law)) : cleared(into);
    if (law.kind !== 'current') return result;
    result.input[this.nU - 1] = law.current;
    result.scale = Math.abs(law.current);
    return result;
  }

  /** @param slopes whether slopes of inputs may play a part. */
  private zero(slopes = false): Open {
    const { n, nU, memory, noSlopes } = this;
    return { state: memory.row(n), input: memory.row(nU), inputSlope: slopes ? memory.row(nU) : noSlopes, scale: 0 };
  }

  /** Currents of all branches; those of ideal sources by Kirchhoff's current law on the far side of their tree edge. */
  private allCurrents(into: readonly Open[] | undefined): readonly Open[] {
    const { branches, nodeCount } = this.network;
    const { tree, capacitorCurrents } = this;
    const currents = branches.map((_, index) => this.ownCurrent(index, into?.[index]));
    if (this.outflow === undefined) this.outflow = this.memory.row(nodeCount * this.flows);
    else this.outflow.fill(0);
    branches.forEach(({ a, b }, index) => {
      this.addTo(a, currents[index]!, 1);
      this.addTo(b, currents[index]!, -1);
    });
    tree.capacitors.forEach(({ a, b }, index) => {
      if (tree.states.includes(index)) return;
      this.addTo(a, capacitorCurrents.at(index), 1);
      this.addTo(b, capacitorCurrents.at(index), -1);
    });
    for (let i = tree.visited.length - 1; i >= 0; i--) {
      const node = tree.visited[i]!;
      const parent = tree.parent[node]!;
      if (parent < 0) continue;
      const index = tree.parentBranch[node]!;
      if (index >= 0) this.takeOver(currents[index]!, node, branches[index]!.a === node ? -1 : 1);
      this.passOn(node, parent);
    }
    return currents;
  }

  /** Adds a current to what flows out of a node. */
  private addTo(node: number, { state, input, inputSlope, scale }: Readout, sign: number): void {
    const { n, nU, flows } = this;
    const outflow = this.outflow!;
    let at = node * flows;
    for (let k = 0; k < n; k++) outflow[at++]! += sign * state[k]!;
    for (let j = 0; j < nU; j++) outflow[at++]! += sign * input[j]!;
    for (let j = 0; j < nU; j++) outflow[at++]! += sign * inputSlope[j]!;
    outflow[at]! += scale;
  }

  /** Adds what flows out of a node to what flows out of another one. */
  private passOn(node: number, parent: number): void {
    const { flows } = this;
    const outflow = this.outflow!;
    for (let i = 0; i < flows; i++) outflow[parent * flows + i]! += outflow[node * flows + i]!;
  }

  /** Makes a current what flows out of a node. */
  private takeOver(into: Open, node: number, sign: number): void {
    const { n, nU, flows } = this;
    const outflow = this.outflow!;
    let at = node * flows;
    for (let k = 0; k < n; k++) into.state[k] = sign * outflow[at++]!;
    for (let j = 0; j < nU; j++) into.input[j] = sign * outflow[at++]!;
    for (let j = 0; j < nU; j++) into.inputSlope[j] = sign * outflow[at++]!;
    into.scale = outflow[at]!;
  }
}

/** By hand: filling short arrays takes longer. */
function cleared(readout: Open): Open {
  const { state, input, inputSlope } = readout;
  for (let k = 0; k < state.length; k++) state[k] = 0;
  for (let j = 0; j < input.length; j++) {
    input[j] = 0;
    inputSlope[j] = 0;
  }
  readout.scale = 0;
  return readout;
}
