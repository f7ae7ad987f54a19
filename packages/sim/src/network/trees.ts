import { NumberMemory } from '../core/number-memory.ts';
import type { Law, Network } from './element.ts';
import { buildTree, heldNodes, isIdealSource, type Short, type Tree } from './tree.ts';

/** Trees that are kept: more than a board has, unless voltages change from run to run. Beyond this many all are dropped. */
const MOST_KEPT = 64;

/** A tree, and what decided on it. */
interface Kept {
  readonly tree: Tree | Short;
  readonly held: readonly number[];
  readonly laws: readonly Law[];
}

/** Builds the trees of one network, and keeps them for a while: few of the laws of a mode decide on its tree. */
export class Trees {
  /** By a number that is the same for the same tree, and mostly another one for another. */
  private readonly known = new Map<number, Kept[]>();
  private count = 0;

  constructor(
    private readonly network: Network,
    /** Where the trees have their rows. */
    private readonly memory = new NumberMemory(),
  ) {}

  /** The tree that laws make, or which ideal sources contradict each other. */
  of(laws: readonly Law[]): Tree | Short {
    const held = heldNodes(this.network, laws);
    const mark = markOf(laws);
    for (const kept of this.known.get(mark) ?? []) {
      if (sameNodes(kept.held, held) && sameSources(kept.laws, laws)) return kept.tree;
    }
    const tree = buildTree(this.network, laws, held, this.memory);
    this.keep(mark, { tree, held, laws });
    return tree;
  }

  private keep(mark: number, tree: Kept): void {
    if (this.count >= MOST_KEPT) {
      this.known.clear();
      this.count = 0;
    }
    this.count++;
    const alike = this.known.get(mark);
    if (alike) alike.push(tree);
    else this.known.set(mark, [tree]);
  }
}

/** A number that the ideal sources make; putting them into words to look up takes longer than finding them in a short list. */
function markOf(laws: readonly Law[]): number {
  let mark = 0;
  for (let index = 0; index < laws.length; index++) {
    const law = laws[index]!;
    if (isIdealSource(law)) mark += (index + 1) * (law.input + law.offset + 2);
  }
  return mark;
}

function sameNodes(one: readonly number[], other: readonly number[]): boolean {
  if (one.length !== other.length) return false;
  for (let i = 0; i < one.length; i++) if (one[i] !== other[i]) return false;
  return true;
}

/** Whether the same of all branches are ideal sources, which follow the same. */
function sameSources(one: readonly Law[], other: readonly Law[]): boolean {
  for (let index = 0; index < one.length; index++) {
    const [a, b] = [one[index]!, other[index]!];
    if (a === b) continue;
    if (!isIdealSource(a) || !isIdealSource(b)) {
      if (isIdealSource(a) || isIdealSource(b)) return false;
    } else if (a.input !== b.input || a.offset !== b.offset) return false;
  }
  return true;
}
