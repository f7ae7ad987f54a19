import type { Evaluation } from './evaluate.ts';

/** Ranges of which all corners are run: up to 2^8 of them. */
const MOST_ALL_CORNERS = 8;

/** Steps of the search as shares of half a range, the largest first: from end to end, then closer and closer. */
const STEPS = [2, 1, 0.5, 0.25, 0.125, 0.0625] as const;
/** Runs of one search. */
const MOST_RUNS = 600;
/** A value must be better by this share of it to count as better: less is rounding. */
const BETTER = 1e-9;

/** A run at some places of the ranges: -1 and 1 are their ends. */
export interface PlacedRun {
  readonly places: readonly number[];
  readonly evaluation: Evaluation;
}

/** How many corners `count` ranges have that are all run; 0 where there are too many to run them all. */
export function cornerCount(count: number): number {
  return count <= MOST_ALL_CORNERS ? 2 ** count : 0;
}

/** Corner `index` of `count` ranges: bit i tells the end of range i. */
export function cornerPlaces(count: number, index: number): number[] {
  return Array.from({ length: count }, (_, range) => (Math.floor(index / 2 ** range) % 2 === 0 ? -1 : 1));
}

/** The middle and then, for each range in turn, its two ends with all others in their middle. */
export function crossPlaces(count: number): number[][] {
  const middle = new Array<number>(count).fill(0);
  return [middle, ...middle.flatMap((_, range) => [middle.with(range, -1), middle.with(range, 1)])];
}

/** Whether all places are ends. */
export function isCorner(places: readonly number[]): boolean {
  return places.every((place) => Math.abs(place) === 1);
}

/** Whether a value is further in a direction (1 up, -1 down) than another, by more than rounding. */
export function isFurther(value: number, than: number, direction: 1 | -1): boolean {
  return direction * (value - than) > BETTER * Math.abs(than);
}

/**
 * Looks for the extreme of a reading: from the corner to which each range alone points, it changes one place at a time, by
 * whole ranges first and ever less later, as long as that leads further. So it tries the neighbouring corners before it
 * leaves them, and finds an extreme inside where one can be reached by going uphill.
 *
 * @param look runs at the places given; undefined when stopped.
 * @returns the furthest run found that has a value; null where none has; undefined when stopped.
 */
export function searchWorst(
  count: number,
  reading: number,
  direction: 1 | -1,
  look: (places: readonly number[]) => Evaluation | undefined,
): PlacedRun | null | undefined {
  let runs = 0;
  const valueOf = (evaluation: Evaluation): number => evaluation.measured[reading]?.value ?? NaN;
  const cross = crossPlaces(count);
  const seen: number[] = [];
  let best: { places: readonly number[]; evaluation: Evaluation; value: number } | null = null;
  /** Runs at some places and keeps them if they are the furthest yet. */
  const attempt = (places: readonly number[]): boolean | undefined => {
    runs++;
    const evaluation = look(places);
    if (evaluation === undefined) return undefined;
    const value = valueOf(evaluation);
    seen.push(value);
    if (Number.isNaN(value) || (best !== null && !isFurther(value, best.value, direction))) return false;
    best = { places, evaluation, value };
    return true;
  };
  for (const places of cross) if (attempt(places) === undefined) return undefined;
  // Where a range alone changes nothing, either end will do.
  const pointed = Array.from({ length: count }, (_, range) => {
    const [down, up] = [seen[1 + 2 * range]!, seen[2 + 2 * range]!];
    return direction * (up - down) >= 0 || Number.isNaN(down) ? 1 : -1;
  });
  if (attempt(pointed) === undefined) return undefined;
  for (const step of STEPS) {
    for (let moved = true; moved && runs < MOST_RUNS; ) {
      moved = false;
      for (let range = 0; range < count && runs < MOST_RUNS; range++) {
        for (const way of [step, -step]) {
          const from: readonly number[] = (best as PlacedRun | null)?.places ?? pointed;
          const to = Math.max(-1, Math.min(1, from[range]! + way));
          if (to === from[range]) continue;
          const found = attempt(from.with(range, to));
          if (found === undefined) return undefined;
          if (found) moved = true;
          if (found) break;
        }
      }
    }
  }
  return best;
}
