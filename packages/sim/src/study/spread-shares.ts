import { cholesky, solveLower, solveLowerTransposed, zeros } from '../core/dense.ts';

/** Samples that there must be for each quantity before shares are told. */
const FEWEST = 4;

/** How much of the variance of a reading each quantity brings about. */
export interface VarianceShares {
  /** One for each quantity, from 0 to 1. */
  readonly shares: readonly number[];
  /** What no straight line explains: curvature, jumps, and quantities that act together. */
  readonly rest: number;
}

/**
 * Divides the variance of a reading among the quantities by least squares: the reading is taken for a sum of straight
 * lines, one for each quantity, and what a line spreads over the samples is that quantity's share. Quantities are drawn
 * independently, so their shares add up (common practice, no source: squared standardised regression coefficients).
 *
 * @param places of each sample, one for each quantity.
 * @param values the reading at each sample.
 * @returns undefined for too few samples, and for a reading that does not vary.
 */
export function varianceShares(
  places: readonly (readonly number[])[],
  values: readonly number[],
): VarianceShares | undefined {
  const count = values.length;
  const n = places[0]?.length ?? 0;
  if (n === 0 || count < FEWEST * (n + 1)) return undefined;
  const means = Array.from({ length: n }, (_, i) => places.reduce((sum, place) => sum + place[i]!, 0) / count);
  const first = values[0]!;
  const mean = values.reduce((sum, value) => sum + (value - first), 0) / count;
  const products = zeros(n, n);
  const withValue = zeros(n, 1);
  let total = 0;
  for (const [index, place] of places.entries()) {
    const value = values[index]! - first - mean;
    total += value * value;
    for (let i = 0; i < n; i++) {
      const own = place[i]! - means[i]!;
      withValue.data[i]! += own * value;
      for (let j = 0; j <= i; j++) products.data[i * n + j]! += own * (place[j]! - means[j]!);
    }
  }
  // What is left of equal values is rounding.
  if (!(total > count * (1e-12 * first) ** 2)) return undefined;
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) products.data[j * n + i] = products.data[i * n + j]!;
  const lower = cholesky(products);
  const slopes = solveLowerTransposed(lower, solveLower(lower, withValue));
  const parts = Array.from({ length: n }, (_, i) => (slopes.data[i]! ** 2 * products.data[i * n + i]!) / total);
  const explained = Array.from({ length: n }, (_, i) => slopes.data[i]! * withValue.data[i]!);
  const known = explained.reduce((sum, part) => sum + part, 0) / total;
  // By chance the samples of two quantities are a little alike; their shares are scaled to what all explain together.
  const sum = parts.reduce((all, part) => all + part, 0);
  return { shares: parts.map((part) => (sum === 0 ? 0 : (part / sum) * known)), rest: Math.max(0, 1 - known) };
}
