/** Errors are compared to so many parts: what is closer is rounding. */
const PARTS = 1e9;

/** What a reading should be (SI): how far off it may be is more than 0. */
export interface Wish {
  readonly target: number;
  readonly allowance: number;
}

/** What trying one set gave. Plain data. */
export interface ChosenSet {
  /** One for each reading (SI). */
  readonly values: readonly (number | null)[];
  /** Why readings have no value; only where one has none. */
  readonly reasons?: readonly (string | null)[];
  /** What would be harmed or beyond its limits, in a sentence; only then. */
  readonly harm?: string;
  /** The readings with the largest leakages and input currents, where they were tried; null where that leaves no value. */
  readonly strained?: readonly (number | null)[];
  readonly strainedReason?: string;
}

/** A set that can be built, and how near it comes. */
export interface RankedSet {
  /** Its position in the plan. */
  readonly set: number;
  /** One for each reading (SI). */
  readonly values: readonly number[];
  /** The largest of the readings' errors, each as a share of what is allowed: up to 1 all wishes are granted. */
  readonly error: number;
  /** Whether every reading is as near as it should be. */
  readonly granted: boolean;
  readonly strained: readonly number[] | null;
}

/**
 * Ranks sets by the error of the reading that misses most, measured by what it is allowed; of equals the one first that
 * misses less in all readings together, then the earlier.
 * Sets that would harm something, and sets that have no value, or none once leakages are large, are not among them.
 */
export function rankedSets(
  sets: readonly { readonly set: number; readonly chosen: ChosenSet }[],
  wishes: readonly Wish[],
): RankedSet[] {
  const ranked = sets.flatMap(({ set, chosen }) => {
    const { values, strained } = chosen;
    if (chosen.harm !== undefined || !areNumbers(values)) return [];
    if (strained !== undefined && !areNumbers(strained)) return [];
    const errors = errorsOf(values, wishes);
    const error = Math.max(...errors);
    const places = [error, errors.reduce((sum, each) => sum + each, 0)].map((each) => Math.round(each * PARTS));
    const rank: RankedSet = { set, values, error, granted: error <= 1, strained: strained ?? null };
    return [{ rank, worst: places[0]!, sum: places[1]! }];
  });
  return ranked.sort((a, b) => a.worst - b.worst || a.sum - b.sum || a.rank.set - b.rank.set).map(({ rank }) => rank);
}

/** The errors of all readings, each as a share of what is allowed. */
function errorsOf(values: readonly number[], wishes: readonly Wish[]): number[] {
  return wishes.map(({ target, allowance }, index) => Math.abs((values[index] ?? NaN) - target) / allowance);
}

function areNumbers(values: readonly (number | null)[]): values is readonly number[] {
  return values.every((value) => value !== null);
}
