import { addExactly, addTwoPart, multiplyExactly } from '#sim/core/two-part.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { big, times } from '../../support/big-real.ts';

/** Sizes at which neither the sum nor the product, nor the error of either, leaves the range of `big`. */
const number = fc
  .tuple(fc.integer({ min: -30, max: 30 }), fc.double({ min: 1, max: 2, noNaN: true }), fc.boolean())
  .map(([power, size, negative]) => (negative ? -1 : 1) * size * 2 ** power);

describe('addExactly', () => {
  test('gives the sum without error: high plus low is a plus b as fractions', () => {
    fc.assert(
      fc.property(number, number, (a, b) => {
        const { high, low } = addExactly(a, b);
        expect(high).toBe(a + b);
        expect(big(high) + big(low)).toBe(big(a) + big(b));
      }),
    );
  });

  test('keeps what a plain sum loses: 1 beside 1e20', () => {
    // By definition of the error-free sum; 1e20 and 1 are doubles, their sum is not.
    expect(addExactly(1e20, 1)).toEqual({ high: 1e20, low: 1 });
    expect(addExactly(1, -1e20)).toEqual({ high: -1e20, low: 1 });
  });
});

describe('multiplyExactly', () => {
  test('gives the product without error', () => {
    fc.assert(
      fc.property(number, number, (a, b) => {
        const { high, low } = multiplyExactly(a, b);
        expect(high).toBe(a * b);
        expect(big(high) + big(low)).toBe(times(big(a), big(b)));
      }),
    );
  });

  test('tells what the double nearest to 3 times 0.1 is off by', () => {
    // 0.1 as a double is 3602879701896397 / 2^55; three times that is 10808639105689191 / 2^55, an odd number of 54 bits,
    // so the nearest double lies 1 / 2^55 away.
    expect(Math.abs(multiplyExactly(3, 0.1).low)).toBe(2 ** -55);
  });
});

describe('addTwoPart', () => {
  test('adds two-part numbers to about 32 digits', () => {
    fc.assert(
      fc.property(number, number, number, number, (a, b, c, d) => {
        const p = addExactly(Math.abs(a), Math.abs(b));
        const q = addExactly(Math.abs(c), Math.abs(d));
        const { high, low } = addTwoPart(p, q);
        const exact = big(p.high) + big(p.low) + big(q.high) + big(q.low);
        const error = big(high) + big(low) - exact;
        // Two roundings of the low part, each half a unit in the last of 53 + 52 places.
        expect(error < 0n ? -error : error).toBeLessThanOrEqual(exact >> 103n);
        expect(high).toBe(high + low);
      }),
    );
  });

  test('a million steps of 0.1 lose nothing that two doubles can hold', () => {
    let time = { high: 0, low: 0 };
    for (let k = 0; k < 1_000_000; k++) time = addTwoPart(time, { high: 0.1, low: 0 });
    const error = big(time.high) + big(time.low) - 1_000_000n * big(0.1);
    // 1e6 roundings of at most 2^-105 of 1e5 each.
    expect(Math.abs(Number(error >> 400n)) / 2 ** 112).toBeLessThan(1e6 * 1e5 * 2 ** -105);
  });
});
