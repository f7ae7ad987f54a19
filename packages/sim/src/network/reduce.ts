import { NumberMemory } from '../core/number-memory.ts';
import type { Network, OwnLaw } from './element.ts';
import { Mesh } from './mesh.ts';
import type { Tree } from './tree.ts';

const NONE = new Float64Array(0);

/** What is left of the resistive part of a mode once all unknown potentials are eliminated. */
export interface Reduced {
  /** Conductances (S) and their drops on w; the power lost is the sum of conductance (drop . w)^2. */
  readonly conductors: readonly { readonly conductance: number; readonly drop: Float64Array }[];
  /** Constant currents as forces on w (A): their power is `force . w`, up to what the conductors' nodes take. As long as w at least. */
  readonly force: Float64Array;
  /** p of each component as a row on w, `width` entries each, at the beginning of the list. */
  readonly offsets: Float64Array;
  /** What one ampere of each asked-for current does: force as a row on w (V), and what it adds to each p (V). */
  readonly responses: readonly Response[];
}

/** Branches that one current flows through, each so many times. */
export type Injection = readonly { readonly branch: number; readonly times: number }[];

/** See `Reduced`. */
interface Response {
  readonly force: Float64Array;
  readonly lift: Float64Array;
}

/**
 * Eliminates the potentials of all components but ground's by star-mesh transforms. Each step only adds, multiplies and
 * divides positive conductances, so that every remaining conductance is accurate to a few rounding units however far
 * apart the resistances are (the same reason for which Grassmann, Taksar and Heyman 1985 avoid subtraction): a 10 ohm
 * switch beside a 10 Mohm resistor costs no digits of the slow rate. Between two components there is never more than one
 * conductor, so a mesh of many resistors stays small.
 *
 * One elimination serves all trees and laws of a network, one after the other, in the same memory.
 */
export class Elimination implements Reduced {
  private readonly mesh: Mesh;
  readonly conductors: Reduced['conductors'];
  force: Float64Array = NONE;
  offsets: Float64Array = NONE;
  responses: readonly Response[] = [];
  private row: Float64Array = NONE;
  /** Constant current that leaves each component's node (A). */
  private outflow: Float64Array = NONE;
  /**
   * What each component's potential follows from once it is eliminated: its own part, and shares of others, which take up
   * `size` entries from its number times the count of components on.
   */
  private own: Float64Array = NONE;
  private readonly size: number[] = [];
  private readonly to: number[] = [];
  private part: Float64Array = NONE;
  private drop: Float64Array = NONE;

  constructor(
    private readonly branches: Network['branches'],
    /** Where it has its rows. */
    private readonly memory = new NumberMemory(),
  ) {
    this.mesh = new Mesh(memory);
    this.conductors = this.mesh.loops;
  }

  /**
   * What the laws of one mode leave of the network, seen from its tree; it holds until the next ones.
   *
   * @param only branches that count, where those of the others are not asked for; all, if left out.
   */
  run(tree: Tree, laws: readonly OwnLaw[], injections: readonly Injection[] = [], only?: readonly number[]): Reduced {
    this.begin(tree);
    const responses = injections.map((injection) => injectionInto(this.branches, tree, injection));
    this.responses = responses;
    if (only) for (const index of only) this.add(tree, index, laws[index]!);
    else for (let index = 0; index < laws.length; index++) this.add(tree, index, laws[index]!);
    for (let component = tree.componentCount - 1; component > 0; component--) {
      this.eliminate(tree, component, responses);
    }
    this.substituteBack(tree, responses);
    return this;
  }

  /** Empties its memory; gets more where a tree needs it. */
  private begin({ componentCount: count, width }: Tree): void {
    const { memory } = this;
    this.mesh.begin(count, width);
    if (width > this.force.length) {
      this.force = memory.row(width);
      this.row = memory.row(width);
    } else for (let j = 0; j < width; j++) this.force[j] = 0;
    if (count > this.outflow.length) {
      this.outflow = memory.row(count);
      this.own = memory.row(count);
      this.part = memory.row(count * count);
      while (this.size.length < count) this.size.push(0);
      while (this.to.length < count * count) this.to.push(0);
    } else for (let component = 0; component < count; component++) this.outflow[component] = 0;
    if (count * count * width > this.drop.length) this.drop = memory.row(count * count * width);
    if (count * width > this.offsets.length) this.offsets = memory.row(count * width);
  }

  /** Adds what a branch conducts, or the current that it drives. */
  private add(tree: Tree, index: number, law: OwnLaw): void {
    if (law.kind === 'open' || (law.kind === 'thevenin' && law.resistance === 0)) return;
    const { row, force, outflow, mesh } = this;
    const { width, component, potential, states } = tree;
    const { a, b } = this.branches[index]!;
    for (let j = 0; j < width; j++) row[j] = potential[a * width + j]! - potential[b * width + j]!;
    const from = component[a]!;
    const to = component[b]!;
    if (law.kind === 'thevenin') {
      if (law.input >= 0) row[states.length + law.input]! -= 1;
      row[width - 1]! -= law.offset;
      mesh.add(from, to, 1 / law.resistance, row);
    } else {
      for (let j = 0; j < width; j++) force[j]! += law.current * row[j]!;
      outflow[from]! += law.current;
      outflow[to]! -= law.current;
    }
  }

  private eliminate({ width, componentCount }: Tree, component: number, responses: readonly Response[]): void {
    const { mesh, outflow, force, row } = this;
    mesh.takeStar(component);
    const { starSize } = mesh;
    const { to, conductance, drop } = mesh.star;
    let total = 0;
    for (let i = 0; i < starSize; i++) total += conductance[i]!;
    const first = component * componentCount;
    this.size[component] = starSize;
    for (let i = 0; i < starSize; i++) {
      const part = conductance[i]! / total;
      this.to[first + i] = to[i]!;
      this.part[first + i] = part;
      for (let j = 0; j < width; j++) this.drop[(first + i) * width + j] = drop[i * width + j]!;
      outflow[to[i]!]! += outflow[component]! * part;
      for (let j = 0; j < width; j++) force[j]! -= outflow[component]! * part * drop[i * width + j]!;
      for (const { force: own, lift } of responses) {
        // Until a component is eliminated, its lift is the current that leaves it.
        lift[to[i]!]! += lift[component]! * part;
        for (let j = 0; j < width; j++) own[j]! -= lift[component]! * part * drop[i * width + j]!;
      }
    }
    for (const { lift } of responses) lift[component] = total > 0 ? -lift[component]! / total : 0;
    this.own[component] = total > 0 ? -outflow[component]! / total : 0;
    for (let i = 0; i < starSize; i++) {
      for (let k = i + 1; k < starSize; k++) {
        for (let j = 0; j < width; j++) row[j] = drop[k * width + j]! - drop[i * width + j]!;
        mesh.add(to[i]!, to[k]!, (conductance[i]! * conductance[k]!) / total, row);
      }
    }
  }

  /** Finds the potentials of the components, in the order against that of the eliminations. */
  private substituteBack({ width, componentCount }: Tree, responses: readonly Response[]): void {
    const { offsets, own, size, to, part, drop } = this;
    for (const { lift } of responses) lift[0] = 0;
    for (let at = 0; at < componentCount * width; at++) offsets[at] = 0;
    for (let at = 1; at < componentCount; at++) {
      offsets[at * width + width - 1] = own[at]!;
      const first = at * componentCount;
      for (let i = first; i < first + size[at]!; i++) {
        const other = to[i]!;
        const share = part[i]!;
        for (let j = 0; j < width; j++) {
          offsets[at * width + j]! += share * (offsets[other * width + j]! - drop[i * width + j]!);
        }
        for (const { lift } of responses) lift[at]! += share * lift[other]!;
      }
    }
  }
}

/** The force of an injection as far as the branches' own drops make it, and the current that leaves each component. */
function injectionInto(
  branches: Network['branches'],
  { width, component, componentCount, potential }: Tree,
  injection: Injection,
): Response {
  const force = new Float64Array(width);
  const lift = new Float64Array(componentCount);
  for (const { branch, times } of injection) {
    const { a, b } = branches[branch]!;
    for (let j = 0; j < width; j++) force[j]! += times * (potential[a * width + j]! - potential[b * width + j]!);
    lift[component[a]!]! += times;
    lift[component[b]!]! -= times;
  }
  return { force, lift };
}
