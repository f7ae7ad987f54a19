import {
  derivativeOf,
  type ExponentialSum,
  extremes,
  integral,
  productIntegral,
  signChanges,
  valueAt,
} from '#sim/core/exponential-sum.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread, volts } from '../../support/arbitrary-numbers.ts';
import { big, bigValueAt, toDouble } from '../../support/big-real.ts';

function sumOf(constant: number, slope: number, ...terms: [coefficient: number, rate: number][]): ExponentialSum {
  return {
    constant,
    slope,
    coefficients: Float64Array.from(terms, ([coefficient]) => coefficient),
    rates: Float64Array.from(terms, ([, rate]) => rate),
  };
}

const coefficient = volts;
const rate = spread(1e-3, 1e6);
const rates = fc
  .array(fc.oneof(rate, rate, rate, fc.constant(0)), { maxLength: 5 })
  .map((list) => list.sort((a, b) => a - b));

/** Sums of the sizes that circuits have: volts, rates from 1e-3 to 1e6 per second and zero, ramps. */
const sums = fc
  .tuple(coefficient, fc.oneof(fc.constant(0), coefficient), rates)
  .chain(([constant, slope, list]) =>
    fc
      .array(coefficient, { minLength: list.length, maxLength: list.length })
      .map((coefficients) => sumOf(constant, slope, ...list.map((r, k): [number, number] => [coefficients[k]!, r]))),
  );
const lengths = spread(1e-7, 1e3);

/** Sum of the sizes of all terms at a time: the scale of rounding. */
function sizeAt(sum: ExponentialSum, time: number): number {
  let size = Math.abs(sum.constant) + Math.abs(sum.slope * time);
  for (let k = 0; k < sum.rates.length; k++) {
    size += Math.abs(sum.coefficients[k]!) * Math.exp(-sum.rates[k]! * time);
  }
  return size;
}

/** Simpson's rule on [0, length], halved `rounds` times, with its last change. */
function simpson(value: (time: number) => number, length: number): number {
  const steps = 4096;
  const step = length / steps;
  let total = value(0) + value(length);
  for (let k = 1; k < steps; k++) total += (k % 2 === 1 ? 4 : 2) * value(k * step);
  return (total * step) / 3;
}

describe('valueAt', () => {
  test('gives constant plus slope times time plus the decaying terms', () => {
    // 2 + 3 * 0.5 - 4 exp(-1), by hand.
    expect(valueAt(sumOf(2, 3, [-4, 2]), 0.5)).toBeCloseTo(3.5 - 4 / Math.E, 15);
  });

  test('agrees with arithmetic of 512 bits to a few roundings of its terms', () => {
    fc.assert(
      fc.property(sums, lengths, (sum, time) => {
        const exact = toDouble(bigValueAt(sum, big(time)).value);
        // exp(-rate time) is off by the rounding of its exponent, which counts until the term has decayed: x exp(-x) <= 0.37.
        expect(Math.abs(valueAt(sum, time) - exact)).toBeLessThanOrEqual(
          8 * Number.EPSILON * sizeAt(sum, 0) + 4 * Number.EPSILON * sizeAt(sum, time),
        );
      }),
    );
  });

  test('decays to the constant without underflow trouble', () => {
    expect(valueAt(sumOf(5, 0, [1e9, 1e6], [-3, 2e9]), 1e6)).toBe(5);
  });

  test('a slope of zero stays zero at an endless time', () => {
    expect(valueAt(sumOf(5, 0, [1, 1]), Number.POSITIVE_INFINITY)).toBe(5);
  });
});

describe('signChanges', () => {
  test('gives the closed form of one decaying term', () => {
    // 1 - 3 exp(-t) = 0 at ln 3.
    expect(signChanges(sumOf(1, 0, [-3, 1]), 10)).toEqual([Math.log(3)]);
  });

  test('gives both zeros of a dip and of a bump', () => {
    // u = exp(-t): (u - 1/2)(u - 1/4) = u^2 - 3/4 u + 1/8, zeros at ln 2 and ln 4.
    for (const sign of [1, -1]) {
      const found = signChanges(sumOf(sign * 0.125, 0, [sign * -0.75, 1], [sign, 2]), Number.POSITIVE_INFINITY);
      expect(found).toHaveLength(2);
      // The zeros are simple and well apart: slope 1/8 against terms of 3/4.
      expect(found[0]! / Math.log(2) - 1).toBeCloseTo(0, 14);
      expect(found[1]! / Math.log(4) - 1).toBeCloseTo(0, 14);
    }
  });

  test('leaves out what lies at or beyond the length', () => {
    const sum = sumOf(0.125, 0, [-0.75, 1], [1, 2]);
    expect(signChanges(sum, 1)).toHaveLength(1);
    expect(signChanges(sum, 0.5)).toHaveLength(0);
    expect(signChanges(sumOf(1, 0, [-3, 1]), Math.log(3))).toEqual([]);
  });

  test('does not list a touch: (u - 1/2)^2', () => {
    // u = exp(-t) = 1/2 where the derivative is zero; rounding at that point decides between no change and two at one place.
    expect(signChanges(sumOf(0.25, 0, [-1, 1], [1, 2]), 10)).toEqual([]);
  });

  test('adds terms of zero rate to the constant', () => {
    expect(signChanges(sumOf(3, 0, [-2, 0], [-3, 1]), 10)).toEqual([Math.log(3)]);
    expect(signChanges(sumOf(3, 0, [-2, 0]), 10)).toEqual([]);
  });

  test('finds the zero of a ramp, alone and against a decay', () => {
    expect(signChanges(sumOf(-6, 3), 10)).toEqual([2]);
    expect(signChanges(sumOf(-6, -3), 10)).toEqual([]);
    // t = exp(-t) at the omega constant, 0.5671432904097838 (OEIS A030178).
    const [omega] = signChanges(sumOf(0, 1, [-1, 1]), Number.POSITIVE_INFINITY);
    expect(Math.abs(omega! - 0.5671432904097838)).toBeLessThanOrEqual(2 ** -52);
    // t - 2 + 1.5 exp(-t) dips: slope -0.5 at 0, both a falling and a rising part, from -0.5: one zero where t = 2 - 1.5 exp(-t).
    const found = signChanges(sumOf(-2, 1, [1.5, 1]), Number.POSITIVE_INFINITY);
    expect(found).toHaveLength(1);
    expect(found[0]! - 2 + 1.5 * Math.exp(-found[0]!)).toBeCloseTo(0, 15);
  });

  test('finds all three zeros of a ramp against two decays', () => {
    // By hand: f(0) = -1, f(0.2) = 1.4, f(2) = -0.05, f(10) = 7.
    const sum = sumOf(-3, 1, [7, 1], [-5, 6]);
    expect([0, 0.2, 2, 10].map((time) => Math.sign(valueAt(sum, time)))).toEqual([-1, 1, -1, 1]);
    const found = signChanges(sum, 10);
    expect(found).toHaveLength(3);
    expect(signChanges(sum, Number.POSITIVE_INFINITY)).toEqual(found);
    for (const time of found)
      expect(Math.abs(valueAt(sum, time))).toBeLessThanOrEqual(16 * Number.EPSILON * sizeAt(sum, time));
  });

  test('the zero function and a constant have none', () => {
    expect(signChanges(sumOf(0, 0), 10)).toEqual([]);
    expect(signChanges(sumOf(0, 0, [0, 1]), 10)).toEqual([]);
    expect(signChanges(sumOf(-1, 0), 10)).toEqual([]);
  });

  test('between neighbouring changes every sample has one sign, and each change is one', () => {
    fc.assert(
      fc.property(sums, lengths, (sum, length) => {
        const found = signChanges(sum, length);
        expect([...found].sort((a, b) => a - b)).toEqual(found);
        const cuts = [0, ...found, length];
        const signs: number[] = [];
        for (let piece = 1; piece < cuts.length; piece++) {
          const from = cuts[piece - 1]!;
          const width = cuts[piece]! - from;
          let sign = 0;
          for (let k = 1; k < 50; k++) {
            const time = from + (k / 50) * width;
            const value = valueAt(sum, time);
            // Below this a sign is rounding.
            if (Math.abs(value) <= 64 * Number.EPSILON * sizeAt(sum, time)) continue;
            if (sign === 0) sign = Math.sign(value);
            expect(Math.sign(value)).toBe(sign);
          }
          signs.push(sign);
        }
        const known = signs.filter((sign) => sign !== 0);
        if (known.length === signs.length) {
          known.slice(1).forEach((sign, i) => expect(sign).toBe(-known[i]!));
        }
      }),
    );
  });
});

describe('extremes', () => {
  test('finds the top of a pulse between its ends', () => {
    // exp(-t) - exp(-2 t) is greatest at ln 2, value 1/4.
    const { low, high } = extremes(sumOf(0, 0, [1, 1], [-1, 2]), 0, 3);
    expect(high).toBeCloseTo(0.25, 15);
    expect(low).toBe(0);
  });

  test('only what lies between the ends counts', () => {
    const sum = sumOf(0, 0, [1, 1], [-1, 2]);
    const { low, high } = extremes(sum, 1, 3);
    expect(high).toBe(valueAt(sum, 1));
    expect(low).toBe(valueAt(sum, 3));
  });

  test('finds the bottom of a ramp that catches up with a decay', () => {
    // t + exp(-2 t): slope zero at ln(2)/2, value ln(2)/2 + 1/2.
    expect(extremes(sumOf(0, 1, [1, 2]), 0, 3).low).toBeCloseTo(Math.LN2 / 2 + 0.5, 15);
  });

  test('every sample lies between them, and both are met by the sum itself', () => {
    fc.assert(
      fc.property(sums, lengths, fc.double({ min: 0, max: 1, noNaN: true }), (sum, length, share) => {
        const from = share * length;
        const { low, high } = extremes(sum, from, length);
        const rounding = 16 * Number.EPSILON * (sizeAt(sum, from) + sizeAt(sum, length));
        let least = Infinity;
        let greatest = -Infinity;
        for (let k = 0; k <= 200; k++) {
          const value = valueAt(sum, from + (k / 200) * (length - from));
          least = Math.min(least, value);
          greatest = Math.max(greatest, value);
        }
        expect(least).toBeGreaterThanOrEqual(low - rounding);
        expect(greatest).toBeLessThanOrEqual(high + rounding);
      }),
    );
  });
});

describe('derivativeOf', () => {
  test('is what differences tend to', () => {
    const sum = sumOf(2, 3, [-4, 2], [1, 5]);
    // By hand: 3 + 8 exp(-2 t) - 5 exp(-5 t).
    expect(valueAt(derivativeOf(sum), 0.3)).toBeCloseTo(3 + 8 * Math.exp(-0.6) - 5 * Math.exp(-1.5), 14);
  });
});

describe('integral', () => {
  test('gives the closed form of constant, ramp and decay', () => {
    // 2 L + 3 L^2 / 2 - 4 (1 - exp(-2 L)) / 2 at L = 0.5, by hand.
    expect(integral(sumOf(2, 3, [-4, 2]), 0.5)).toBeCloseTo(1 + 0.375 - 2 * (1 - 1 / Math.E), 15);
  });

  test('counts terms of zero rate as constants', () => {
    expect(integral(sumOf(1, 0, [2, 0]), 4)).toBe(12);
  });

  test('keeps its digits when the length is far below the time constant', () => {
    // L - L^2 / 2 to L^3 / 6 = 1e-37 of 1e-12: exact to rounding.
    expect(integral(sumOf(0, 0, [1, 1]), 1e-12) / 1e-12).toBeCloseTo(1 - 0.5e-12, 15);
  });

  test('is additive: the whole is the part plus the rest', () => {
    fc.assert(
      fc.property(sums, lengths, fc.double({ min: 0, max: 1, noNaN: true }), (sum, length, share) => {
        const at = share * length;
        const rest: ExponentialSum = {
          ...sum,
          constant: sum.constant + sum.slope * at,
          coefficients: sum.coefficients.map((c, k) => c * Math.exp(-sum.rates[k]! * at)),
        };
        const whole = integral(sum, length);
        const parts = integral(sum, at) + integral(rest, length - at);
        // Each is a sum of as many terms as there are rates, none larger than the largest size times the length.
        const size = (sizeAt(sum, 0) + Math.abs(sum.slope) * length) * length;
        expect(Math.abs(whole - parts)).toBeLessThanOrEqual(32 * Number.EPSILON * size);
      }),
    );
  });
});

describe('productIntegral', () => {
  test('gives the closed form of a product of ramps and decays', () => {
    // (1 + t + exp(-t)) (2 - exp(-t)) over [0, 1] by hand:
    // 2 + 2t + 2e - e - t e - e^2 = 2 + 2t + e - t e - e^2 with e = exp(-t);
    // integral = 2 + 1 + (1 - 1/E) - (1 - 2/E) - (1 - E^-2) / 2.
    const a = sumOf(1, 1, [1, 1]);
    const b = sumOf(2, 0, [-1, 1]);
    const expected = 3 + (1 - 1 / Math.E) - (1 - 2 / Math.E) - (1 - Math.exp(-2)) / 2;
    expect(productIntegral(a, b, 1)).toBeCloseTo(expected, 14);
  });

  test('a product with the constant 1 is the integral', () => {
    fc.assert(
      fc.property(sums, lengths, (sum, length) => {
        const one: ExponentialSum = {
          constant: 1,
          slope: 0,
          coefficients: new Float64Array(sum.rates.length),
          rates: sum.rates,
        };
        const size = (sizeAt(sum, 0) + Math.abs(sum.slope) * length) * length;
        expect(Math.abs(productIntegral(sum, one, length) - integral(sum, length))).toBeLessThanOrEqual(
          32 * Number.EPSILON * size,
        );
      }),
    );
  });

  test('does not depend on the order of the factors', () => {
    fc.assert(
      fc.property(sums, fc.array(coefficient, { minLength: 7, maxLength: 7 }), lengths, (a, list, length) => {
        const b: ExponentialSum = {
          constant: list[0]!,
          slope: list[1]!,
          coefficients: a.coefficients.map((_, k) => list[k + 2]!),
          rates: a.rates,
        };
        const size = (sizeAt(a, 0) + Math.abs(a.slope) * length) * (sizeAt(b, 0) + Math.abs(b.slope) * length) * length;
        expect(Math.abs(productIntegral(a, b, length) - productIntegral(b, a, length))).toBeLessThanOrEqual(
          32 * Number.EPSILON * size,
        );
      }),
    );
  });

  test('agrees with a quadrature', () => {
    const gentle = fc
      .array(fc.oneof(spread(1e-3, 8), fc.constant(0)), { minLength: 1, maxLength: 4 })
      .map((list) => list.sort((p, q) => p - q));
    fc.assert(
      fc.property(
        gentle,
        fc.array(coefficient, { minLength: 12, maxLength: 12 }),
        spread(0.01, 2),
        (list, c, length) => {
          const make = (from: number): ExponentialSum =>
            sumOf(c[from]!, c[from + 1]!, ...list.map((r, k): [number, number] => [c[from + 2 + k]!, r]));
          const a = make(0);
          const b = make(6);
          const size =
            (sizeAt(a, 0) + Math.abs(a.slope) * length) * (sizeAt(b, 0) + Math.abs(b.slope) * length) * length;
          // Simpson's error is length (length / 4096)^4 / 180 times the fourth derivative, at most (16 + 2)^4 of the size.
          const quadrature = simpson((time) => valueAt(a, time) * valueAt(b, time), length);
          expect(Math.abs(productIntegral(a, b, length) - quadrature)).toBeLessThanOrEqual(
            1e-10 * size + Number.MIN_VALUE,
          );
        },
      ),
    );
  });
});
