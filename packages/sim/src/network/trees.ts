import { NumberMemory } from '../core/number-memory.ts';
import type { Law, Network } from './element.ts';
import { buildTree, heldNodes, isIdealSource, type Short, type Tree } from './tree.ts';

/** A tree, and what decided on it. */
interface Kept {
  readonly tree: Tree | Short;
  readonly held: readonly number[];
  readonly laws: readonly Law[];
}

/** Builds the trees of one network, and keeps them: few of the laws of a mode decide on its tree. */
export class Trees {
  /** By a number that is the same for the same tree, and mostly another one for another. */
  private readonly known = new Map<number, Kept[]>();

  constructor(
    private readonly network: Network,
    /** Where the trees have their rows. */
    private readonly memory = new NumberMemory(),
  ) {}

  /** The tree that laws make, or which ideal sources contradict each other. */
  of(laws: readonly Law[]): Tree | Short {
    const held = heldNodes(this.network, laws);
    const mark = markOf(held, laws);
    let alike = this.known.get(mark);
    if (alike === undefined) {
      alike = [];
      this.known.set(mark, alike);
    }
    for (const kept of alike) if (sameNodes(kept.held, held) && sameSources(kept.laws, laws)) return kept.tree;
    const tree = buildTree(this.network, laws, held, this.memory);
    alike.push({ tree, held, laws });
    return tree;
  }
}

/** A whole number of 30 bits that held nets and the places of ideal sources make. */
function markOf(held: readonly number[], laws: readonly Law[]): number {
  let mark = held.length;
  for (let i = 0; i < held.length; i++) mark = (Math.imul(mark, 31) + held[i]!) | 0;
  for (let index = 0; index < laws.length; index++) {
    if (isIdealSource(laws[index]!)) mark = (Math.imul(mark, 31) + index) | 0;
  }
  return mark & 0x3fffffff;
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
    if (isIdealSource(a) !== isIdealSource(b)) return false;
    if (isIdealSource(a) && isIdealSource(b) && (a.input !== b.input || a.offset !== b.offset)) return false;
  }
  return true;
}
