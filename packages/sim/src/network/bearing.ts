import type { Network, OwnLaw } from './element.ts';
import { isIdealSource, type Tree } from './tree.ts';

/** What of a mode its states have to do with: nothing else has a part in how they move. */
export interface Bearing {
  /** Branches that meet a state, at once or over potentials that nothing but resistances decides. */
  readonly branches: readonly number[];
  /** All others. */
  readonly others: readonly number[];
  /** Components whose potentials hang on these branches. */
  readonly components: readonly number[];
  /** Nodes of these components, and those whose potentials follow from states. */
  readonly nodes: readonly number[];
  /** These branches, and all that have no resistance: what these carry follows from what flows elsewhere. */
  readonly currents: readonly number[];
}

/**
 * Finds the branches that bear on the states of a mode. Nodes that ideal sources hold stand between them and all others:
 * what a trigger's resistors do is nothing to a timing capacitor beside them on the same supply. It follows from the tree
 * and from which branches are open or have no resistance.
 */
export function bearingOf({ branches }: Network, laws: readonly OwnLaw[], tree: Tree): Bearing {
  const { component, componentCount, potential, width, states } = tree;
  const reached = new Array<boolean>(componentCount).fill(false);
  const moves = (node: number): boolean => {
    for (let k = 0; k < states.length; k++) if (potential[node * width + k] !== 0) return true;
    return false;
  };
  const isReached = (node: number): boolean => reached[component[node]!]! || moves(node);
  for (let node = 0; node < component.length; node++)
    if (component[node]! > 0 && moves(node)) reached[component[node]!] = true;
  const bears = new Array<boolean>(branches.length).fill(false);
  for (let more = true; more; ) {
    more = false;
    for (let index = 0; index < branches.length; index++) {
      const law = laws[index]!;
      const { a, b } = branches[index]!;
      if (bears[index]! || law.kind === 'open' || isIdealSource(law) || !(isReached(a) || isReached(b))) continue;
      bears[index] = true;
      more = true;
      for (const node of [a, b]) if (component[node]! > 0) reached[component[node]!] = true;
    }
  }
  const all = branches.map((_, index) => index);
  return {
    branches: all.filter((index) => bears[index]!),
    others: all.filter((index) => !bears[index]!),
    components: reached.flatMap((is, index) => (is ? [index] : [])),
    nodes: [...component.keys()].filter(isReached),
    currents: all.filter((index) => bears[index]! || isIdealSource(laws[index]!)),
  };
}

/** The nodes of the capacitors of a mode, and of the branches that bear on its states. */
export function nodesOf({ branches }: Network, bearing: Bearing, { capacitors }: Tree): number[] {
  return [...bearing.branches.map((index) => branches[index]!), ...capacitors].flatMap(({ a, b }) => [a, b]);
}

/**
 * Whether two trees of one network look the same from some nodes: what follows from these, and from the same laws between
 * them, is then the same, bit for bit. Components may have other numbers, in the same order: potentials are eliminated in
 * their order.
 */
export function lookAlike(nodes: readonly number[], one: Tree, other: Tree): boolean {
  const { width } = one;
  if (other.width !== width || !sameNumbers(one.states, other.states)) return false;
  const pairs = new Map([[0, 0]]);
  for (const node of nodes) {
    for (let j = 0; j < width; j++) {
      if (one.potential[node * width + j] !== other.potential[node * width + j]) return false;
    }
    const [own, its] = [one.component[node]!, other.component[node]!];
    if ((pairs.get(own) ?? its) !== its) return false;
    pairs.set(own, its);
  }
  const numbers = [...pairs].sort(([a], [b]) => a - b).map(([, number]) => number);
  return numbers.every((number, at) => at === 0 || number > numbers[at - 1]!);
}

/** Whether two lists hold the same numbers. */
export function sameNumbers(one: readonly number[], other: readonly number[]): boolean {
  if (one.length !== other.length) return false;
  for (let at = 0; at < one.length; at++) if (one[at] !== other[at]) return false;
  return true;
}
