import type { RandomSource } from '../core/random.ts';
import { findChanges } from './changes.ts';
import type { Judgement } from './claim-judge.ts';
import type { ClaimChoice } from './claim-plan.ts';

/** Points of one course; more are thinned out evenly. */
const MOST_POINTS = 61;
/** How closely the ends of the range in which a claim holds are found (share of their place). */
const EDGE = { precision: 1e-6, most: 1 };
/** Fresh values that a range is checked with. */
const FRESH = 20;
/** How often a range may be cut where a fresh value fails. */
const MOST_CUTS = 8;

/** A claim at one value of a choice, everything else as the board has it. */
export interface CoursePoint extends Judgement {
  readonly x: number;
}

/** A stretch in which a claim holds: around the board's own value, or where that does not hold, the widest one. */
interface HoldingRange {
  readonly low: number;
  readonly high: number;
  /** Whether it ends there only because nothing beyond was tried. */
  readonly lowIsEnd: boolean;
  readonly highIsEnd: boolean;
  /** Fresh values drawn in it, all of which hold; 0 where only the points count. */
  readonly checked: number;
}

/** A claim over one of its choices, everything else as the board has it. Plain data. */
export interface ClaimCourse {
  readonly points: readonly CoursePoint[];
  /** Null where the claim holds nowhere, and for words. */
  readonly range: HoldingRange | null;
}

/** What a claim comes to at one value of the choice; undefined when stopped. */
type Look = (x: number) => Judgement | undefined;

/**
 * Tries a claim along one choice and finds the largest stretch around the board's own value in which it holds: from there
 * outward to the first point that does not hold, then by halving between the last two, then checked with fresh values. Where
 * it does not hold with the board's own value, it goes outward from the middle of the widest stretch of points that hold.
 *
 * @returns undefined when stopped.
 */
export function claimCourse(choice: ClaimChoice, look: Look, random: RandomSource): ClaimCourse | undefined {
  const points: CoursePoint[] = [];
  for (const x of thinned(choice.points)) {
    const found = look(x);
    if (found === undefined) return undefined;
    points.push({ x, ...found });
  }
  const { nominal, words } = choice;
  if (words !== null) return { points, range: null };
  const now = nominal === null ? null : look(nominal);
  if (now === undefined) return undefined;
  const middle = now?.verdict === 'holds' ? nominal : middleOfWidest(choice, points);
  if (middle === null) return { points, range: null };
  const down = points.filter(({ x }) => x < middle).reverse();
  const up = points.filter(({ x }) => x > middle);
  const low = edge(choice, middle, down, look);
  const high = edge(choice, middle, up, look);
  if (low === undefined || high === undefined) return undefined;
  const found = { low: low.at, high: high.at, lowIsEnd: low.isEnd, highIsEnd: high.isEnd, checked: 0 };
  const range = choice.continuous ? checked(choice, middle, found, look, random) : found;
  return range === undefined ? undefined : { points, range };
}

/** The middle point of the widest stretch of neighbouring points that hold; null where none does. */
function middleOfWidest({ scale }: ClaimChoice, points: readonly CoursePoint[]): number | null {
  let widest: { readonly first: number; readonly last: number; readonly width: number } | undefined;
  for (let first = 0; first < points.length; first++) {
    if (points[first]?.verdict !== 'holds') continue;
    let last = first;
    while (points[last + 1]?.verdict === 'holds') last++;
    const [low, high] = [points[first]!.x, points[last]!.x];
    const width = scale === 'logarithmic' && low > 0 ? Math.log(high / low) : high - low;
    if (widest === undefined || width > widest.width) widest = { first, last, width };
    first = last;
  }
  return widest === undefined ? null : points[Math.floor((widest.first + widest.last) / 2)]!.x;
}

/** How far a claim holds in one direction. */
function edge(
  choice: ClaimChoice,
  nominal: number,
  outward: readonly CoursePoint[],
  look: Look,
): { at: number; isEnd: boolean } | undefined {
  let last = nominal;
  for (const { x, verdict } of outward) {
    if (verdict === 'holds') {
      last = x;
      continue;
    }
    const at = choice.continuous ? lastHolding(last, x, look) : last;
    return at === undefined ? undefined : { at, isEnd: false };
  }
  return { at: last, isEnd: true };
}

/** The last place known to hold on the way from one that holds to one that does not. */
function lastHolding(good: number, bad: number, look: Look): number | undefined {
  const [from, to] = (good < bad ? [good, bad] : [bad, good]).map((at) => ({ at, seen: at === good }));
  if (from === undefined || to === undefined) return undefined;
  const holds = (at: number): boolean | undefined => {
    const found = look(at);
    return found === undefined ? undefined : found.verdict === 'holds';
  };
  const changes = findChanges(from, to, holds, String, EDGE);
  const [change] = changes ?? [];
  if (change === undefined) return undefined;
  return good < bad ? change.below : change.above;
}

/** The range once fresh values hold in all of it; cut where one does not. */
function checked(
  choice: ClaimChoice,
  nominal: number,
  found: HoldingRange,
  look: Look,
  random: RandomSource,
): HoldingRange | undefined {
  let range = found;
  for (let cuts = 0; cuts <= MOST_CUTS; cuts++) {
    if (range.low === range.high) return range;
    let failing: number | undefined;
    for (let fresh = 0; fresh < FRESH && failing === undefined; fresh++) {
      const x = between(range, choice.scale, random.next());
      const seen = look(x);
      if (seen === undefined) return undefined;
      if (seen.verdict !== 'holds') failing = x;
    }
    if (failing === undefined) return { ...range, checked: FRESH };
    const at = lastHolding(nominal, failing, look);
    if (at === undefined) return undefined;
    range = failing > nominal ? { ...range, high: at, highIsEnd: false } : { ...range, low: at, lowIsEnd: false };
  }
  // Cut again and again: no stretch is known to hold but this one value.
  return { low: nominal, high: nominal, lowIsEnd: false, highIsEnd: false, checked: 0 };
}

function between({ low, high }: HoldingRange, scale: ClaimChoice['scale'], share: number): number {
  return scale === 'logarithmic' && low > 0 ? low * (high / low) ** share : low + (high - low) * share;
}

function thinned(points: readonly number[]): readonly number[] {
  if (points.length <= MOST_POINTS) return points;
  const at = (index: number): number => Math.round((index * (points.length - 1)) / (MOST_POINTS - 1));
  return Array.from({ length: MOST_POINTS }, (_, index) => points[at(index)] ?? NaN);
}
