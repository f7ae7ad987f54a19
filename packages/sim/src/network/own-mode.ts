import { multiply, type Matrix, matrixIn, solveLower, solveLowerTransposed, transpose } from '../core/dense.ts';
import { type Bearing, bearingOf, lookAlike, nodesOf, sameNumbers } from './bearing.ts';
import type { Network, OwnLaw } from './element.ts';
import type { Form } from './form.ts';
import type { Mode, Readout } from './mode.ts';
import { ModeReadouts } from './mode-readouts.ts';
import type { Readouts } from './readouts.ts';
import type { Elimination } from './reduce.ts';
import { modalRest, Rest, type RestMemory, restMemory, type Still } from './rest.ts';
import { idleVoltages, spectrum } from './spectrum.ts';
import { isIdealSource } from './tree.ts';

/**
 * A mode of laws that ask nothing of other branches. It takes up other numbers - laws of the same kinds, other
 * capacitances - in the same memory: its structure, which is most of the work, stays.
 */
export class OwnMode implements Mode {
  readonly stateCount: number;
  readonly rates: Float64Array;
  readonly equilibrium: Float64Array;
  readonly drift: Float64Array;
  readonly driveSlope: Float64Array;
  readonly project: Float64Array;
  readonly projectInput: Float64Array;
  readonly capacitorCount: number;
  readonly held: readonly number[];
  readonly nodes: Readouts<Readout>;
  readonly branchCurrents: Readouts<Readout>;
  readonly capacitorCurrents: Readouts<Readout>;
  readonly capacitorVoltages: Readouts<Readout>;
  /** p of each component as a row on w, as in `Reduced`. */
  private readonly offsets: Float64Array;
  private readonly rest: Rest;
  private readonly idle: Matrix;
  private readonly readouts: ModeReadouts;
  private readonly vectorsT: Matrix;
  private readonly toState: Matrix;
  private readonly toModal: Matrix;
  private readonly charge: Matrix;
  private readonly coupled: Matrix;
  private readonly force: Matrix;
  private readonly scaledForce: Matrix;
  private readonly modalForce: Matrix;
  private readonly memory: RestMemory;

  private bearing: Bearing | undefined;
  /** Which other modes have the same structure as far as it bears on the states; of those that something still has. */
  private readonly kin = new WeakMap<OwnMode, boolean>();

  constructor(
    private readonly network: Network,
    still: Still,
    readonly form: Form,
    private laws: readonly OwnLaw[],
    private readonly elimination: Elimination,
  ) {
    const { tree, memory } = form;
    const n = tree.states.length;
    const nU = tree.width - n;
    this.stateCount = n;
    this.capacitorCount = tree.capacitors.length;
    this.held = tree.held;
    this.offsets = memory.row(tree.componentCount * tree.width);
    this.idle = idleVoltages(network, laws, tree);
    this.rest = new Rest(still, laws, tree, this.idle.columns === 0, memory);
    this.rates = memory.row(n);
    this.memory = restMemory(n, nU, memory);
    this.equilibrium = this.memory.modal.data;
    this.drift = memory.row(n * nU);
    this.vectorsT = matrixIn(memory, n, n);
    this.toState = matrixIn(memory, n, n);
    this.toModal = matrixIn(memory, n, n);
    this.charge = matrixIn(memory, n, this.capacitorCount);
    this.coupled = matrixIn(memory, n, nU);
    this.force = matrixIn(memory, n, 1);
    this.scaledForce = matrixIn(memory, n, 1);
    this.modalForce = matrixIn(memory, n, 1);
    this.project = this.charge.data;
    // Charge goes to [states] against what the inputs already hold: x = M^-1 B^T C (v - b u), and so it moves with them.
    this.projectInput = this.coupled.data;
    this.driveSlope = this.projectInput;
    this.readouts = new ModeReadouts(network, form, this.offsets, this, this.toState, laws);
    this.nodes = this.readouts.nodes;
    this.branchCurrents = this.readouts.branchCurrents;
    this.capacitorCurrents = this.readouts.capacitorCurrents;
    this.capacitorVoltages = this.readouts.capacitorVoltages;
    this.workOut();
  }

  /** Whether laws differ from its own in resistances, in currents, and in the voltages of sources with a resistance alone. */
  fits(laws: readonly OwnLaw[]): boolean {
    for (let index = 0; index < laws.length; index++) {
      const own = this.laws[index]!;
      const other = laws[index]!;
      if (own === other) continue;
      if (own.kind !== other.kind) return false;
      if (own.kind !== 'thevenin' || other.kind !== 'thevenin') continue;
      if (own.input !== other.input || isIdealSource(own) !== isIdealSource(other)) return false;
      if (isIdealSource(own) && own.offset !== other.offset) return false;
    }
    return true;
  }

  /**
   * Takes up laws that fit it; its form has taken up the capacitances.
   *
   * @param others modes that have been worked out since: what one of them has in common with this one is taken over.
   * @returns whether it had to be worked out itself.
   */
  renew(laws: readonly OwnLaw[], others: readonly OwnMode[]): boolean {
    const before = this.laws;
    this.laws = laws;
    this.bearing ??= bearingOf(this.network, laws, this.form.tree);
    const restStays = sameAt(this.bearing.others, before, laws);
    const alike = restStays ? others.find((other) => this.movesLike(other)) : undefined;
    if (alike) this.takeOver(alike);
    else this.workOut(restStays ? this.bearing : undefined);
    this.readouts.renew(laws, restStays ? this.bearing : undefined);
    return !alike;
  }

  /** Whether the same laws bear on the same states in another mode: all that they follow from is the same then, bit for bit. */
  private movesLike(other: OwnMode): boolean {
    let isKin = this.kin.get(other);
    if (isKin === undefined) {
      isKin = this.isKinOf(other);
      this.kin.set(other, isKin);
    }
    return isKin && sameAt(this.bearing!.branches, other.laws, this.laws);
  }

  /** What of this the structure of both decides. */
  private isKinOf({ form, rest, idle, bearing }: OwnMode): boolean {
    // With idle voltages constant currents and the vectors may hang on branches further away.
    if (idle.columns > 0 || this.idle.columns > 0) return false;
    const [own, its] = [this.rest.resistive, rest.resistive];
    if ('shortedParts' in own || 'shortedParts' in its) return false;
    const { tree } = this.form;
    if (!sameNumbers(this.bearing!.branches, bearing!.branches) || !sameNumbers(tree.held, form.tree.held))
      return false;
    const nodes = nodesOf(this.network, this.bearing!, tree);
    return lookAlike(nodes, tree, form.tree) && lookAlike(nodes, own, its);
  }

  /** Takes over how the states of another mode move, and the potentials of the components that hang on them. */
  private takeOver(other: OwnMode): void {
    copy(other.rates, this.rates);
    copy(other.equilibrium, this.equilibrium);
    copy(other.drift, this.drift);
    copy(other.toState.data, this.toState.data);
    copy(other.project, this.project);
    copy(other.projectInput, this.projectInput);
    this.takeOffsets(other.offsets, other.bearing!.components);
  }

  /** Takes over the potentials of the components that hang on the states, which have these numbers there. */
  private takeOffsets(offsets: Float64Array, components: readonly number[]): void {
    const { width } = this.form.tree;
    const own = this.bearing!.components;
    for (let index = 0; index < own.length; index++) {
      const [to, from] = [own[index]! * width, components[index]! * width];
      for (let j = 0; j < width; j++) this.offsets[to + j] = offsets[from + j]!;
    }
  }

  /** @param bearing what to work out, where all else is what it was. */
  private workOut(bearing?: Bearing): void {
    const { laws, form, rates, equilibrium, drift, vectorsT, toState } = this;
    const { lower, upper } = form;
    const n = this.stateCount;
    const nU = form.tree.width - n;
    const { conductors, force, offsets } = this.elimination.run(form.tree, laws, [], bearing?.branches);
    if (bearing) this.takeOffsets(offsets, bearing.components);
    else for (let at = 0; at < this.offsets.length; at++) this.offsets[at] = offsets[at]!;
    const found = spectrum(lower, conductors, this.idle);
    for (let k = 0; k < n; k++) rates[k] = found.rates[k]!;
    solveLowerTransposed(lower, found.vectors, toState);
    transpose(found.vectors, vectorsT);
    for (let i = 0; i < n; i++) this.force.data[i] = force[i]!;
    const modalForce = multiply(vectorsT, solveLower(lower, this.force, this.scaledForce), this.modalForce).data;
    modalRest(this.rest.of(laws, bearing?.branches), multiply(vectorsT, upper, this.toModal), toState, this.memory);
    const idle = rates[0] === 0;
    for (let k = 0; k < n; k++) {
      const row = k * nU;
      if (rates[k] === 0) {
        for (let j = 0; j < nU; j++) equilibrium[row + j] = 0;
        drift[row + nU - 1] = -modalForce[k]!;
        continue;
      }
      drift[row + nU - 1] = 0;
      if (idle) equilibrium[row + nU - 1]! -= modalForce[k]! / rates[k]!;
    }
    multiply(vectorsT, form.charge, this.charge);
    const { projectInput } = this;
    multiply(vectorsT, form.coupled, this.coupled);
    for (let at = 0; at < projectInput.length; at++) projectInput[at] = -projectInput[at]!;
  }
}

function sameAt(places: readonly number[], one: readonly OwnLaw[], other: readonly OwnLaw[]): boolean {
  for (let at = 0; at < places.length; at++) if (one[places[at]!] !== other[places[at]!]) return false;
  return true;
}

/** By hand: for so few numbers `set` takes longer. */
function copy(from: Float64Array, to: Float64Array): void {
  for (let at = 0; at < to.length; at++) to[at] = from[at]!;
}
