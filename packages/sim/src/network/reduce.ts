import type { Network, OwnLaw } from './element.ts';
import { Mesh } from './mesh.ts';
import type { Tree } from './tree.ts';

/** What is left of the resistive part of a mode once all unknown potentials are eliminated. */
export interface Reduced {
  /** Conductances (S) and their drops on w; the power lost is the sum of conductance (drop . w)^2. */
  readonly conductors: readonly { readonly conductance: number; readonly drop: Float64Array }[];
  /** Constant currents as forces on w (A): their power is `force . w`, up to what the conductors' nodes take. */
  readonly force: Float64Array;
  /** p of each component as a row on w. */
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
 */
export function eliminateComponents(
  network: Network,
  laws: readonly OwnLaw[],
  tree: Tree,
  injections: readonly Injection[] = [],
): Reduced {
  const { width, component, potential, componentCount } = tree;
  const n = tree.states.length;
  const force = new Float64Array(width);
  /** Constant current that leaves each component's node (A). */
  const outflow = new Float64Array(componentCount);
  const mesh = new Mesh(componentCount, width);
  const row = new Float64Array(width);
  const injected = injections.map((injection) => injectionInto(network, tree, injection));

  for (let index = 0; index < network.branches.length; index++) {
    const law = laws[index]!;
    if (law.kind === 'open' || (law.kind === 'thevenin' && law.resistance === 0)) continue;
    const { a, b } = network.branches[index]!;
    for (let j = 0; j < width; j++) row[j] = potential[a * width + j]! - potential[b * width + j]!;
    const from = component[a]!;
    const to = component[b]!;
    if (law.kind === 'thevenin') {
      if (law.input >= 0) row[n + law.input]! -= 1;
      row[width - 1]! -= law.offset;
      mesh.add(from, to, 1 / law.resistance, row);
    } else {
      for (let j = 0; j < width; j++) force[j]! += law.current * row[j]!;
      outflow[from]! += law.current;
      outflow[to]! -= law.current;
    }
  }

  // What each component's potential follows from, in the order of the eliminations.
  const steps: { share: { to: number; part: number; drop: Float64Array }[]; own: number }[] = [];
  for (let eliminated = componentCount - 1; eliminated > 0; eliminated--) {
    mesh.takeStar(eliminated);
    const { starSize } = mesh;
    const { to, conductance, drop } = mesh.star;
    let total = 0;
    for (let i = 0; i < starSize; i++) total += conductance[i]!;
    const share: { to: number; part: number; drop: Float64Array }[] = [];
    for (let i = 0; i < starSize; i++) {
      const part = conductance[i]! / total;
      share.push({ to: to[i]!, part, drop: drop.slice(i * width, i * width + width) });
      outflow[to[i]!]! += outflow[eliminated]! * part;
      for (let j = 0; j < width; j++) force[j]! -= outflow[eliminated]! * part * drop[i * width + j]!;
      for (const { force: own, lift } of injected) {
        // Until a component is eliminated, its lift is the current that leaves it.
        lift[to[i]!]! += lift[eliminated]! * part;
        for (let j = 0; j < width; j++) own[j]! -= lift[eliminated]! * part * drop[i * width + j]!;
      }
    }
    for (const { lift } of injected) lift[eliminated] = total > 0 ? -lift[eliminated]! / total : 0;
    steps.push({ share, own: total > 0 ? -outflow[eliminated]! / total : 0 });
    for (let i = 0; i < starSize; i++) {
      for (let k = i + 1; k < starSize; k++) {
        for (let j = 0; j < width; j++) row[j] = drop[k * width + j]! - drop[i * width + j]!;
        mesh.add(to[i]!, to[k]!, (conductance[i]! * conductance[k]!) / total, row);
      }
    }
  }

  for (const { lift } of injected) lift[0] = 0;
  const offsets = new Float64Array(componentCount * width);
  for (let at = 1; at < componentCount; at++) {
    const { share, own } = steps[componentCount - 1 - at]!;
    offsets[at * width + width - 1] = own;
    for (const { to, part, drop } of share) {
      for (let j = 0; j < width; j++) offsets[at * width + j]! += part * (offsets[to * width + j]! - drop[j]!);
      for (const { lift } of injected) lift[at]! += part * lift[to]!;
    }
  }
  return { conductors: mesh.loops, force, offsets, responses: injected };
}

/** The force of an injection as far as the branches' own drops make it, and the current that leaves each component. */
function injectionInto(
  { branches }: Network,
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
