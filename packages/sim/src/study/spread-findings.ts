import type { Unit } from '../quantity/index.ts';
import type { SpreadOutcome, SpreadRun } from './spread.ts';
import { type SpreadQuantity, valueAt } from './spread-quantity.ts';
import { varianceShares, type VarianceShares } from './spread-shares.ts';
import { type Statistics, statisticsOf, wilsonInterval } from './spread-statistics.ts';
import { isCorner, isFurther } from './spread-worst.ts';

/** Between what a reading is wanted (SI); null for no limit on that side. */
export interface SpreadLimits {
  readonly low: number | null;
  readonly high: number | null;
}

/** How many samples are where they should be. A sample in which a reading has no value is not. */
export interface InsideShare {
  readonly inside: number;
  readonly of: number;
  readonly share: number;
  /** Between what the share of all circuits lies with 95 % confidence (Wilson's score interval). */
  readonly confidence: readonly [low: number, high: number];
}

/** The furthest value that any run gave. */
export interface WorstValue {
  readonly value: number;
  /** The values of the quantities there (SI); null for none (no leakage). */
  readonly at: readonly (number | null)[];
  /** `corner`: every quantity at an end of its range; `inside`: found by the search between them; `sample`: only by chance. */
  readonly found: 'corner' | 'inside' | 'sample';
  /** Where it is not at a corner, the furthest value at one; null where none has a value. */
  readonly corner: number | null;
}

/** What the runs of a spread say of one reading. */
export interface ReadingSpread {
  readonly unit: Unit | null;
  /** With the circuit as it stands; null where there is none. */
  readonly nominal: number | null;
  /** Of the samples that have a value. */
  readonly statistics: Statistics;
  /** Samples without a value. */
  readonly missing: number;
  /** Why values are missing at samples or at corners, most frequent first. */
  readonly reasons: readonly { readonly reason: string; readonly count: number }[];
  /** Furthest values of all runs, random ones included; null where no run has a value. */
  readonly worst: { readonly least: WorstValue | null; readonly greatest: WorstValue | null };
  /** Corners without a value. */
  readonly cornersMissing: number;
  readonly limits: (SpreadLimits & InsideShare) | null;
  /** Null where the reading does not vary or there are too few samples. */
  readonly variance: VarianceShares | null;
}

/** What the runs of a spread say of all its readings. */
export interface SpreadFindings {
  readonly readings: readonly ReadingSpread[];
  /** Samples that are inside all limits; null where no reading has any. */
  readonly inside: InsideShare | null;
}

/** Reasons told for one reading. */
const MOST_REASONS = 10;

/**
 * Works out what the runs of a spread say.
 *
 * @param limits one for each reading of the plan; null where none are wanted.
 */
export function spreadFindings(
  quantities: readonly SpreadQuantity[],
  limits: readonly (SpreadLimits | null)[],
  outcome: SpreadOutcome,
): SpreadFindings {
  const readings = limits.map((limit, index) => readingSpread(quantities, limit, index, outcome));
  const wanted = limits.flatMap((limit, index) => (limit === null ? [] : [{ limit, index }]));
  const all = outcome.samples.filter(({ values }) =>
    wanted.every(({ limit, index }) => isInside(values[index] ?? null, limit)),
  );
  return { readings, inside: wanted.length === 0 ? null : insideShare(all.length, outcome.samples.length) };
}

function readingSpread(
  quantities: readonly SpreadQuantity[],
  limits: SpreadLimits | null,
  index: number,
  outcome: SpreadOutcome,
): ReadingSpread {
  const { nominal, samples, corners, units } = outcome;
  const seen = samples.filter(({ values }) => typeof values[index] === 'number');
  const values = seen.map((run) => run.values[index]!);
  const inside = limits === null ? 0 : values.filter((value) => isInside(value, limits)).length;
  return {
    unit: units[index] ?? null,
    nominal: nominal?.values[index] ?? null,
    statistics: statisticsOf(values),
    missing: samples.length - seen.length,
    reasons: reasonCounts([...samples, ...corners], index),
    worst: {
      least: worstOf(quantities, index, -1, outcome),
      greatest: worstOf(quantities, index, 1, outcome),
    },
    cornersMissing: corners.filter((run) => run.values[index] === null).length,
    limits: limits === null ? null : { ...limits, ...insideShare(inside, samples.length) },
    variance:
      varianceShares(
        seen.map(({ places }) => places),
        values,
      ) ?? null,
  };
}

function insideShare(inside: number, of: number): InsideShare {
  return { inside, of, share: of === 0 ? 0 : inside / of, confidence: wilsonInterval(inside, of) };
}

function isInside(value: number | null, { low, high }: SpreadLimits): boolean {
  return value !== null && (low === null || value >= low) && (high === null || value <= high);
}

/** Corners win over others that are no further, whatever was found first. */
function worstOf(
  quantities: readonly SpreadQuantity[],
  index: number,
  direction: 1 | -1,
  { cross, corners, searched, samples }: SpreadOutcome,
): WorstValue | null {
  const furthest = (runs: readonly SpreadRun[], than: SpreadRun | null): SpreadRun | null =>
    runs.reduce<SpreadRun | null>((best, run) => {
      const value = run.values[index] ?? null;
      if (value === null) return best;
      const known = best?.values[index] ?? null;
      return known === null || isFurther(value, known, direction) ? run : best;
    }, than);
  const ends = [...corners, ...searched.filter(({ places }) => isCorner(places))];
  const corner = furthest(ends, null);
  const inside = furthest([...cross, ...searched], corner);
  const best = furthest(samples, inside);
  const value = best?.values[index] ?? null;
  if (best === null || value === null) return null;
  const atCorner = corner?.values[index] ?? null;
  return {
    value,
    at: quantities.map((quantity, range) => finite(valueAt(quantity, best.places[range] ?? 0))),
    found: best === corner ? 'corner' : best === inside ? 'inside' : 'sample',
    corner: atCorner,
  };
}

/** A leakage of none has no resistance that could be written. */
function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function reasonCounts(runs: readonly SpreadRun[], index: number): ReadingSpread['reasons'] {
  const counts = new Map<string, number>();
  for (const { reasons } of runs) {
    const reason = reasons?.[index] ?? null;
    if (reason !== null) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  }
  return [...counts]
    .map(([reason, count]) => ({ reason, count }))
    .sort((a, b) => b.count - a.count)
    .slice(0, MOST_REASONS);
}
