import { seededRandom } from '#sim/core/random.ts';
import { describe, expect, test } from 'vitest';

/** The first `count` numbers of a seed. */
function numbers(seed: number, count: number): number[] {
  const { next } = seededRandom(seed);
  return Array.from({ length: count }, () => next());
}

describe('seededRandom', () => {
  test('(5489) is MT19937: its 10000th output is 4123659995', () => {
    // ISO C++ standard (ISO/IEC 14882), section rand.predef, of the generator seeded with 5489: from
    // memory. A number takes two outputs, so the 10000th gives the low 26 bits of number 5000.
    const number = numbers(5489, 5000).at(-1) ?? NaN;
    expect((number * 2 ** 53) % 2 ** 26).toBe(4123659995 >>> 6);
  });

  test('gives the same stream for the same seed', () => {
    expect(numbers(7, 1000)).toEqual(numbers(7, 1000));
  });

  test('gives different streams for different seeds', () => {
    const first = Array.from({ length: 1000 }, (_, seed) => numbers(seed, 1)[0]);
    expect(new Set(first).size).toBe(1000);
  });

  test('streams do not disturb each other', () => {
    const one = seededRandom(3);
    const two = seededRandom(3);
    one.next();
    one.next();
    expect([two.next(), two.next()]).toEqual(numbers(3, 2));
  });

  test('first numbers of small seeds are spread over [0, 1)', () => {
    // Of 1000 uniform numbers a tenth holds 100 +- 9.5 (binomial); six standard deviations are 57.
    const tenths = new Array<number>(10).fill(0);
    for (let seed = 0; seed < 1000; seed++) {
      const tenth = Math.floor((numbers(seed, 1)[0] ?? NaN) * 10);
      tenths[tenth] = (tenths[tenth] ?? NaN) + 1;
    }
    for (const count of tenths) expect(Math.abs(count - 100)).toBeLessThan(57);
  });

  test('next() is a multiple of 2^-53 in [0, 1) and uses the last bit', () => {
    const all = numbers(1, 10_000).map((number) => number * 2 ** 53);
    expect(all.every((number) => Number.isInteger(number) && number >= 0 && number < 2 ** 53)).toBe(true);
    const odd = all.filter((number) => number % 2 === 1).length;
    // 5000 +- 50 (binomial); six standard deviations.
    expect(Math.abs(odd - 5000)).toBeLessThan(300);
  });

  test('mean and variance of 100000 numbers are those of the uniform distribution', () => {
    // Mean 1/2 +- sqrt(1/12 / n) = 9.1e-4, variance 1/12 +- sqrt(1/180 / n) = 2.4e-4; six of each.
    const all = numbers(2024, 100_000);
    const mean = all.reduce((sum, number) => sum + number, 0) / all.length;
    const variance = all.reduce((sum, number) => sum + (number - 0.5) ** 2, 0) / all.length;
    expect(Math.abs(mean - 0.5)).toBeLessThan(5.5e-3);
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(1.5e-3);
  });

  test.each([0, 0xffff_ffff])('(%d), an end of the range of seeds, is accepted', (seed) => {
    expect(numbers(seed, 2)).toHaveLength(2);
    expect(numbers(seed, 1)).not.toEqual(numbers(seed === 0 ? 1 : 0xffff_fffe, 1));
  });

  test.each([-1, 0.5, 2 ** 32, NaN, Infinity])('(%d) is refused', (seed) => {
    expect(() => seededRandom(seed)).toThrow(RangeError);
    expect(() => seededRandom(seed)).toThrow(
      `seededRandom: seed must be a whole number from 0 to 4294967295; got ${seed}.`,
    );
  });
});
