import { combinations } from './combinations.ts';

/** Runs of a survey at most. */
const MOST_SURVEYED = 200;

/** What a coarse grid of runs says of the sets between its points. */
export interface Survey {
  /** How many runs it took. */
  readonly runs: number;
  /** What it foretells for a set: one number for each wish, NaN where no run near it has a value. */
  readonly foretell: (set: readonly number[]) => number[];
}

/**
 * Surveys sets of values where no rule tells which are near: runs on a coarse grid, and between them the straight lines of
 * logarithms - exact for products of powers, such as R C, and near for sums of such.
 *
 * @param points what each value may be, in any order.
 * @param runOnce readings with a set of values (SI), null where there is none.
 */
export function surveyOf(
  points: readonly (readonly number[])[],
  wishes: number,
  runOnce: (set: readonly number[]) => readonly (number | null)[],
): Survey {
  const axes = axesOf(points);
  const strides = axes.map((_, index) => axes.slice(index + 1).reduce((product, { length }) => product * length, 1));
  const found = [...combinations(axes)].map((set) => runOnce(set));
  // Every value comes again and again.
  const sides = axes.map((axis, index) => new Map(points[index]!.map((value) => [value, sideOf(value, axis)])));
  return {
    runs: found.length,
    foretell(set) {
      const own = set.map((value, index) => sides[index]!.get(value) ?? sideOf(value, axes[index]!));
      const corners = cornersAround(own, strides);
      return Array.from({ length: wishes }, (_, wish) =>
        meanOf(corners.map(({ run, weight }) => ({ value: found[run]![wish] ?? NaN, weight }))),
      );
    },
  };
}

/** The sets that {@link surveyOf} runs, in its order. */
export function surveyNodes(points: readonly (readonly number[])[]): (readonly number[])[] {
  return [...combinations(axesOf(points))];
}

/** The values of each that the runs are made with. */
function axesOf(points: readonly (readonly number[])[]): number[][] {
  const free = points.filter((each) => each.length > 1).length;
  const most = Math.max(2, Math.floor(MOST_SURVEYED ** (1 / Math.max(1, free)) + 1e-9));
  return points.map((each) => nodesOf(each, most));
}

/** At most so many of the values, ascending, the ends among them. */
function nodesOf(values: readonly number[], most: number): number[] {
  const ascending = [...new Set(values)].sort((a, b) => a - b);
  const count = Math.min(most, ascending.length);
  if (count === 1) return ascending;
  return Array.from({ length: count }, (_, k) => ascending[Math.round((k * (ascending.length - 1)) / (count - 1))]!);
}

interface Corner {
  readonly run: number;
  readonly weight: number;
}

/** Where a value lies between two neighbouring nodes of its axis. */
interface Side {
  readonly low: number;
  readonly high: number;
  /** How much the upper one counts, 0 to 1. */
  readonly share: number;
}

function sideOf(value: number, axis: readonly number[]): Side {
  const above = axis.findIndex((node) => node >= value);
  const high = above < 0 ? axis.length - 1 : above;
  const low = Math.max(0, axis[high] === value ? high : high - 1);
  return { low, high, share: low === high ? 0 : placeBetween(value, axis[low]!, axis[high]!) };
}

/** The points of the grid around a set, and how much each of them counts there. */
function cornersAround(sides: readonly Side[], strides: readonly number[]): Corner[] {
  let corners: Corner[] = [{ run: 0, weight: 1 }];
  for (const [index, { low, high, share }] of sides.entries()) {
    const step = strides[index]!;
    const next: Corner[] = [];
    for (const { run, weight } of corners) {
      next.push({ run: run + low * step, weight: weight * (1 - share) });
      if (share > 0) next.push({ run: run + high * step, weight: weight * share });
    }
    corners = next;
  }
  return corners;
}

function placeBetween(value: number, low: number, high: number): number {
  const place = low > 0 ? Math.log(value / low) / Math.log(high / low) : (value - low) / (high - low);
  return Math.min(1, Math.max(0, place));
}

/** The weighted mean of what has a value: of logarithms, where all are positive. */
function meanOf(all: readonly { readonly value: number; readonly weight: number }[]): number {
  const known = all.filter(({ value }) => Number.isFinite(value));
  const weights = known.reduce((sum, { weight }) => sum + weight, 0);
  if (weights === 0) return NaN;
  const positive = known.every(({ value }) => value > 0);
  const mean =
    known.reduce((sum, { value, weight }) => sum + weight * (positive ? Math.log(value) : value), 0) / weights;
  return positive ? Math.exp(mean) : mean;
}
