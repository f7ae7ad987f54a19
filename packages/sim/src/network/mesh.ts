import type { NumberMemory } from '../core/number-memory.ts';

const NONE = new Float64Array(0);

/**
 * Conductors between components, one per pair, and those that lead from a component back to itself. A conductor has a
 * conductance (S) and a drop: p(from) - p(to) + drop . w is the voltage along it, with w as in `Tree`. One mesh serves any
 * number of networks, one after the other: getting memory costs more than what is done with it.
 */
export class Mesh {
  /** Conductors that lead from a component back to itself; those with the same drop are one. A drop is as long as w at least. */
  readonly loops: { conductance: number; readonly drop: Float64Array }[] = [];
  /** Loops of an earlier elimination, to be used again. */
  private readonly spare: { conductance: number; readonly drop: Float64Array }[] = [];
  /** Conductance from the lower of two components to the higher, by `lower * count + higher`; 0 for none. */
  private between: Float64Array = NONE;
  private drops: Float64Array = NONE;
  /** Conductors of the component taken out last, each counted from it: ascending components at the other end. */
  readonly star: { readonly to: number[]; conductance: Float64Array; drop: Float64Array } = {
    to: [],
    conductance: NONE,
    drop: NONE,
  };
  starSize = 0;
  private difference: Float64Array = NONE;
  private count = 0;
  private width = 0;

  constructor(private readonly memory: NumberMemory) {}

  /** Takes all conductors out, for so many components and entries of w. */
  begin(count: number, width: number): void {
    const { memory, star } = this;
    for (let loop = this.loops.pop(); loop; loop = this.loops.pop()) this.spare.push(loop);
    if (width > this.difference.length) this.difference = memory.row(width);
    const pairs = count * count;
    if (pairs > this.between.length) {
      this.between = memory.row(pairs);
      star.conductance = memory.row(count);
    } else for (let pair = 0; pair < pairs; pair++) this.between[pair] = 0;
    if (pairs * width > this.drops.length) this.drops = memory.row(pairs * width);
    if (count * width > star.drop.length) star.drop = memory.row(count * width);
    this.count = count;
    this.width = width;
  }
  /**
   * Adds a conductor whose drop starts at an index of a list. Two between the same components, g1 (x + d1)^2 +
   * g2 (x + d2)^2, are one that sees the weighted mean of their drops and one that sees the difference alone:
   * (g1 + g2) (x + d)^2 + g1 g2 / (g1 + g2) (d1 - d2)^2.
   */
  add(from: number, to: number, conductance: number, drop: Float64Array, at = 0): void {
    const { width, drops } = this;
    if (from === to) {
      this.addLoop(conductance, drop, at);
      return;
    }
    const turn = from < to ? 1 : -1;
    const pair = from < to ? from * this.count + to : to * this.count + from;
    const there = this.between[pair]!;
    const row = pair * width;
    if (there === 0) {
      this.between[pair] = conductance;
      for (let j = 0; j < width; j++) drops[row + j] = turn * drop[at + j]!;
      return;
    }
    // Counted from the larger one, so that its drop keeps all digits beside a tiny share of the other.
    const larger = there < conductance;
    const more = larger ? conductance : there;
    const less = larger ? there : conductance;
    const total = more + less;
    const share = less / total;
    const { difference } = this;
    let differs = false;
    for (let j = 0; j < width; j++) {
      const added = turn * drop[at + j]!;
      const kept = drops[row + j]!;
      difference[j] = larger ? kept - added : added - kept;
      if (difference[j] !== 0) differs = true;
      drops[row + j] = (larger ? added : kept) + share * difference[j]!;
    }
    this.between[pair] = total;
    if (differs) this.addLoop(more * share, difference, 0);
  }

  /** Takes out all conductors of a component that has a higher number than all left, into `star`. */
  takeStar(component: number): void {
    const { star, count, width, between, drops } = this;
    this.starSize = 0;
    for (let other = 0; other < component; other++) {
      const pair = other * count + component;
      const conductance = between[pair]!;
      if (conductance === 0) continue;
      const at = this.starSize++;
      star.to[at] = other;
      star.conductance[at] = conductance;
      for (let j = 0; j < width; j++) star.drop[at * width + j] = -drops[pair * width + j]!;
      between[pair] = 0;
    }
  }

  private addLoop(conductance: number, drop: Float64Array, at: number): void {
    const { width } = this;
    let nothing = true;
    for (let j = 0; j < width && nothing; j++) nothing = drop[at + j] === 0;
    if (nothing) return;
    for (const loop of this.loops) {
      let same = true;
      for (let j = 0; j < width && same; j++) same = loop.drop[j] === drop[at + j];
      if (!same) continue;
      // Parallel: their conductances add.
      loop.conductance += conductance;
      return;
    }
    const used = this.spare.pop();
    const loop = used !== undefined && used.drop.length >= width ? used : { conductance, drop: this.memory.row(width) };
    loop.conductance = conductance;
    for (let j = 0; j < width; j++) loop.drop[j] = drop[at + j]!;
    this.loops.push(loop);
  }
}
