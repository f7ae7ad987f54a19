import type { GuardedSums } from './crossing.ts';

const EPSILON = Number.EPSILON;
/** How many roundings of the voltages that a guard's constant is the difference of its tolerance stands for. */
const TOLERATED = 32;

/**
 * By how much the time of a crossing may be off (s): the rounding of all terms of the guard at that time, that of their
 * exponents and of the voltages behind its constant included, over its slope there. Where the slope is as small as that, as at a limit that is only grazed, the
 * time is known to the square root of rounding, by the bend.
 *
 * @param coefficients the n coefficients of each guard in turn, at the beginning of the segment.
 * @param time of the crossing, from the beginning of the segment (s).
 * @param powers the exponentials of the rates at that time, those of idle rates left out of account.
 */
export function crossingError(
  guards: GuardedSums,
  g: number,
  coefficients: Float64Array,
  time: number,
  powers: Float64Array,
): number {
  const { rates, idle } = guards;
  const n = rates.length;
  let slope = guards.slopes[g]!;
  let size = Math.abs(guards.constants[g]!) + Math.abs(slope * time);
  let bend = 0;
  for (let k = 0; k < n; k++) {
    if (k < idle) {
      size += Math.abs(coefficients[g * n + k]!);
      continue;
    }
    const term = coefficients[g * n + k]! * powers[k]!;
    size += Math.abs(term) * (1 + Math.abs(rates[k]!) * time);
    slope -= rates[k]! * term;
    bend += rates[k]! * rates[k]! * term;
  }
  const rounding = EPSILON * size + guards.tolerances[g]! / TOLERATED;
  const byBend = bend === 0 ? Infinity : Math.sqrt((2 * rounding) / Math.abs(bend));
  return Math.min(slope === 0 ? Infinity : rounding / Math.abs(slope), byBend);
}
