import fc from 'fast-check';
import { spread } from './arbitrary-numbers.ts';
import {
  type BigReal,
  big,
  bigExp,
  bigRootNear,
  bigSolve,
  bigValueAt,
  type SumParts,
  times,
  toDouble,
} from './big-real.ts';

/** A sum of exponentials made to be zero at chosen times. */
export interface PlantedSum {
  readonly sum: SumParts & { readonly coefficients: Float64Array; readonly rates: Float64Array };
  /** All zeros at positive times, ascending: those of the sum with its rounded coefficients, to the nearest double. */
  readonly roots: readonly number[];
  /** For each root, by how much of itself it moves when every term of the sum moves by its rounding. */
  readonly conditions: readonly number[];
}

/** What to plant. Signs of the whole sum are free: `sign` is that of the constant, or of the slope where there is one. */
interface Plan {
  /** Positive, ascending. */
  readonly rates: readonly number[];
  /** As many as there are rates, one more with a slope; negative ones are zeros before the start. */
  readonly times: readonly number[];
  readonly ramp: boolean;
  readonly sign: number;
}

/** How well behaved a planted sum has to be; others are not made. */
export interface Bounds {
  readonly coefficient: number;
  readonly condition: number;
}

/**
 * Solves for the coefficients that put the zeros where the plan wants them. n decaying terms beside a constant (and a
 * ramp) have no more zeros than planted (they form a Chebyshev system, Karlin and Studden 1966), so these are all.
 */
function plant(plan: Plan, bounds: Bounds): PlantedSum | undefined {
  const { rates, ramp, sign } = plan;
  const planted = [...plan.times].sort((a, b) => a - b);
  for (let j = 1; j < planted.length; j++) {
    if (planted[j]! - planted[j - 1]! <= 1e-3 * Math.abs(planted[j]!)) return undefined;
  }
  const rows = planted.map((time): BigReal[] => {
    const at = big(time);
    return [...(ramp ? [big(1)] : []), ...rates.map((rate) => bigExp(-times(big(rate), at)))];
  });
  const known = planted.map((time) => big(ramp ? -time : -1));
  let solution: BigReal[];
  try {
    solution = bigSolve(rows, known);
  } catch {
    return undefined;
  }
  const numbers = solution.map((value) => sign * toDouble(value));
  const sum = {
    constant: ramp ? numbers[0]! : sign,
    slope: ramp ? sign : 0,
    coefficients: Float64Array.from(ramp ? numbers.slice(1) : numbers),
    rates: Float64Array.from(rates),
  };
  const largest = Math.max(Math.abs(sum.constant), ...sum.coefficients.map(Math.abs));
  if (!(largest < bounds.coefficient) || sum.coefficients.includes(0)) return undefined;
  const roots: number[] = [];
  const conditions: number[] = [];
  for (const time of planted) {
    const condition = conditionAt(sum, time);
    if (!(condition < bounds.condition)) return undefined;
    if (time < 0) continue;
    roots.push(toDouble(bigRootNear(sum, time)));
    conditions.push(condition);
  }
  return { sum, roots, conditions };
}

/** Rounding of all terms at a time, that of their exponents included. */
export function roundingAt(sum: SumParts, time: number): number {
  let size = Math.abs(sum.constant) + Math.abs(sum.slope * time);
  for (let k = 0; k < sum.rates.length; k++) {
    const exponent = sum.rates[k]! * time;
    size += Math.abs(sum.coefficients[k]!) * Math.exp(-exponent) * (1 + Math.abs(exponent));
  }
  return Number.EPSILON * size;
}

/** The rounding of all terms over what the sum changes in a time as long as the root itself. */
export function conditionAt(sum: SumParts, time: number): number {
  return roundingAt(sum, time) / Math.abs(toDouble(bigValueAt(sum, big(time)).slope) * time);
}

/**
 * Plans with n rates that are up to `ratio` apart. Most zeros lie where the term they belong to acts, in units of its time
 * constant; with a few before the start the sum has fewer zeros than it could have.
 */
function plans(n: number, ratio: number, ramp: boolean): fc.Arbitrary<Plan> {
  const count = ramp ? n + 1 : n;
  return fc
    .record({
      slowest: spread(1e-3, 1e3),
      steps: fc.array(spread(1.05, Math.max(1.2, ratio ** (1 / Math.max(1, n - 1)))), {
        minLength: n - 1,
        maxLength: n - 1,
      }),
      places: fc.array(spread(0.15, 6), { minLength: count, maxLength: count }),
      before: fc.array(fc.boolean(), { minLength: count, maxLength: count }),
      fewer: fc.boolean(),
      sign: fc.constantFrom(1, -1),
    })
    .map(({ slowest, steps, places, before, fewer, sign }) => {
      const rates = [slowest];
      for (const step of steps) rates.push(rates.at(-1)! * step);
      const fastest = rates.at(-1)!;
      const planted = places.map((place, j) =>
        fewer && before[j] ? -place / (4 * fastest) : place / rates[Math.max(0, n - 1 - j)]!,
      );
      return { rates, times: planted, ramp, sign };
    });
}

/**
 * Sums whose fastest term is still at work 28 to 42 of its time constants after the start, so that its coefficient is
 * 1e12 to 1e18 times that of what is left then.
 */
export function drownedSums(n: number, bounds: Bounds): fc.Arbitrary<PlantedSum> {
  return fc
    .tuple(plans(n, 100, false), spread(1e3, 1e6), spread(28, 42))
    .map(([plan, step, place]) => {
      const fast = plan.rates.at(-1)! * step;
      // What lies before the start moves along with the fastest term, or it would explode there.
      const earlier = plan.times.map((time) => (time < 0 ? time / step : time));
      return plant({ ...plan, rates: [...plan.rates, fast], times: [...earlier, place / fast] }, bounds);
    })
    .filter((planted) => planted !== undefined);
}

/** Planted sums within bounds. */
export function plantedSums(n: number, ratio: number, ramp: boolean, bounds: Bounds): fc.Arbitrary<PlantedSum> {
  return plans(n, ratio, ramp)
    .map((plan) => plant(plan, bounds))
    .filter((planted) => planted !== undefined);
}
