import type { Wish } from '../study/choose-rank.ts';
import type { StopSignal } from '../study/evaluate.ts';
import { combinations } from './combinations.ts';

/** Sets between two looks at the signal. */
const LOOKS = 4096;

/** What is expected of a set: one number for each wish, NaN where nothing is known. */
export type Foretell = (set: readonly number[]) => readonly number[];

/**
 * Of all combinations those that are expected to come nearest to the wishes, the nearest first, those met first before others
 * that are as near.
 *
 * @param scale what expectations are multiplied by, one for each wish.
 * @param most how many are wanted.
 * @returns undefined when stopped.
 */
export function nearestSets(
  points: readonly (readonly number[])[],
  foretell: Foretell,
  wishes: readonly Wish[],
  scale: readonly number[],
  most: number,
  signal?: StopSignal,
): (readonly number[])[] | undefined {
  let nearest: { readonly set: readonly number[]; readonly error: number; readonly place: number }[] = [];
  // Sets no nearer than this are passed over. Sorting now and then is all that a million of them need.
  let limit = Infinity;
  const keepBest = (): void => {
    nearest = nearest.sort((a, b) => a.error - b.error || a.place - b.place).slice(0, most);
    if (nearest.length === most) limit = nearest.at(-1)?.error ?? Infinity;
  };
  let place = 0;
  for (const set of combinations(points)) {
    if (place % LOOKS === 0 && signal?.aborted === true) return undefined;
    const error = errorOf(foretell(set), wishes, scale);
    if (error < limit || nearest.length < most) nearest.push({ set, error, place });
    place++;
    if (nearest.length >= 2 * most) keepBest();
  }
  keepBest();
  return nearest.map(({ set }) => set);
}

/** The largest error of what is known, as a share of what is allowed; infinite where nothing is. */
function errorOf(said: readonly number[], wishes: readonly Wish[], scale: readonly number[]): number {
  let largest = -1;
  for (let index = 0; index < wishes.length; index++) {
    const { target, allowance } = wishes[index]!;
    const error = Math.abs(said[index]! * scale[index]! - target) / allowance;
    if (error > largest) largest = error;
  }
  return largest < 0 ? Infinity : largest;
}
