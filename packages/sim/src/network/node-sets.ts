/** Sets of nodes that are joined one pair at a time. */
export class NodeSets {
  private readonly parent: Int32Array;

  /** @param size how many nodes; each is a set of its own at first. */
  constructor(size: number) {
    this.parent = new Int32Array(size);
    for (let index = 0; index < size; index++) this.parent[index] = index;
  }

  /** The node of lowest number in the set that a node is in. */
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
    if (rootA === rootB) return false;
    if (rootA < rootB) this.parent[rootB] = rootA;
    else this.parent[rootA] = rootB;
    return true;
  }
}
