import { type ExponentialSum, signChanges } from '../core/exponential-sum.ts';

/** The level that a signal tends to if nothing switches; `undefined` where it runs away, on a ramp or as it grows. */
export function aimOf({ constant, slope, coefficients, rates }: ExponentialSum): number | undefined {
  if (slope !== 0) return undefined;
  for (let k = 0; k < rates.length && rates[k]! < 0; k++) if (coefficients[k] !== 0) return undefined;
  let aim = constant;
  // Terms that stand still come before those that decay.
  for (let k = 0; k < rates.length && rates[k]! <= 0; k++) aim += coefficients[k]!;
  return aim;
}

/** An aim this near to the limit (share of it) is the limit itself but for rounding. */
const ROUNDING = 1e-12;

/**
 * Whether a voltage never passes a limit if nothing switches.
 *
 * @param distance the voltage minus the limit (V).
 * @param limit the limit (V), for scale.
 */
export function neverPasses(distance: ExponentialSum, limit: number): boolean {
  const aim = aimOf(distance);
  return aim !== undefined && aim <= ROUNDING * Math.abs(limit) && signChanges(distance, Infinity).length === 0;
}
