import { type ExponentialSum, extremes, signChanges, valueAt } from '#sim/core/exponential-sum.ts';
import { CrossingFinder, type GuardedSums } from '#sim/engine/crossing.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread, volts } from '../support/arbitrary-numbers.ts';
import { big, bigRootNear, bigValueAt, toDouble } from '../support/big-real.ts';
import {
  type Bounds,
  conditionAt,
  type PlantedSum,
  roundingAt,
  plantedSums,
  drownedSums,
} from '../support/planted-sum.ts';

/**
 * How far a root may lie from the one that 512-bit arithmetic gives, in units of its condition (what the rounding of the
 * terms themselves moves it by): two for what evaluating a sum of a few terms loses, two for stopping where the value is
 * within two roundings of zero.
 */
const CONDITIONS = 4;
/** Far more than voltages; a root that rounding moves by a billionth of itself is too ill to ask for. */
const ORDINARY: Bounds = { coefficient: 1e12, condition: 1e-9 };
/** Coefficients beside which a constant of 1 is lost in the partial sums. */
const drowned = fc
  .integer({ min: 1, max: 3 })
  .chain((n) => drownedSums(n, { coefficient: 1e21, condition: 1e-6 }))
  .filter(({ sum }) => sum.coefficients.some((c) => Math.abs(c) >= 1e12));

const terms = fc.integer({ min: 1, max: 5 });
const ratios = fc.constantFrom(10, 1e3, 1e6);

function anyPlanted(bounds: Bounds, ramps: fc.Arbitrary<boolean>): fc.Arbitrary<PlantedSum> {
  return fc.tuple(terms, ratios, ramps).chain(([n, ratio, ramp]) => plantedSums(n, ratio, ramp, bounds));
}

function expectRoots(found: readonly number[], { roots, conditions }: PlantedSum): void {
  expect(found).toHaveLength(roots.length);
  found.forEach((time, i) => expect(off(time, roots[i]!)).toBeLessThanOrEqual(tolerance(conditions[i]!)));
}

function off(time: number, root: number): number {
  return Math.abs(time / root - 1);
}

function tolerance(condition: number): number {
  return CONDITIONS * condition + 2 * Number.EPSILON;
}

/** How the finder is asked, beside the sum itself. */
interface Question {
  readonly limit?: number;
  readonly guess?: number;
  /** Coefficients of zero rate. */
  readonly idle?: readonly number[];
  readonly tolerance?: number;
  readonly tie?: boolean;
}

/** Asks a fresh finder for guard 1 of 2, the other one being something else. */
function firstCrossing(sum: ExponentialSum, question: Question = {}): { time: number; evaluations: number } {
  const { limit = Number.POSITIVE_INFINITY, guess = 0, idle = [], tolerance: floor = 0, tie = false } = question;
  const rates = Float64Array.from([...idle.map(() => 0), ...sum.rates]);
  const guards: GuardedSums = {
    rates,
    idle: idle.length,
    constants: Float64Array.of(3, sum.constant),
    slopes: Float64Array.of(-1, sum.slope),
    tolerances: Float64Array.of(0, floor),
    roots: Float64Array.of(7, guess),
  };
  const coefficients = Float64Array.from([...rates.map(() => 4), ...idle, ...sum.coefficients]);
  const finder = new CrossingFinder(rates.length);
  return { time: finder.first(guards, 1, coefficients, limit, tie), evaluations: finder.evaluations };
}

/** The sum turned so that it starts negative; undefined where its start is lost in rounding. */
function startingNegative(sum: ExponentialSum): ExponentialSum | undefined {
  const start = toDouble(bigValueAt(sum, 0n).value);
  const size = Math.abs(sum.constant) + sum.coefficients.reduce((total, c) => total + Math.abs(c), 0);
  if (!(Math.abs(start) > 1e3 * Number.EPSILON * size)) return undefined;
  const sign = start < 0 ? 1 : -1;
  return {
    constant: sign * sum.constant,
    slope: sign * sum.slope,
    coefficients: sum.coefficients.map((c) => sign * c),
    rates: sum.rates,
  };
}

describe('signChanges on sums with planted zeros', () => {
  for (const n of [1, 2, 3, 4, 5]) {
    test(`finds all zeros of a constant and ${n} exponentials, and no other, at rate ratios up to 1e6`, () => {
      fc.assert(
        fc.property(
          ratios.chain((ratio) => plantedSums(n, ratio, false, ORDINARY)),
          (planted) => expectRoots(signChanges(planted.sum, Number.POSITIVE_INFINITY), planted),
        ),
      );
    });
    test(`finds all zeros of a ramp and ${n} exponentials, and no other`, () => {
      fc.assert(
        fc.property(
          ratios.chain((ratio) => plantedSums(n, ratio, true, ORDINARY)),
          (planted) => expectRoots(signChanges(planted.sum, Number.POSITIVE_INFINITY), planted),
        ),
      );
    });
  }

  test('finds those before a finite length, whatever the length', () => {
    fc.assert(
      fc.property(anyPlanted(ORDINARY, fc.boolean()), spread(0.01, 20), (planted, factor) => {
        const length = factor * (planted.roots[0] ?? 1 / planted.sum.rates[0]!);
        const far = planted.roots.every((root) => off(length, root) > 1e-6);
        fc.pre(far);
        const roots = planted.roots.filter((root) => root < length);
        expectRoots(signChanges(planted.sum, length), { ...planted, roots });
      }),
    );
  });

  test('pitfall P7: finds all zeros where coefficients up to 1e21 drown the constant in the partial sums', () => {
    fc.assert(
      fc.property(drowned, (planted) => expectRoots(signChanges(planted.sum, Number.POSITIVE_INFINITY), planted)),
    );
  });
});

describe('CrossingFinder.first', () => {
  test('is the first rising zero, whatever the guess and however many terms stand still', () => {
    const guesses = fc.oneof(fc.constant(0), spread(1e-3, 1e3));
    fc.assert(
      fc.property(
        anyPlanted(ORDINARY, fc.boolean()),
        guesses,
        fc.array(volts, { maxLength: 2 }),
        (planted, factor, idle) => {
          const oriented = startingNegative(planted.sum);
          fc.pre(oriented !== undefined);
          const [root, condition] = [planted.roots[0], planted.conditions[0]];
          // Whole multiples of 2^-10 beside a constant that is one as well come and go without rounding.
          const still = idle.map((value) => Math.round(value * 1024) / 1024);
          const constant = oriented.constant - still.reduce((total, value) => total + value, 0);
          const exact = still.length === 0 || Math.abs(oriented.constant) === 1;
          const { time } = firstCrossing(exact ? { ...oriented, constant } : oriented, {
            guess: factor * (root ?? 1),
            idle: exact ? still : [],
          });
          if (root === undefined) expect(time).toBe(Number.POSITIVE_INFINITY);
          else expect(off(time, root)).toBeLessThanOrEqual(tolerance(condition!));
        },
      ),
    );
  });

  test('is exact where the sum does not bend at its zero, so that Newton seems done too early', () => {
    const sum = {
      constant: 1,
      slope: 0,
      coefficients: Float64Array.of(-1.9010337625293452, 1.027235953264997, -0.12759039572450567),
      rates: Float64Array.of(0.001, 0.005650139315617344, 0.024498076825033924),
    };
    const { time } = firstCrossing(sum);
    const root = toDouble(bigRootNear(sum, time));
    expect(off(time, root)).toBeLessThanOrEqual(tolerance(conditionAt(sum, root)));
  });

  test('is past the limit, or Infinity, when the first rising zero is', () => {
    fc.assert(
      fc.property(anyPlanted(ORDINARY, fc.boolean()), spread(0.01, 100), spread(0.1, 10), (planted, factor, guess) => {
        const oriented = startingNegative(planted.sum);
        fc.pre(oriented !== undefined);
        const root = planted.roots[0];
        const limit = factor * (root ?? 1 / oriented.rates[0]!);
        fc.pre(root === undefined || off(limit, root) > 1e-6);
        const { time } = firstCrossing(oriented, { limit, guess: guess * limit });
        if (root !== undefined && root < limit)
          expect(off(time, root)).toBeLessThanOrEqual(tolerance(planted.conditions[0]!));
        else expect(time).toBeGreaterThan(limit);
      }),
    );
  });

  test('pitfall P7: lost signs in the partial sums hide no crossing', () => {
    fc.assert(
      fc.property(drowned, (planted) => {
        const oriented = startingNegative(planted.sum);
        fc.pre(oriented !== undefined);
        const { time } = firstCrossing(oriented);
        const [root, condition] = [planted.roots[0], planted.conditions[0]];
        if (root === undefined) expect(time).toBe(Number.POSITIVE_INFINITY);
        else expect(off(time, root)).toBeLessThanOrEqual(tolerance(condition!));
      }),
    );
  });

  test('pitfall P7: a constant of 0.1 V beside terms of 1e16 V', () => {
    // The fast pair is gone after some 40 of its time constants; then 0.1 - exp(-t) is zero at ln 10.
    const sum = {
      constant: 0.1,
      slope: 0,
      coefficients: Float64Array.of(-1, -1e16, 9e15),
      rates: Float64Array.of(1, 1000, 1001),
    };
    expect(off(firstCrossing(sum).time, Math.LN10)).toBeLessThanOrEqual(4 * Number.EPSILON);
  });
});

/** Volt-sized coefficients over up to four rates, half of them moved so that the greatest value all but touches zero. */
const touching = fc
  .record({
    rates: fc.array(spread(1, 1e4), { minLength: 1, maxLength: 4 }),
    coefficients: fc.array(volts, { minLength: 4, maxLength: 4 }),
    constant: volts,
    slope: fc.oneof(fc.constant(0), volts),
    miss: fc.oneof(fc.constant(undefined), fc.tuple(spread(1e-14, 1e-2), fc.constantFrom(1, -1))),
  })
  .map(({ rates, coefficients, constant, slope, miss }): ExponentialSum | undefined => {
    const sorted = Float64Array.from(rates).sort();
    const sum = { constant, slope, coefficients: Float64Array.from(sorted, (_, k) => coefficients[k]!), rates: sorted };
    if (miss === undefined) return startingNegative(sum);
    const { high } = extremes(sum, 0, 20 / sorted[0]!);
    return startingNegative({ ...sum, constant: sum.constant - high + miss[0] * miss[1] });
  })
  .filter((sum) => sum !== undefined);

describe('first crossings against dense grids', () => {
  test('are never later than the first of 4000 samples that is past zero', () => {
    fc.assert(
      fc.property(touching, fc.boolean(), (sum, early) => {
        const length = early ? 20 / sum.rates.at(-1)! : 20 / sum.rates[0]!;
        const { time } = firstCrossing(sum, { limit: length });
        const size = Math.abs(sum.constant) + sum.coefficients.reduce((total, c) => total + Math.abs(c), 0);
        for (let k = 1; k <= 4000; k++) {
          const sample = (k / 4000) * length;
          // Below this the sample's sign is rounding.
          if (valueAt(sum, sample) <= 8 * Number.EPSILON * (size + Math.abs(sum.slope * sample))) continue;
          expect(time).toBeLessThanOrEqual(sample);
          break;
        }
      }),
    );
  });

  test('are zeros: the value there is rounding', () => {
    fc.assert(
      fc.property(touching, (sum) => {
        const { time } = firstCrossing(sum, { limit: 20 / sum.rates[0]! });
        fc.pre(time < Number.POSITIVE_INFINITY);
        const { value } = bigValueAt(sum, big(time));
        const bound = CONDITIONS * roundingAt(sum, time);
        expect(Math.abs(toDouble(value))).toBeLessThanOrEqual(bound);
      }),
    );
  });
});

describe('pitfall P3: grazing', () => {
  /** -1/4 + d + exp(-t) - exp(-2 t): greatest value d, at ln 2. */
  const grazing = (d: number): ExponentialSum => ({
    constant: -0.25 + d,
    slope: 0,
    coefficients: Float64Array.of(1, -1),
    rates: Float64Array.of(1, 2),
  });

  test('a level that passes its limit by 1e-15 or more crosses it, by the root of 1/4 - d', () => {
    for (const d of [1e-3, 1e-6, 1e-8, 1e-10, 1e-12, 1e-14, 1e-15]) {
      // u = exp(-t): u^2 - u + 1/4 - d = 0, the first root in time is u = 1/2 + sqrt(d), d being what the doubles hold.
      const held = grazing(d).constant + 0.25;
      const expected = -Math.log(0.5 + Math.sqrt(held));
      const { time } = firstCrossing(grazing(d));
      // Condition eps / (2 sqrt(d)) of u, with four terms of rounding.
      expect(off(time, expected)).toBeLessThanOrEqual((4 * Number.EPSILON) / Math.sqrt(held));
    }
  });

  test('a level that stays 1e-15 or more below its limit never crosses', () => {
    for (const d of [-1e-3, -1e-6, -1e-8, -1e-10, -1e-12, -1e-14, -1e-15]) {
      expect(firstCrossing(grazing(d)).time).toBe(Number.POSITIVE_INFINITY);
      expect(signChanges(grazing(d), Number.POSITIVE_INFINITY)).toEqual([]);
    }
  });

  test('the decision is right for every miss and pass of more than a few roundings', () => {
    fc.assert(
      fc.property(spread(1e-15, 1e-3), fc.boolean(), spread(1e-3, 1e3), spread(0.1, 100), (d, passes, rate, size) => {
        const sum: ExponentialSum = {
          constant: size * (-0.25 + (passes ? d : -d)),
          slope: 0,
          coefficients: Float64Array.of(size, -size),
          rates: Float64Array.of(rate, 2 * rate),
        };
        const { time } = firstCrossing(sum);
        expect(time < Number.POSITIVE_INFINITY).toBe(passes);
      }),
    );
  });
});

describe('pitfall P4: rates that nearly agree', () => {
  test('gaps from a hundredth down to nothing leave the root where it is', () => {
    const gaps = fc.oneof(fc.constant(0), spread(1e-17, 1e-2));
    const sizes = fc.integer({ min: 1, max: 1000 }).map((value) => value / 100);
    fc.assert(
      fc.property(gaps, sizes, sizes, sizes, spread(1, 1e4), (gap, level, one, other, rate) => {
        const sum: ExponentialSum = {
          constant: level,
          slope: 0,
          coefficients: Float64Array.of(-level - one, -other),
          rates: Float64Array.of(rate, rate * (1 + gap)),
        };
        const { time } = firstCrossing(sum);
        const root = toDouble(bigRootNear(sum, time));
        // Rates that agree within 4 roundings become one, which moves the exponents as much.
        expect(off(time, root)).toBeLessThanOrEqual(2 * tolerance(conditionAt(sum, root)));
      }),
    );
  });

  test('two crossings are kept apart from a third rate that agrees with one of theirs', () => {
    // (u - 1/2)(1/4 - u) with the square term split over two rates that agree to the last bits.
    const sum: ExponentialSum = {
      constant: -0.125,
      slope: 0,
      coefficients: Float64Array.of(0.75, -0.4, -0.6),
      rates: Float64Array.of(1, 2, 2 * (1 + Number.EPSILON)),
    };
    const found = signChanges(sum, Number.POSITIVE_INFINITY);
    expect(found).toHaveLength(2);
    expect(off(found[0]!, Math.LN2)).toBeLessThanOrEqual(1e-14);
    expect(off(found[1]!, Math.log(4))).toBeLessThanOrEqual(1e-14);
  });
});

describe('pitfall P10: the far end of a bracket', () => {
  test('a root that its upper bound meets exactly is found', () => {
    // With equal rates the bound ln(sum |c| / level) / rate is the root itself.
    fc.assert(
      fc.property(spread(1e-3, 10), spread(1e-2, 10), spread(1e-2, 10), spread(1, 1e4), (level, one, other, rate) => {
        fc.pre(one + other > 1.001 * level);
        const sum: ExponentialSum = {
          constant: level,
          slope: 0,
          coefficients: Float64Array.of(-one, -other),
          rates: Float64Array.of(rate, rate),
        };
        const expected = Math.log((one + other) / level) / rate;
        // d ln x = dx / x: two roundings of the argument over its logarithm.
        const bound = 4 * Number.EPSILON * (1 + 1 / (rate * expected));
        expect(off(firstCrossing(sum).time, expected)).toBeLessThanOrEqual(bound);
        expect(off(firstCrossing(sum, { guess: 2 * expected }).time, expected)).toBeLessThanOrEqual(bound);
      }),
    );
  });
});

describe('cost of a first crossing', () => {
  /** Sums with one zero, as most are that a circuit asks for. */
  const single = terms
    .chain((n) => plantedSums(n, 1e3, false, { coefficient: 1e6, condition: 1e-11 }))
    .filter(({ sum, roots }) => roots.length === 1 && startingNegative(sum) !== undefined);

  test('is at most 16 evaluations without a guess, 6 with the root itself as the guess', () => {
    fc.assert(
      fc.property(single, (planted) => {
        const sum = startingNegative(planted.sum)!;
        expect(firstCrossing(sum).evaluations).toBeLessThanOrEqual(16);
        expect(firstCrossing(sum, { guess: planted.roots[0]! }).evaluations).toBeLessThanOrEqual(6);
      }),
    );
  });

  test('is nothing where one exponential has the closed form, or where no sign changes in the partial sums', () => {
    const sum = (constant: number, ...list: number[]): ExponentialSum => ({
      constant,
      slope: 0,
      coefficients: Float64Array.from(list),
      rates: Float64Array.from(list, (_, k) => k + 1),
    });
    const closed = firstCrossing(sum(1, -3));
    expect(closed.evaluations).toBe(0);
    // A quotient and a logarithm: two roundings.
    expect(off(closed.time, Math.log(3))).toBeLessThanOrEqual(2 * Number.EPSILON);
    expect(firstCrossing(sum(-1, -3, -2))).toEqual({ time: Number.POSITIVE_INFINITY, evaluations: 0 });
  });
});
