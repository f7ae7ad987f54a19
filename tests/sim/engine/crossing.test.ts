import { describe, expect, test } from 'vitest';
import { CrossingFinder, type GuardedSums } from '#sim/engine/crossing.ts';

const EPSILON = Number.EPSILON;
const NEVER = Number.POSITIVE_INFINITY;

/** constant + slope t + sum of coefficient exp(-rate t), rates ascending, those of rate 0 first. */
interface Sum {
  readonly constant?: number;
  readonly slope?: number;
  readonly terms?: readonly (readonly [coefficient: number, rate: number])[];
}

interface Question {
  readonly limit?: number;
  readonly tolerance?: number;
  readonly tie?: boolean;
  readonly guess?: number;
}

/** The sum as guard 1 of 3, the others being something else. */
function guarded(sum: Sum, { tolerance = 0, guess = 0 }: Question = {}): [GuardedSums, Float64Array] {
  const { constant = 0, slope = 0, terms = [] } = sum;
  const guards = {
    rates: Float64Array.from(terms, ([, rate]) => rate),
    idle: terms.filter(([, rate]) => rate === 0).length,
    constants: Float64Array.of(11, constant, -13),
    slopes: Float64Array.of(-17, slope, 19),
    tolerances: Float64Array.of(23, tolerance, 29),
    roots: Float64Array.of(31, guess, 37),
  };
  const other = terms.map(() => 41);
  return [guards, Float64Array.from([...other, ...terms.map(([coefficient]) => coefficient), ...other])];
}

function first(sum: Sum, question: Question = {}): { time: number; evaluations: number } {
  const { limit = NEVER, tie = false } = question;
  const [guards, coefficients] = guarded(sum, question);
  const finder = new CrossingFinder(guards.rates.length);
  return { time: finder.first(guards, 1, coefficients, limit, tie), evaluations: finder.evaluations };
}

function sumOf(constant: number, ...terms: readonly (readonly [coefficient: number, rate: number])[]): Sum {
  return { constant, terms };
}

/** A polynomial in u = exp(-t), lowest power first. */
function inPowers([constant, ...rest]: readonly number[]): Sum {
  return { constant: constant!, terms: rest.map((coefficient, k) => [coefficient, k + 1] as const) };
}

/** Expects a crossing but for a few roundings of the condition that the shapes here have, and the same with a guess. */
function expectCrossing(sum: Sum, expected: number, question: Question = {}): void {
  const { time } = first(sum, question);
  expect(Math.abs(time / expected - 1)).toBeLessThanOrEqual(32 * EPSILON);
  const guessed = first(sum, { ...question, guess: 1.25 * expected }).time;
  expect(Math.abs(guessed / expected - 1)).toBeLessThanOrEqual(32 * EPSILON);
}

/** Expects no crossing, and that nothing had to be evaluated to see it. */
function expectPlainlyNone(sum: Sum, question: Question = {}): void {
  expect(first(sum, question)).toEqual({ time: NEVER, evaluations: 0 });
}

describe('CrossingFinder.first(): one exponential', () => {
  // level + c exp(-r t) is zero at ln(-c / level) / r.
  test('crosses a level above zero at ln(-c / level) / r, the limit itself included', () => {
    const sum: Sum = { constant: 2, terms: [[-6, 4]] };
    const expected = Math.log(3) / 4;
    expectCrossing(sum, expected);
    const { time } = first(sum);
    expect(first(sum, { limit: time }).time).toBe(time);
    expect(first(sum, { limit: time * (1 - EPSILON) }).time).toBe(NEVER);
  });

  test('the same with terms that stand still: they move the level', () => {
    const sum: Sum = {
      constant: -3,
      terms: [
        [4, 0],
        [1, 0],
        [-6, 4],
      ],
    };
    expectCrossing(sum, Math.log(3) / 4);
    expectPlainlyNone({ ...sum, constant: -6 });
  });

  test('never crosses a level that it falls to, one below zero, or one that is rounding', () => {
    expectPlainlyNone({ constant: 2, terms: [[6, 4]] });
    expectPlainlyNone({ constant: 2, terms: [[0, 4]] });
    expectPlainlyNone({ constant: -2, terms: [[-6, 4]] });
    expectPlainlyNone({ constant: -2, terms: [[1, 4]] });
    expectPlainlyNone({ constant: 1e-13, terms: [[-6, 4]] }, { tolerance: 1e-13 });
    expectCrossing({ constant: 2e-13, terms: [[-6, 4]] }, Math.log(3e13) / 4, { tolerance: 1e-13 });
  });

  test('never goes back in time for a level that it has passed but for rounding', () => {
    expectPlainlyNone({ constant: 3, terms: [[-3, 4]] });
    expectPlainlyNone({ constant: 3, terms: [[-2, 4]] });
  });

  test('leaves its exponential for those who ask for the same time', () => {
    const [guards, coefficients] = guarded({ constant: 2, terms: [[-6, 4]] });
    const finder = new CrossingFinder(1);
    const time = finder.first(guards, 1, coefficients, NEVER, false);
    expect(finder.powers.at(time, guards.rates, 0)[0]).toBe(2 / 6);
  });

  test('leaves it in its place where terms stand still', () => {
    const [guards, coefficients] = guarded({
      constant: -3,
      terms: [
        [5, 0],
        [-6, 4],
      ],
    });
    const finder = new CrossingFinder(2);
    const time = finder.first(guards, 1, coefficients, NEVER, false);
    expect(finder.powers.at(time, guards.rates, 1)[1]).toBe(2 / 6);
  });
});

describe('CrossingFinder.first(): without exponentials', () => {
  test('a ramp crosses at -level / slope, the limit itself included', () => {
    expect(first({ constant: -6, slope: 2 })).toEqual({ time: 3, evaluations: 0 });
    expect(first({ constant: -6, slope: 2 }, { limit: 3 }).time).toBe(3);
    expectPlainlyNone({ constant: -6, slope: 2 }, { limit: 2.99 });
    expect(first({ constant: -8, slope: 2, terms: [[2, 0]] }).time).toBe(3);
  });

  test('a ramp that begins within rounding of its limit crosses it all the same', () => {
    expect(first({ constant: -1e-14, slope: 2 }, { tolerance: 1e-13 })).toEqual({ time: 5e-15, evaluations: 0 });
  });

  test('a ramp that falls, and one that begins at the limit or above it, never does', () => {
    expectPlainlyNone({ constant: -6, slope: -2 });
    expectPlainlyNone({ constant: 6, slope: -2 });
    expectPlainlyNone({ constant: 6, slope: 2 });
    expectPlainlyNone({ constant: 0, slope: 2 });
  });

  test('what stands still never does', () => {
    expectPlainlyNone({ constant: -6 });
    expectPlainlyNone({ constant: -6, terms: [[2, 0]] });
    expectPlainlyNone({ constant: 6, terms: [[2, 0]] });
  });
});

describe('CrossingFinder.first(): a ramp and exponentials', () => {
  // Constants are chosen so that the crossing is where it is said to be.
  test('a rising ramp behind a lag', () => {
    expectCrossing({ constant: -2 + Math.exp(-1), slope: 2, terms: [[-1, 1]] }, 1);
    expectCrossing(
      {
        constant: -6 + Math.exp(-1),
        slope: 2,
        terms: [
          [4, 0],
          [-1, 1],
        ],
      },
      1,
    );
  });

  test('a falling ramp that exponentials lift over the limit for a while', () => {
    const sum: Sum = { constant: 0.5 + 4 * Math.exp(-0.5), slope: -1, terms: [[-4, 1]] };
    expectCrossing(sum, 0.5);
    expect(first(sum, { limit: 0.51 }).time).toBeCloseTo(0.5, 14);
    expect(first(sum, { limit: 0.49 }).time).toBe(NEVER);
    // Lower by 2 V it stays below: its greatest value is that of 2.93 - t - 4 exp(-t) at ln 4, 0.54 V, less 2 V.
    expect(first({ ...sum, constant: sum.constant! - 2 }).time).toBe(NEVER);
  });

  test('one that is too far away before its limit comes is not looked at', () => {
    // 10 V below, at most 5 V of ramp and 2 V of exponential in 5 s; 8 s are enough.
    const sum: Sum = {
      constant: -10,
      slope: 1,
      terms: [
        [2, 1],
        [-3, 2],
      ],
    };
    expectPlainlyNone(sum, { limit: 5 });
    expect(first(sum, { limit: 8 }).evaluations).toBe(2);
    // The same with what stands still: two terms are looked at, no more.
    const idle: Sum = { ...sum, constant: -13, terms: [[3, 0], ...sum.terms!] };
    expectPlainlyNone(idle, { limit: 5 });
    expect(first(idle, { limit: 8 }).evaluations).toBe(2);
    // A ramp that falls brings nothing.
    expectPlainlyNone({ ...sum, slope: -1 }, { limit: 1e9 });
    expect(first({ ...sum, constant: -1, slope: -1 }, { limit: 1e9 }).evaluations).toBe(2);
  });
});

describe('CrossingFinder.first(): the limit of a search', () => {
  test('belongs to it', () => {
    for (const sum of [
      { constant: -2 + Math.exp(-1), slope: 2, terms: [[-1, 1]] } as const,
      inPowers([-1, 8, -8]),
      inPowers([-1 / 8, 5 / 8, -1 / 4, -1]),
    ]) {
      const { time } = first(sum);
      expect(first(sum, { limit: time }).time).toBe(time);
      expect(first(sum, { limit: time * (1 - EPSILON) }).time).toBe(NEVER);
    }
  });

  test('a ramp that reaches zero by no more than rounding before it is looked at', () => {
    // 5 V below, rising by 5.00000000000005 V; the exponential is 1e-25 V by then.
    const sum: Sum = { constant: -5, slope: 1, terms: [[-1e-3, 10]] };
    const { time } = first(sum, { limit: 5 * (1 + 1e-14), tolerance: 1e-13 });
    expect(Math.abs(time / 5 - 1)).toBeLessThanOrEqual(4 * EPSILON);
  });
});

describe('CrossingFinder.first(): two exponentials', () => {
  test('a level above zero is crossed once: 2 - 3 u - u^2 at u = (sqrt(17) - 3) / 2', () => {
    const expected = -Math.log((Math.sqrt(17) - 3) / 2);
    expectCrossing(inPowers([2, -3, -1]), expected);
    const idle: Sum = {
      constant: 5,
      terms: [
        [-3, 0],
        [-3, 1],
        [-1, 2],
      ],
    };
    expectCrossing(idle, expected);
    expect(first(idle, { limit: 0.99 * expected }).time).toBe(NEVER);
    expect(first(inPowers([2, -3, -1]), { limit: 0.99 * expected }).time).toBe(NEVER);
  });

  test('a hump over a level below zero: -1 + 8 u - 8 u^2 crosses first at u = (1 + sqrt(1/2)) / 2', () => {
    const expected = -Math.log((1 + Math.SQRT1_2) / 2);
    expectCrossing(inPowers([-1, 8, -8]), expected);
    expect(first(inPowers([-1, 8, -8]), { limit: 0.99 * expected }).time).toBe(NEVER);
    const idle: Sum = {
      constant: -4,
      terms: [
        [2, 0],
        [1, 0],
        [8, 1],
        [-8, 2],
      ],
    };
    expectCrossing(idle, expected);
    // Its greatest value is level + 2, at u = 1/2.
    expectCrossing(inPowers([-1.875, 8, -8]), -Math.log(0.5 + Math.sqrt(1 / 64)));
    expect(first(inPowers([-2.125, 8, -8])).time).toBe(NEVER);
  });

  test('no hump where the slow term does not reach the level, or where it falls from the start', () => {
    expectPlainlyNone(inPowers([-1, 0.5, -3]));
    expectPlainlyNone(inPowers([-1, -2, 1]));
    // -(2 - 1.2 1.5) at the start: it falls from -0.2 V.
    const falling: Sum = {
      constant: -1,
      terms: [
        [2, 1],
        [-1.2, 1.5],
      ],
    };
    expectPlainlyNone(falling);
  });

  test('a level that is only approached is zero: -3 u + u^2 never crosses, 1 u - 3 u^2 at u = 1/3', () => {
    const question = { tolerance: 1e-13 };
    expect(first(inPowers([1e-14, -3, 1]), question).time).toBe(NEVER);
    for (const level of [0, 1e-14, -1e-14]) expectCrossing(inPowers([level, 1, -3]), Math.log(3), question);
  });
});

describe('CrossingFinder.first(): three exponentials', () => {
  test('three passages of a level above zero: the first is at u = 1/2', () => {
    // -(u - 1/2)(u - 1/4)(u - 1/8)
    expectCrossing(inPowers([1 / 64, -7 / 32, 7 / 8, -1]), Math.LN2);
    // -(u - 1/4)(u^2 + 1) and -(u - 1/4)(u^2 - u + 1): one passage, of sums that turn or do not.
    expectCrossing(inPowers([1 / 4, -1, 1 / 4, -1]), Math.log(4));
    expectCrossing(inPowers([1 / 4, -5 / 4, 5 / 4, -1]), Math.log(4));
    // -(u - 1/4)(u + 1)(u + 2)
    expectCrossing(inPowers([1 / 2, -5 / 4, -11 / 4, -1]), Math.log(4));
  });

  test('a level above zero that many signs lead to, and that is risen to all the way', () => {
    // Partial sums +, -, +, -; those of the slope 3, 3 - 2.929, 0.071 + 1.02 are all above zero. Zero at 1/2 by its constant.
    const at = (u: number): number => -3 * u + 2.9 * u ** 1.01 - u ** 1.02;
    const terms = [
      [-3, 1],
      [2.9, 1.01],
      [-1, 1.02],
    ] as const;
    const constant = -at(Math.exp(-0.5));
    expectCrossing({ constant, terms }, 0.5);
    // Slower terms that the guard does not see come first.
    expectCrossing({ constant, terms: [[0, 0.01], [0, 0.1], ...terms] }, 0.5);
  });

  test('three passages with a term before them that the guard does not see: (u^2 - 1/2)(u^2 - 1/4)(u^2 - 1/8)', () => {
    const terms = [
      [0, 1],
      [-7 / 32, 2],
      [7 / 8, 4],
      [-1, 6],
    ] as const;
    expectCrossing({ constant: 1 / 64, terms }, Math.LN2 / 2);
  });

  test('a hump over a level below zero: -(u - 1/2)(u - 1/4)(u + 1)', () => {
    expectCrossing(inPowers([-1 / 8, 5 / 8, -1 / 4, -1]), Math.LN2);
    // It is some 0.02 V high.
    expect(first(inPowers([-1 / 8 - 0.03, 5 / 8, -1 / 4, -1])).time).toBe(NEVER);
  });

  test('a hump over a level that is only approached: u (1 - 3 u + u^2) at u = (3 - sqrt(5)) / 2', () => {
    const expected = Math.log((3 + Math.sqrt(5)) / 2);
    for (const level of [0, 1e-14, -1e-14]) expectCrossing(inPowers([level, 1, -3, 1]), expected, { tolerance: 1e-13 });
    // -u (1 - 2 u + 2 u^2) has no zero but that of u.
    expect(first(inPowers([0, -1, 2, -2])).time).toBe(NEVER);
  });

  test('terms that have died out, or that the guard never saw, change nothing', () => {
    expectPlainlyNone(inPowers([-1, -2, 0, 0]));
    expectCrossing(inPowers([2, -3, -1, 0, 0]), -Math.log((Math.sqrt(17) - 3) / 2));
    expectCrossing(inPowers([1, 0, 0, -8]), Math.LN2);
  });

  test('sums that never come near are told without a search', () => {
    for (const terms of [
      [-1, -1, -1, -1],
      [-1, 0.5, 0.25, -3],
      [0, -1, -1, -1],
      [0, -3, 1, 0.5],
    ]) {
      expectPlainlyNone(inPowers(terms));
    }
    const rates = [1, 2, 2.1];
    const of = (constant: number, ...list: number[]): Sum => ({
      constant,
      terms: list.map((coefficient, k) => [coefficient, rates[k]!] as const),
    });
    // It falls first and then rises to 0 V for ever; the next falls for good from -0.5 V to -2 V.
    expectPlainlyNone(of(0, -1, 1.5, -0.6));
    expectPlainlyNone(of(-2, 1, 2, -1.5));
  });
});

describe('CrossingFinder.firstOfGrowing(): sums some of whose terms grow, with w = exp(t) and u = exp(-t)', () => {
  // A growing term that is not there is written as one of 0; it says nothing of the end.
  test.each<[string, Sum, number]>([
    ['-3 + w', sumOf(-3, [1, -1]), Math.log(3)],
    ['-6 + 5 w - w^2, which comes back at w = 3', sumOf(-6, [-1, -2], [5, -1]), Math.log(2)],
    ['6 - 5 w + w^2, which has fallen at w = 2', sumOf(6, [1, -2], [-5, -1]), Math.log(3)],
    ['2 - w, which only falls', sumOf(2, [-1, -1]), NEVER],
    ['1 - 2 u', sumOf(1, [0, -1], [-2, 1]), Math.log(2)],
    ['(2 - 1) - 4 u, with a term that stands still', sumOf(-1, [0, -1], [2, 0], [-4, 1]), Math.log(4)],
    ['(2 - 3) + 4 u, which only falls', sumOf(-3, [0, -1], [2, 0], [4, 1]), NEVER],
    ['u - 3 u^2', sumOf(0, [0, -1], [1, 1], [-3, 2]), Math.log(3)],
    ['(2 - 2) - u + 3 u^2, which only falls', sumOf(-2, [0, -1], [2, 0], [-1, 1], [3, 2]), NEVER],
  ])('%s', (_, sum, expected) => {
    const [guards, coefficients] = guarded(sum);
    const find = (limit: number): number =>
      new CrossingFinder(guards.rates.length).firstOfGrowing({ ...guards, idle: 0 }, 1, coefficients, limit);
    const time = find(10);
    if (expected === NEVER) expect(time).toBe(NEVER);
    // A few roundings: the sums are of some units and pass zero with a slope of one and more.
    else expect(Math.abs(time - expected)).toBeLessThan(16 * EPSILON);
    if (expected !== NEVER) expect(find(expected - 1e-9)).toBe(NEVER);
  });
});

test('CrossingFinder.valueOf() is constant + slope t + the terms, those that stand still included', () => {
  const sum: Sum = {
    constant: 2,
    slope: -3,
    terms: [
      [4, 0],
      [1, 0],
      [7, 1],
      [-4, 2],
    ],
  };
  const [guards, coefficients] = guarded(sum);
  const finder = new CrossingFinder(4);
  expect(finder.valueOf(guards, 1, coefficients, 0)).toBe(10);
  expect(finder.valueOf(guards, 1, coefficients, Math.LN2)).toBeCloseTo(2 - 3 * Math.LN2 + 5 + 7 / 2 - 4 / 4, 14);
});

describe('CrossingFinder.first(): a guard that begins on its limit to rounding', () => {
  /** -(u - 1/2)(u - b)(u - c): it begins below zero, is above it from c to b, and rises for good at 1/2. */
  const passing = (b: number, c: number): Sum => inPowers([0.5 * b * c, -(0.5 * b + 0.5 * c + b * c), 0.5 + b + c, -1]);

  test('does not cross while it only stands there', () => {
    // It begins at -1e-12, and its hump from 1 us to 2 us is 1.2e-13 high.
    const sum = passing(1 - 2e-6, 1 - 1e-6);
    expect(first(sum, { tolerance: 2e-12 }).time).toBeCloseTo(Math.LN2, 12);
    expect(first(sum, { tolerance: 1e-14 }).time).toBeCloseTo(1e-6, 8);
    expect(first(sum, { tolerance: 5e-13 }).time).toBeCloseTo(1e-6, 8);
  });

  test('crosses where it leaves it by more', () => {
    // It begins at -1e-13, and its hump is 4.5e-13 high.
    const sum = passing(1 - 2e-6, 1 - 1e-7);
    expect(first(sum, { tolerance: 2e-13 }).time).toBeLessThanOrEqual(2e-7);
    expect(first(sum, { tolerance: 1e-12 }).time).toBeCloseTo(Math.LN2, 12);
  });

  test('does not cross at all before a limit that comes while it stands', () => {
    expect(first(passing(1 - 2e-6, 1 - 1e-6), { tolerance: 2e-12, limit: 0.5 }).time).toBe(NEVER);
  });
});
