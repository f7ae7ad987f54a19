import type { Situation } from './situation.ts';

/** In place of a guard's number where there is none. */
export const NO_GUARD = -1;
/** This many tolerances from its limit a guard is away from it, whatever is rounded. */
const AWAY = 4;
/** Nearer to its limit than this share of its tolerance a guard stands on it, whatever is rounded. */
const STANDING = 1 / 4;
/** Where the part of a guard that moves exceeds this many of its tolerances, its direction is certain. */
const CERTAIN = 32;
/** Limits that the state comes to closer together than this share of its way may be one instant. */
const APART = 2 ** -30;
/** So many looks without a range are enough: the state is where rounding plays a part, and will be again. */
const MOST_IN_VAIN = 16;

/** What an outlook reads of its situation, which has at most one state and whose inputs stand still. */
export type Foreseen = Pick<Situation, 'rates' | 'rest' | 'constants' | 'rows' | 'tolerances'> & {
  readonly guards: readonly { readonly guard: unknown }[];
};

/**
 * What becomes of a situation with one state, for all states of a range. There z(t) = rest + (z - rest) exp(-rate t) and each
 * guard is a straight line over z: which of them fires first, at once or once the state has come to its limit, is another
 * one only beyond the limit of one of them. So what was found for a state holds from limit to limit, less the tolerances
 * within which rounding plays a part. There, and wherever it is not plain, the range is empty: `GuardCheck` and
 * `EndingSearch` say then what becomes of it, and the same wherever an outlook says it.
 */
export class Outlook {
  /** The guard that fires first, or -1 for none, and whether at once. */
  guard = NO_GUARD;
  atOnce = false;
  /** Whether what fires is the move of a branch: one that has just moved is only taken back where that is clearly due. */
  moves = false;
  /** The law of the state, and the one of the guard: level + row (z - rest). */
  rest = Number.NaN;
  rate = Number.NaN;
  level = Number.NaN;
  row = Number.NaN;
  private low = Infinity;
  private high = -Infinity;
  private inVain = 0;

  /** Whether it tells what becomes of its situation for a state; it looks anew where it does not know yet. */
  covers(situation: Foreseen, z: number): boolean {
    return (z >= this.low && z <= this.high) || this.sees(situation, z);
  }

  private sees(situation: Foreseen, z: number): boolean {
    if (this.inVain >= MOST_IN_VAIN) return false;
    this.look(situation, z);
    if (z >= this.low && z <= this.high) return true;
    this.low = Infinity;
    this.inVain++;
    return false;
  }

  private look({ rates, rest, constants, rows, tolerances, guards }: Foreseen, z: number): void {
    this.rest = rest[0] ?? 0;
    this.rate = rates[0] ?? 0;
    this.low = -Infinity;
    this.high = Infinity;
    this.guard = NO_GUARD;
    this.atOnce = false;
    let leaves = false;
    let longest = 0;
    let second = 0;
    for (let g = 0; g < constants.length; g++) {
      const level = constants[g]!;
      const row = rows[g] ?? 0;
      const tolerance = tolerances[g]!;
      const moving = row * (z - this.rest);
      if (level + moving > -AWAY * tolerance) {
        if (moving >= 2 * CERTAIN * tolerance && level + moving <= STANDING * tolerance) {
          // It may stand on its limit, and leaves it for good.
          this.keepAbove(CERTAIN * tolerance, 0, row);
          this.keepAbove(-STANDING * tolerance, -level, -row);
          leaves = true;
          continue;
        }
        this.guard = g;
        this.atOnce = true;
        this.moves = guards[g]!.guard === undefined;
        this.keepFiring(level, row, tolerance, moving);
        return;
      }
      this.keepAbove(AWAY * tolerance, -level, -row);
      // A limit that the state comes to only in the end, to rounding, is not for here.
      if (Math.abs(level) <= AWAY * tolerance) this.low = Number.NaN;
      // Not above zero for a guard that never fires.
      const way = level / Math.abs(row);
      second = Math.max(second, Math.min(way, longest));
      if (way <= longest) continue;
      longest = way;
      this.guard = g;
      this.level = level;
      this.row = row;
    }
    if (this.guard === NO_GUARD ? leaves : longest - second < APART * longest) this.low = Number.NaN;
  }

  /** Keeps to the states for which a guard fires at once: past its limit, or standing on it and rising. */
  private keepFiring(level: number, row: number, tolerance: number, moving: number): void {
    if (moving <= -2 * CERTAIN * tolerance && level + moving >= -STANDING * tolerance) {
      this.keepAbove(CERTAIN * tolerance, 0, -row);
      this.keepAbove(-STANDING * tolerance, level, row);
    } else if (level + moving >= AWAY * tolerance) this.keepAbove(AWAY * tolerance, level, row);
    else this.low = Number.NaN;
  }

  /** Keeps to the states for which level + row (z - rest) lies above a bound. */
  private keepAbove(bound: number, level: number, row: number): void {
    if (row === 0) return;
    const limit = this.rest + (bound - level) / row;
    if (row > 0) this.low = Math.max(this.low, limit);
    else this.high = Math.min(this.high, limit);
  }
}
