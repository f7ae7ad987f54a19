import type { Law, Network } from './element.ts';
import { buildTree, heldNodes, isIdealSource, type Short, type Tree } from './tree.ts';

/** Builds the trees of one network, and keeps them: few of the laws of a mode decide on its tree. */
export class Trees {
  private readonly known = new Map<string, Tree | Short>();

  constructor(private readonly network: Network) {}

  /** The tree that laws make, or which ideal sources contradict each other. */
  of(laws: readonly Law[]): Tree | Short {
    const held = heldNodes(this.network, laws);
    let key = held.join();
    for (let index = 0; index < laws.length; index++) {
      const law = laws[index]!;
      if (isIdealSource(law)) key += `|${index} ${law.input} ${law.offset}`;
    }
    let tree = this.known.get(key);
    if (tree === undefined) {
      tree = buildTree(this.network, laws, held);
      this.known.set(key, tree);
    }
    return tree;
  }
}
