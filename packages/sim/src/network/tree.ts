import { NumberMemory } from '../core/number-memory.ts';
import type { Capacitor, Law, Network } from './element.ts';
import { STRAY_CAPACITANCE } from './element.ts';
import { NodeSets } from './node-sets.ts';

/**
 * The network of one mode seen from a spanning forest that prefers sources without resistance, then capacitors (the
 * "normal tree" of state-variable analysis, Bryant 1959). Every node voltage is
 *
 *     v(node) = p(component of node) + potential(node) . w,    w = [states; inputs; 1]
 *
 * with whole-number entries but for fixed offsets, and p = 0 in the component of ground.
 */
export interface Tree {
  /** Independent capacitor voltages, as indices into `capacitors`. */
  readonly states: readonly number[];
  /** Ends of the network's capacitors, then of the stray capacitors of this mode. */
  readonly capacitors: readonly Ends[];
  /** Nodes held by the stray capacitors, in their order. */
  readonly held: readonly number[];
  /** Component of each node; ground's is 0. */
  readonly component: Int32Array;
  readonly componentCount: number;
  /** Length of w. */
  readonly width: number;
  /** Row per node, `width` entries each. */
  readonly potential: Float64Array;
  /** Parent node in the forest (-1 at roots), in the order of `visited`. */
  readonly parent: Int32Array;
  readonly visited: readonly number[];
  /** Tree edge towards the parent: a branch index, or -1 for a capacitor. */
  readonly parentBranch: Int32Array;
}

/** The two nodes of an element. */
interface Ends {
  readonly a: number;
  readonly b: number;
}

/** Sources without resistance that contradict each other in this mode. */
export interface Short {
  readonly shortedParts: readonly string[];
}

/** An edge of the forest. */
interface Edge extends Ends {
  /** The branch that it is, or -1 for a capacitor. */
  readonly branch: number;
  /** v(a) - v(b) as a column of w, counted among the inputs for a branch and among the states for a capacitor; -1 for none. */
  readonly column: number;
  readonly offset: number;
}

/** A list of so many -1. By hand: filling short arrays takes longer. */
function noNodes(count: number): Int32Array {
  const none = new Int32Array(count);
  for (let at = 0; at < count; at++) none[at] = -1;
  return none;
}

/** Whether a law is that of a source without resistance. */
export function isIdealSource(law: Law): law is Law & { kind: 'thevenin' } {
  return law.kind === 'thevenin' && law.resistance === 0;
}

/**
 * Nodes that a stray capacitor holds in this mode: those that it holds in all modes, then one per island that nothing ties
 * to ground in this one, not even a capacitor.
 */
export function heldNodes(network: Network, laws: readonly Law[]): number[] {
  const sets = new NodeSets(network.nodeCount);
  for (let index = 0; index < laws.length; index++) {
    const { a, b } = network.branches[index]!;
    if (laws[index]!.kind === 'thevenin') sets.join(a, b);
  }
  for (const { a, b } of network.capacitors) sets.join(a, b);
  for (const node of network.held) sets.join(node, 0);
  const held = [...network.held];
  for (let node = 1; node < network.nodeCount; node++) {
    if (sets.find(node) === node) held.push(node);
  }
  return held;
}

/**
 * Indices of the capacitors, the largest first: in a loop the smallest is then the one that depends on the others, and
 * the capacitance matrix keeps its digits beside a stray capacitance a million times smaller. Of a network it is all of the
 * capacitances that its trees depend on.
 */
export function largestFirst(capacitors: readonly Pick<Capacitor, 'capacitance'>[]): number[] {
  // By hand: sorting so short a list takes several times as long, and every tree asks for it.
  const order: number[] = [];
  for (let index = 0; index < capacitors.length; index++) {
    let place = index;
    for (; place > 0; place--) {
      const before = order[place - 1]!;
      if (!(capacitors[before]!.capacitance < capacitors[index]!.capacitance)) break;
      order[place] = before;
    }
    order[place] = index;
  }
  return order;
}

/**
 * How many independent combinations of the capacitor voltages of a tree drive no current through any resistance: with all
 * resistances and sources taken as joints, the capacitors that still join something.
 */
export function countIdle(network: Network, laws: readonly Law[], tree: Tree): number {
  const sets = new NodeSets(network.nodeCount);
  for (let index = 0; index < laws.length; index++) {
    const { a, b } = network.branches[index]!;
    if (laws[index]!.kind === 'thevenin') sets.join(a, b);
  }
  let count = 0;
  for (const index of tree.states) {
    const { a, b } = tree.capacitors[index]!;
    if (sets.join(a, b)) count++;
  }
  return count;
}

/**
 * Builds the forest of a mode, or reports which ideal sources contradict each other. Of the laws only those of ideal sources
 * count, beside the nodes that must be held.
 */
export function buildTree(
  network: Network,
  laws: readonly Law[],
  held = heldNodes(network, laws),
  memory = new NumberMemory(),
): Tree | Short {
  const { nodeCount, branches, inputCount } = network;
  const stray = held.map((node): Capacitor => ({ part: '', a: node, b: 0, capacitance: STRAY_CAPACITANCE }));
  const capacitors = [...network.capacitors, ...stray];
  const sets = new NodeSets(nodeCount);
  const forest: Edge[] = [];
  const surplus: number[] = [];
  for (let index = 0; index < branches.length; index++) {
    const law = laws[index]!;
    if (!isIdealSource(law)) continue;
    const { a, b } = branches[index]!;
    if (a === b || !sets.join(a, b)) surplus.push(index);
    else forest.push({ a, b, branch: index, column: law.input, offset: law.offset });
  }
  const states: number[] = [];
  for (const index of largestFirst(capacitors)) {
    const { a, b } = capacitors[index]!;
    if (a === b || !sets.join(a, b)) continue;
    forest.push({ a, b, branch: -1, column: states.length, offset: 0 });
    states.push(index);
  }

  const n = states.length;
  const width = n + inputCount + 1;
  const component = noNodes(nodeCount);
  const parent = noNodes(nodeCount);
  const parentBranch = noNodes(nodeCount);
  const potential = memory.row(nodeCount * width);
  const visited: number[] = [];
  let componentCount = 0;
  for (let root = 0; root < nodeCount; root++) {
    if (component[root] !== -1) continue;
    component[root] = componentCount;
    const queue = [root];
    for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
      visited.push(node);
      for (const { a, b, branch, column, offset } of forest) {
        if (a !== node && b !== node) continue;
        const other = a === node ? b : a;
        if (component[other] !== -1) continue;
        component[other] = componentCount;
        parent[other] = node;
        parentBranch[other] = branch;
        const sign = a === node ? 1 : -1;
        const from = node * width;
        const at = other * width;
        for (let j = 0; j < width; j++) potential[at + j] = potential[from + j]!;
        if (branch < 0) potential[at + column]! -= sign;
        else {
          if (column >= 0) potential[at + n + column]! -= sign;
          potential[at + width - 1]! -= sign * offset;
        }
        queue.push(other);
      }
    }
    componentCount++;
  }

  const tree: Tree = {
    states,
    capacitors,
    held,
    component,
    componentCount,
    width,
    potential,
    parent,
    visited,
    parentBranch,
  };
  for (const index of surplus) {
    const branch = branches[index]!;
    const law = laws[index] as Law & { kind: 'thevenin' };
    if (!agrees(tree, branch.a, branch.b, law, n)) {
      return { shortedParts: partsBetween(network, tree, branch.a, branch.b, branch.part) };
    }
  }
  return tree;
}

/** Whether an ideal source parallel to a path of others asks for just what the path gives, whatever the inputs are. */
function agrees(tree: Tree, a: number, b: number, law: Law & { kind: 'thevenin' }, n: number): boolean {
  for (let j = 0; j < tree.width; j++) {
    let asked = j === tree.width - 1 ? law.offset : 0;
    if (law.input >= 0 && j === n + law.input) asked += 1;
    if (tree.potential[a * tree.width + j]! - tree.potential[b * tree.width + j]! !== asked) return false;
  }
  return true;
}

/** Parts on the tree path between two nodes, and the one that closes the loop. */
function partsBetween(network: Network, tree: Tree, a: number, b: number, closing: string): string[] {
  const ancestors = (node: number): number[] => {
    const path = [node];
    while (tree.parent[path.at(-1)!]! >= 0) path.push(tree.parent[path.at(-1)!]!);
    return path;
  };
  const pathA = ancestors(a);
  const pathB = ancestors(b);
  const common = new Set(pathA.filter((node) => pathB.includes(node)));
  const parts = new Set<string>([closing]);
  for (const node of [...pathA, ...pathB]) {
    if (common.has(node)) continue;
    const branch = tree.parentBranch[node]!;
    if (branch >= 0) parts.add(network.branches[branch]!.part);
  }
  return [...parts];
}
