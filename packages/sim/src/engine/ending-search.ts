import type { CrossingFinder } from './crossing.ts';
import type { GuardCheck } from './guard-check.ts';
import type { Situation } from './situation.ts';

/**
 * Two instants of one segment closer than this share of its length are one instant: the roundings of a few dozen segments
 * lie between them, no physics does.
 */
export const SAME_INSTANT = 64 * Number.EPSILON;
/** Within this share of a segment's length it is worth looking whether a guard and a known time are one instant. */
export const NEARLY_SAME = 2 ** -33;

/** Finds which guard ends a segment, and when. One search serves one run. */
export class EndingSearch {
  /** How far to search, then when the guard found fires (s, local). */
  length = 0;

  constructor(
    private readonly finder: CrossingFinder,
    private readonly check: GuardCheck,
  ) {}

  /**
   * Searches the live guards of a situation up to a known time, `length`; gives the one that fires, -1 for none. What
   * happens at the known time goes before a guard of the same instant; among guards of one instant the one of lower rank,
   * earlier in the list, goes first.
   */
  run(situation: Situation): number {
    const { live, liveCount, coefficients, leaving } = this.check;
    let length = this.length;
    let ending = -1;
    const { grows } = situation;
    const someLeave = leaving.size > 0;
    const likely = liveCount > 0 ? situation.likely : -1;
    // The guard that ended this situation last time goes first: its root usually rules the others out at one evaluation.
    for (let turn = likely >= 0 ? -1 : 0; turn < liveCount; turn++) {
      const g = turn < 0 ? likely : live[turn]!;
      if (turn >= 0 && g === likely) continue;
      const limit = ending < 0 ? length * (1 - SAME_INSTANT) : length;
      let found = grows
        ? this.finder.firstOfGrowing(situation, g, coefficients, limit)
        : this.finder.first(situation, g, coefficients, limit, g < ending);
      const going = someLeave ? leaving.get(g) : undefined;
      if (going) found = this.check.firesAfter(situation, g, going, found);
      if (!(found <= limit)) continue;
      if (ending < 0 && length - found < NEARLY_SAME * length && this.standsOnLimit(situation, g, length)) continue;
      if (ending < 0 || g < ending || found < length * (1 - SAME_INSTANT)) {
        ending = g;
        length = found;
      }
    }
    this.length = length;
    // Of those that were found on the way it depends on the known time which ones they are, and so on where a caller stops.
    if (ending >= 0) situation.roots[ending] = length;
    return ending;
  }

  /** Whether a guard is no further past its limit at a time than rounding; over a long interval it adds up. */
  private standsOnLimit(situation: Situation, g: number, time: number): boolean {
    return this.finder.valueOf(situation, g, this.check.coefficients, time) <= situation.tolerances[g]!;
  }
}
