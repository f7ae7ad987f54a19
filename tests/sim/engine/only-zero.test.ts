import { describe, expect, test } from 'vitest';
import { OnlyZero } from '#sim/engine/only-zero.ts';
import { Powers } from '#sim/engine/powers.ts';

// f(t) = level + sum of coefficient exp(-rate t), with u = exp(-t) a polynomial. Its zeros are those of the polynomial, by
// hand; the cost of a search is bounded by the number of times that a sum is evaluated, as was measured once.

const EPSILON = Number.EPSILON;
const NEVER = Number.POSITIVE_INFINITY;
type Terms = readonly (readonly [coefficient: number, rate: number])[];

interface Question {
  readonly limit?: number;
  readonly guess?: number;
  readonly tie?: boolean;
  readonly tolerance?: number;
  /** Rates that stand still before those of the terms. */
  readonly idle?: number;
}

/** The zero and how many evaluations it took; the sum is guard 1 of 3, the others being something else. */
function search(level: number, terms: Terms, question: Question = {}): { time: number; evaluations: number } {
  const { limit = NEVER, guess = 0, tie = false, tolerance = 0, idle = 0 } = question;
  const still = Array.from({ length: idle }, () => [43, 0] as const);
  const all = [...still, ...terms];
  const guards = {
    rates: Float64Array.from(all, ([, rate]) => rate),
    idle,
    constants: new Float64Array(3),
    slopes: new Float64Array(3),
    tolerances: Float64Array.of(23, tolerance, 29),
    roots: Float64Array.of(31, guess, 37),
  };
  const other = all.map(() => 41);
  const zero = new OnlyZero(new Powers(all.length));
  Object.assign(zero, { level, limit });
  const coefficients = Float64Array.from([...other, ...all.map(([coefficient]) => coefficient), ...other]);
  return { time: zero.of(guards, 1, coefficients, tie), evaluations: zero.evaluations };
}

/** 1024 (1 - u - 2 u^2): zero at u = 1/2, without rounding. */
const HALF: Terms = [
  [-1024, 1],
  [-2048, 2],
];
const LEVEL = 1024;

describe('OnlyZero.of(), the last root as a guess', () => {
  test.each([0, 2])('costs one evaluation where it is the root, with %d rates that stand still', (idle) => {
    expect(search(LEVEL, HALF, { guess: Math.LN2, idle })).toEqual({ time: Math.LN2, evaluations: 1 });
    expect(search(LEVEL, HALF, { guess: Math.LN2, limit: 1, idle })).toEqual({ time: Math.LN2, evaluations: 1 });
  });

  test('is the root where the sum there is rounding: up to four epsilons of the size of its terms', () => {
    // The slope is 1024 (1/2 + 1), the size 2048: four roundings of ln 2 move the sum by a quarter of what is let pass.
    for (const guess of [Math.LN2 * (1 + 2 * EPSILON), Math.LN2 * (1 - 2 * EPSILON)]) {
      expect(search(LEVEL, HALF, { guess })).toEqual({ time: guess, evaluations: 1 });
    }
  });

  test.each([1e-12, -1e-12])('is only where the search begins if it is off by %d', (off) => {
    const { time, evaluations } = search(LEVEL, HALF, { guess: Math.LN2 * (1 + off) });
    expect(Math.abs(time / Math.LN2 - 1)).toBeLessThanOrEqual(2 * EPSILON);
    expect(evaluations).toBe(1);
    expect(time).not.toBe(Math.LN2 * (1 + off));
  });

  test('is not looked at beyond the limit, nor on it', () => {
    expect(search(LEVEL, HALF, { guess: 0.6, limit: 0.6 })).toEqual({ time: NEVER, evaluations: 1 });
    expect(search(LEVEL, HALF, { guess: 0.65, limit: 0.6 })).toEqual({ time: NEVER, evaluations: 1 });
  });
});

describe('OnlyZero.of(), the limit', () => {
  test('before the zero there is none, at one evaluation; from the zero on it is found', () => {
    expect(search(LEVEL, HALF, { limit: 0.69 })).toEqual({ time: NEVER, evaluations: 1 });
    expect(search(LEVEL, HALF, { limit: Math.LN2 }).time).toBe(Math.LN2);
    expect(search(LEVEL, HALF, { limit: 5 }).time).toBe(search(LEVEL, HALF).time);
  });

  test('a tie: a guard within its tolerance of zero crosses when the limit comes', () => {
    // At ln 2: 1 - 1/2 - 5/8 = -1/8.
    const terms: Terms = [
      [-1, 1],
      [-2.5, 2],
    ];
    const limit = Math.LN2;
    expect(search(1, terms, { limit, tie: true, tolerance: 0.125 }).time).toBe(limit);
    expect(search(1, terms, { limit, tie: true, tolerance: 0.124 }).time).toBe(NEVER);
    expect(search(1, terms, { limit, tie: false, tolerance: 0.125 }).time).toBe(NEVER);
  });
});

describe('OnlyZero.of(), without a guess', () => {
  /** Level, terms, the zero, and the evaluations that it may take. */
  const cases: readonly (readonly [string, number, Terms, number, number])[] = [
    ['one slow term: the logarithm is the root', 2, [[-6, 4]], Math.log(3) / 4, 2],
    [
      'two that rise: u = (sqrt 17 - 3) / 2',
      2,
      [
        [-3, 1],
        [-1, 2],
      ],
      -Math.log((Math.sqrt(17) - 3) / 2),
      5,
    ],
    [
      'a slow one that falls, which gives no start: 1 + u - 8 u^2 at u = (1 + sqrt 33) / 16',
      1,
      [
        [1, 1],
        [-8, 2],
      ],
      -Math.log((1 + Math.sqrt(33)) / 16),
      6,
    ],
    [
      'three that turn twice: -(u - 1/4)(u^2 + 1)',
      1 / 4,
      [
        [-1, 1],
        [1 / 4, 2],
        [-1, 3],
      ],
      Math.log(4),
      3,
    ],
    [
      'one that falls before it rises: 1 + 8 u - 100 u^1.5, by v = sqrt u: 100 v^3 = 1 + 8 v^2, solved with 40 digits',
      1,
      [
        [8, 1],
        [-100, 1.5],
      ],
      2.807463621826639,
      6,
    ],
  ];

  test.each(cases)('%s', (_, level, terms, root, cost) => {
    for (const idle of [0, 1]) {
      const { time, evaluations } = search(level, terms, { idle });
      expect(Math.abs(time / root - 1)).toBeLessThanOrEqual(16 * EPSILON);
      expect(evaluations).toBeGreaterThanOrEqual(1);
      expect(evaluations).toBeLessThanOrEqual(cost);
    }
  });

  test.each(cases)('from a guess a quarter too late, or too early: %s', (_, level, terms, root, cost) => {
    for (const share of [0.75, 1.25]) {
      const { time, evaluations } = search(level, terms, { guess: share * root });
      expect(Math.abs(time / root - 1)).toBeLessThanOrEqual(16 * EPSILON);
      expect(evaluations).toBeLessThanOrEqual(cost + 1);
    }
  });

  test.each([1e3, 1e6, 1e9])('a fast term that decides beside a slow one, %d times as fast', (ratio) => {
    // 1 + u - 8 u^ratio with u = 1 to a share of 1 / ratio: zero at ln 4 / ratio but for that.
    const terms: Terms = [
      [1, 1],
      [-8, ratio],
    ];
    const { time, evaluations } = search(1, terms);
    expect(Math.abs((time * ratio) / Math.log(4) - 1)).toBeLessThanOrEqual(2 / ratio);
    // The bracket is halved down to the fast term's time, twice the ratio in bits at most, then Newton takes over.
    expect(evaluations).toBeLessThanOrEqual(Math.log2(ratio) + 8);
  });

  test('from a guess far too early the bracket is halved as well, where Newton goes in steps of a fast term', () => {
    // 1 - u / 1000 - 1e30 u^1000: while the fast term decides, a step is a thousandth of a second, and the zero is at
    // ln 1e30 / 1000, 69 steps on; the slow term, 1/1000 exp(-0.069), moves it by its logarithm.
    const terms: Terms = [
      [-1e-3, 1],
      [-1e30, 1000],
    ];
    const { time } = search(1, terms, { guess: 1e-6 });
    const slow = 1e-3 * Math.exp(-time);
    expect(Math.abs(time / ((30 * Math.LN10 - Math.log1p(-slow)) / 1000) - 1)).toBeLessThanOrEqual(16 * EPSILON);
  });

  test('the bracket is halved to its end where Newton has had his rounds', () => {
    // As above, 1e30 times as fast: the zero is at ln 4 / 1e30, a hundred halvings down.
    const terms: Terms = [
      [1, 1],
      [-8, 1e30],
    ];
    const { time } = search(1, terms);
    expect(Math.abs((time * 1e30) / Math.log(4) - 1)).toBeLessThanOrEqual(4 * EPSILON);
  });
});
