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
  const free = points.filter((each) => each.length > 1).length;
  const most = Math.max(2, Math.floor(MOST_SURVEYED ** (1 / Math.max(1, free)) + 1e-9));
  const axes = points.map((each) => nodesOf(each, most));
  const strides = axes.map((_, index) => axes.slice(index + 1).reduce((product, { length }) => product * length, 1));
  const found = [...combinations(axes)].map((set) => runOnce(set));
  return {
    runs: found.length,
    foretell(set) {
      const corners = cornersAround(set, axes, strides);
      return Array.from({ length: wishes }, (_, wish) =>
        meanOf(corners.map(({ run, weight }) => ({ value: found[run]![wish] ?? NaN, weight }))),
      );
    },
  };
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

/** The points of the grid around a set, and how much each of them counts there. */
function cornersAround(
  set: readonly number[],
  axes: readonly (readonly number[])[],
  strides: readonly number[],
): Corner[] {
  let corners: Corner[] = [{ run: 0, weight: 1 }];
  axes.forEach((axis, index) => {
    const value = set[index]!;
    const above = axis.findIndex((node) => node >= value);
    const high = above < 0 ? axis.length - 1 : above;
    const low = Math.max(0, axis[high] === value ? high : high - 1);
    const share = low === high ? 0 : placeBetween(value, axis[low]!, axis[high]!);
    const step = strides[index]!;
    corners = corners.flatMap(({ run, weight }) => [
      { run: run + low * step, weight: weight * (1 - share) },
      ...(share > 0 ? [{ run: run + high * step, weight: weight * share }] : []),
    ]);
  });
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
