import type { Equations } from './equations.ts';
import { CLEARLY, type Guard } from './guard.ts';
import { LongRow, long } from './long-row.ts';
import { dot } from './linear.ts';
import type { NodalModel } from './model.ts';
import { rowOf } from './search.ts';

/** Moves of branches from section to section at one instant by the least index rule, far more than most circuits need. */
const MOST_IN_ORDER = 200;
/** Walks from sections drawn at random, and moves of each, where that rule finds no rest. */
const WALKS = 100;
const MOST_IN_WALK = 60;
/** Instants of a run at which that is done: a run that needs it more often goes on without end. */
const MOST_SEARCHES = 20;
/** A limit that a branch has just come to is passed again by rounding only up to here (V), if it is being left. */
const LEAVING = 1e-3;

/** Which curve each branch is on, and which section of it. */
export class Sections {
  readonly curve: number[];
  readonly section: number[];
  /** Ways back of the branches that have met the ends of their sections at this instant. */
  readonly waysBack = new Set<string>();
  /** At how many instants sections were drawn at random. */
  private searches = 0;

  /** @param seed where to begin drawing which branch moves first; the first one in order does, if not given. */
  constructor(
    private readonly model: NodalModel,
    private readonly seed?: number,
  ) {
    this.curve = model.branches.map(({ start }) => start);
    this.section = model.branches.map(() => 0);
  }

  /** Puts a branch on another curve. */
  take(branch: number, curve: number): void {
    if (this.curve[branch] === curve) return;
    this.curve[branch] = curve;
    this.section[branch] = 0;
  }

  /** Ways out of the sections that branches are on, in the order of the branches; rank 0. */
  exits(): Guard[] {
    return this.model.branches.flatMap(({ a, b, curves }, k) => {
      const { from, to } = curves[this.curve[k]!]![this.section[k]!]!;
      const here = this.section[k]!;
      const moving = (by: number): Pick<Guard, 'rank' | 'way' | 'back' | 'fire'> => ({
        rank: 0,
        way: `${k}: ${here} to ${here + by}`,
        back: `${k}: ${here + by} to ${here}`,
        fire: () => void (this.section[k]! += by),
      });
      const guards: Guard[] = [];
      if (to < Infinity) guards.push({ plus: a, minus: b, offset: to, ...moving(1) });
      if (from > -Infinity) guards.push({ plus: b, minus: a, offset: -from, ...moving(-1) });
      return [...guards, ...this.changeOver(k)];
    });
  }

  /**
   * Moves branches until none is outside its section: the first one in order (Murty's least index rule), and where that
   * goes on without end, one drawn at random, from sections drawn at random. False where nothing is found.
   */
  settle(look: () => { equations: Equations; y: number[] }): { equations: Equations; y: number[] } | undefined {
    const draw = drawing(this.seed ?? 1);
    for (let round = 0; round < MOST_IN_ORDER; round++) {
      const now = look();
      const passed = this.passed(now);
      if (passed.length === 0) return now;
      passed[this.seed === undefined ? 0 : Math.floor(draw() * passed.length)]!.fire(0);
    }
    // Only transistors that amplify can make that happen.
    if (!this.model.branches.some(({ amplifies }) => amplifies !== undefined)) return undefined;
    if (++this.searches > MOST_SEARCHES) return undefined;
    for (let walk = 0; walk < WALKS; walk++) {
      for (let move = 0; move < MOST_IN_WALK; move++) {
        const now = look();
        const passed = this.passed(now);
        if (passed.length === 0) return now;
        passed[Math.floor(draw() * passed.length)]!.fire(0);
      }
      this.shuffle(draw);
    }
    return undefined;
  }

  /** The ways out whose limits are passed. */
  private passed({ equations, y }: { equations: Equations; y: readonly number[] }): Guard[] {
    return this.exits().filter((guard) => {
      const row = rowOf(guard, equations);
      const value = dot(row, y);
      if (!(value > CLEARLY)) return Number.isNaN(value);
      // What has just met its limit stands on it; whether it stays is a matter of where it goes from there.
      return !this.isWayBack(guard) || value > LEAVING || slopeOf(row, equations, y) > 0;
    });
  }

  /** Whether a guard is a way out of a section, and the branch has not just come that way. */
  isAfresh({ way }: Guard): boolean {
    return way !== undefined && !this.waysBack.has(way);
  }

  private isWayBack({ way }: Guard): boolean {
    return way !== undefined && this.waysBack.has(way);
  }

  /** Draws sections for all branches with several, on the curves they are on. */
  private shuffle(draw: () => number): void {
    this.model.branches.forEach(({ curves, amplifies }, k) => {
      if (amplifies !== undefined) this.curve[k] = draw() < 0.5 ? 0 : 1;
      this.section[k] = Math.floor(draw() * curves[this.curve[k]!]!.length);
    });
  }

  /** Where a branch that amplifies comes to what its other curve lets through, and the way back. */
  private changeOver(k: number): Guard[] {
    const { model, curve, section } = this;
    const { a, b, curves, amplifies } = model.branches[k]!;
    if (amplifies === undefined || (curve[k] === 1 && section[k] === 0)) return [];
    const base = model.branches[amplifies.by]!;
    const { ohms: inside, volts: forward } = base.curves[0]![section[amplifies.by]!]!;
    const { ohms, volts } = curves[1]![1]!;
    // What the other curve carries beyond this one, in volts across its resistance.
    const times = inside === Infinity ? 0 : (ohms * amplifies.gain) / inside;
    const offset = volts - times * forward;
    if (curve[k] === 1) {
      const back = (): void => void ([curve[k], section[k]] = [0, 0]);
      const also = { plus: base.b, minus: base.a, times };
      return [{ plus: a, minus: b, offset, also, rank: 0, way: `${k}: off`, back: `${k}: on`, fire: back }];
    }
    const over = (): void => void ([curve[k], section[k]] = [1, 1]);
    const also = { plus: base.a, minus: base.b, times };
    return [{ plus: b, minus: a, offset: -offset, also, rank: 0, way: `${k}: on`, back: `${k}: off`, fire: over }];
  }
}

/** How fast a row over y changes. */
function slopeOf(row: readonly number[], { rate, size }: Equations, y: readonly number[]): number {
  // All of it in long numbers: what is fast has died away, and its terms cancel.
  const along = rate.reduce((sum, each, k) => sum.addTimes(each, long(row[k]!)), new LongRow(size + 2));
  return y
    .reduce((sum, value, k) => sum.addTimes(along.pick([k]), long(value)), new LongRow(1))
    .addAt(0, long(row[size + 1]!)).high[0]!;
}

/** Numbers from 0 to 1, the same every time (Park and Miller 1988). */
function drawing(first: number): () => number {
  let seed = first;
  return () => (seed = (seed * 48271) % 2147483647) / 2147483647;
}
