import type { Capacitor, Law, Network } from './element.ts';
import { STRAY_CAPACITANCE } from './element.ts';

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
  /** The network's capacitors, then the stray capacitors that hold isolated nets in this mode. */
  readonly capacitors: readonly Capacitor[];
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

/** Sources without resistance that contradict each other in this mode. */
export interface Short {
  readonly shortedParts: readonly string[];
}

interface Edge {
  readonly to: number;
  readonly branch: number;
  /** v(this node) - v(to), on w. */
  readonly column: number;
  readonly sign: number;
  readonly offset: number;
}

class Sets {
  private readonly parent: Int32Array;
  constructor(size: number) {
    this.parent = Int32Array.from({ length: size }, (_, index) => index);
  }
  find(node: number): number {
    let root = node;
    while (this.parent[root] !== root) root = this.parent[root]!;
    this.parent[node] = root;
    return root;
  }
  /** Joins two sets; false when they were one already. */
  join(a: number, b: number): boolean {
    const rootA = this.find(a);
    const rootB = this.find(b);
    this.parent[Math.max(rootA, rootB)] = Math.min(rootA, rootB);
    return rootA !== rootB;
  }
}

/** Whether a law is that of a source without resistance. */
export function isIdealSource(law: Law): law is Law & { kind: 'thevenin' } {
  return law.kind === 'thevenin' && law.resistance === 0;
}

/** Nodes, one per island, that nothing ties to ground in this mode: not even a capacitor. */
function islandNodes(network: Network, laws: readonly Law[]): number[] {
  const sets = new Sets(network.nodeCount);
  network.branches.forEach((branch, index) => {
    if (laws[index]!.kind === 'thevenin') sets.join(branch.a, branch.b);
  });
  for (const capacitor of network.capacitors) sets.join(capacitor.a, capacitor.b);
  const islands: number[] = [];
  for (let node = 1; node < network.nodeCount; node++) {
    if (sets.find(node) === node) islands.push(node);
  }
  return islands;
}

/**
 * Indices of the capacitors, the largest first: in a loop the smallest is then the one that depends on the others, and
 * the capacitance matrix keeps its digits beside a stray capacitance a million times smaller.
 */
function largestFirst(capacitors: readonly Capacitor[]): number[] {
  return [...capacitors.keys()].sort((p, q) => capacitors[q]!.capacitance - capacitors[p]!.capacitance);
}

/** Builds the forest of a mode, or reports which ideal sources contradict each other. */
export function buildTree(network: Network, laws: readonly Law[]): Tree | Short {
  const { nodeCount, branches, inputCount } = network;
  const held = islandNodes(network, laws);
  const capacitors = [
    ...network.capacitors,
    ...held.map((node): Capacitor => ({ part: '', a: node, b: 0, capacitance: STRAY_CAPACITANCE })),
  ];
  const sets = new Sets(nodeCount);
  const edges: Edge[][] = Array.from({ length: nodeCount }, () => []);
  const surplus: number[] = [];
  branches.forEach((branch, index) => {
    const law = laws[index]!;
    if (!isIdealSource(law)) return;
    if (branch.a === branch.b || !sets.join(branch.a, branch.b)) {
      surplus.push(index);
      return;
    }
    // The column of an input is fixed up below, once the number of states is known.
    const column = law.input < 0 ? -1 : law.input;
    edges[branch.a]!.push({ to: branch.b, branch: index, column, sign: 1, offset: law.offset });
    edges[branch.b]!.push({ to: branch.a, branch: index, column, sign: -1, offset: law.offset });
  });
  const states: number[] = [];
  for (const index of largestFirst(capacitors)) {
    const capacitor = capacitors[index]!;
    if (capacitor.a === capacitor.b || !sets.join(capacitor.a, capacitor.b)) continue;
    edges[capacitor.a]!.push({ to: capacitor.b, branch: -1, column: states.length, sign: 1, offset: 0 });
    edges[capacitor.b]!.push({ to: capacitor.a, branch: -1, column: states.length, sign: -1, offset: 0 });
    states.push(index);
  }

  const n = states.length;
  const width = n + inputCount + 1;
  const component = new Int32Array(nodeCount).fill(-1);
  const parent = new Int32Array(nodeCount).fill(-1);
  const parentBranch = new Int32Array(nodeCount).fill(-1);
  const potential = new Float64Array(nodeCount * width);
  const visited: number[] = [];
  let componentCount = 0;
  for (let root = 0; root < nodeCount; root++) {
    if (component[root] !== -1) continue;
    component[root] = componentCount;
    const queue = [root];
    for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
      visited.push(node);
      for (const edge of edges[node]!) {
        if (component[edge.to] !== -1) continue;
        component[edge.to] = componentCount;
        parent[edge.to] = node;
        parentBranch[edge.to] = edge.branch;
        const from = node * width;
        const to = edge.to * width;
        for (let j = 0; j < width; j++) potential[to + j] = potential[from + j]!;
        if (edge.branch < 0) potential[to + edge.column]! -= edge.sign;
        else {
          if (edge.column >= 0) potential[to + n + edge.column]! -= edge.sign;
          potential[to + width - 1]! -= edge.sign * edge.offset;
        }
        queue.push(edge.to);
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
