import { beforeEach, describe, expect, test } from 'vitest';
import { GuardCheck } from '#sim/engine/guard-check.ts';
import type { Situation } from '#sim/engine/situation.ts';

// Every number is exact in binary. Where a guard stands on its limit, what it does next is the sign of its first derivative
// that is not zero, from the closed form beside it.

const EPSILON = Number.EPSILON;

/** level + slope t + sum of coefficients times exp(-rate t), watched for becoming positive. */
interface Line {
  readonly level: number;
  readonly slope?: number;
  readonly coefficients?: readonly number[];
  readonly tolerance?: number;
  readonly scale?: number;
  /** Number of its event. */
  readonly code?: number;
}

/** A situation with such guards, read with all amplitudes 1 unless a test gives others. */
function situationOf(rates: readonly number[], lines: readonly Line[]): Situation {
  const n = rates.length;
  const idle = rates.findIndex((rate) => rate > 0);
  return {
    stateCount: n,
    rates: Float64Array.from(rates),
    idle: idle < 0 ? n : idle,
    rows: Float64Array.from(lines.flatMap(({ coefficients = rates.map(() => 0) }) => coefficients)),
    constants: Float64Array.from(lines, ({ level }) => level),
    slopes: Float64Array.from(lines, ({ slope = 0 }) => slope),
    tolerances: Float64Array.from(lines, ({ tolerance = 0 }) => tolerance),
    scales: Float64Array.from(lines, ({ scale = 1 }) => scale),
    guards: lines.map(({ code = -2 }) => ({ code })),
  } as unknown as Situation;
}

let check: GuardCheck;
beforeEach(() => {
  check = new GuardCheck();
});

function pastLimit(rates: readonly number[], lines: readonly Line[], amplitudes = rates.map(() => 1)): number {
  return check.pastLimit(situationOf(rates, lines), Float64Array.from(amplitudes));
}

/** Whether a single guard that stands on its limit is said to go past it. */
function rises(rates: readonly number[], line: Line): boolean {
  return pastLimit(rates, [line]) === 0;
}

describe('GuardCheck.pastLimit()', () => {
  test('finds the first guard whose value is above zero, and none where all are below', () => {
    const below: Line = { level: -3, coefficients: [1, 1] };
    const above: Line = { level: -1, coefficients: [1, 1] };
    expect(pastLimit([1, 2], [below, above, above])).toBe(1);
    expect(pastLimit([1, 2], [below, below])).toBe(-1);
    expect(pastLimit([1, 2], [above], [0.25, 0.5])).toBe(-1);
  });

  test('leaves the coefficients of all guards, rows times amplitudes', () => {
    const lines: Line[] = [
      { level: -9, coefficients: [1, 2] },
      { level: -9, coefficients: [-4, 8] },
    ];
    expect(pastLimit([1, 2], lines, [0.5, 0.25])).toBe(-1);
    expect([...check.coefficients.subarray(0, 4)]).toEqual([0.5, 0.5, -2, 2]);
    // A smaller situation afterwards, and a larger one.
    expect(pastLimit([1], [{ level: -9, coefficients: [3] }])).toBe(-1);
    expect(check.coefficients[0]).toBe(3);
    expect(
      pastLimit(
        [1, 2, 3],
        [...lines, ...lines].map((line) => ({ ...line, coefficients: [1, 1, 1] })),
      ),
    ).toBe(-1);
    expect([...check.coefficients.subarray(0, 12)]).toEqual(Array(12).fill(1));
  });

  test('lists the guards that may yet pass their limits: by what dies out below it, or by a slope', () => {
    const lines: Line[] = [
      // -1 + ... - 2 exp(-t) ends at -1; 1 - 2 exp(-t) ends at 1.
      { level: -1, coefficients: [-2, 0] },
      { level: 1, coefficients: [-2, 0] },
      // Never above -1 + 2 exp(-t) - 4 exp(-2 t) < 1, which is not ruled out; never above -3 + 2.
      { level: -1, coefficients: [2, -4] },
      { level: -3, coefficients: [2, -4] },
      { level: -1, slope: 0.5 },
      { level: -1, slope: -0.5 },
      // Comes up to its limit and never passes it.
      { level: 0, coefficients: [-1, 0] },
    ];
    expect(pastLimit([1, 2], lines)).toBe(-1);
    expect([...check.live.subarray(0, check.liveCount)]).toEqual([1, 2, 4]);
    expect(pastLimit([1, 2], [lines[0]!])).toBe(-1);
    expect(check.liveCount).toBe(0);
  });

  test('lists as many as there are', () => {
    const many = Array.from({ length: 20 }, (): Line => ({ level: -1, slope: 1 }));
    expect(pastLimit([], many)).toBe(-1);
    expect([...check.live.subarray(0, check.liveCount)]).toEqual(many.map((_, g) => g));
  });

  test('says which guards leave their limits, of the situation that it has looked at last', () => {
    // 2^-30 (exp(-2^20 t) - 1) and a slope, with a tolerance between the two.
    const leaving: Line = { level: -(2 ** -30), slope: 2 ** -20, coefficients: [2 ** -30], tolerance: 2 ** -31 };
    expect(pastLimit([2 ** 20], [{ ...leaving, slope: -(2 ** -20) }])).toBe(-1);
    expect([...check.leaving.keys()]).toEqual([0]);
    expect(pastLimit([1], [{ level: -1, coefficients: [0.5] }])).toBe(-1);
    expect(check.leaving.size).toBe(0);
  });

  test('takes no value within the tolerance for one past the limit, unless it rises', () => {
    const tolerance = 0.125;
    expect(pastLimit([1], [{ level: -1, coefficients: [1.0625], tolerance }])).toBe(-1);
    expect(pastLimit([1], [{ level: 1, coefficients: [-0.9375], tolerance }])).toBe(0);
    expect(pastLimit([1], [{ level: 1, coefficients: [-1.0625], tolerance }])).toBe(0);
    expect(pastLimit([1], [{ level: 1, coefficients: [-1.25], tolerance }])).toBe(-1);
    expect(pastLimit([1], [{ level: -1, coefficients: [1.25], tolerance }])).toBe(0);
  });

  test('lets a guard stand that only rounding could move: it is neither past its limit nor live', () => {
    const tolerance = 0.125;
    expect(pastLimit([1, 2], [{ level: 0.0625, coefficients: [0.0625, -0.0625], tolerance }])).toBe(-1);
    expect(check.liveCount).toBe(0);
    expect(pastLimit([], [{ level: 0.0625, tolerance }])).toBe(-1);
    expect(check.liveCount).toBe(0);
    // A slope moves it, however small.
    expect(pastLimit([], [{ level: 0, slope: 2 ** -40, tolerance }])).toBe(0);
    expect(pastLimit([], [{ level: 0, slope: -(2 ** -40), tolerance }])).toBe(-1);
  });

  test('allows for the rounding that the state has brought along, as much as the guard may feel of it', () => {
    const line: Line = { level: -1, coefficients: [1.5], tolerance: 0.125, scale: 2 };
    const standing: Line = { level: -0.25, coefficients: [0.5], tolerance: 0.125, scale: 2 };
    expect(pastLimit([1], [line])).toBe(0);
    check.timePassed({ noise: 0.25 } as Situation);
    expect(pastLimit([1], [line])).toBe(-1);
    expect(pastLimit([1], [{ ...line, scale: 1 }])).toBe(0);
    // 0.5 is within 0.125 + 2 * 0.25, so it stands.
    expect(pastLimit([1], [standing])).toBe(-1);
    expect(check.liveCount).toBe(0);
    check.timePassed({ noise: 0 } as Situation);
    expect(pastLimit([1], [line])).toBe(0);
    expect(pastLimit([1], [standing])).toBe(0);
  });
});

describe('GuardCheck.pastLimit() takes a branch straight back', () => {
  const tolerance = 2 ** -20;
  const slightly: Line = { level: -1, coefficients: [1 + 2 ** -10], tolerance, code: 7 };

  test('only where that is clearly due: by more than a million times the rounding', () => {
    check.back.add(7);
    expect(pastLimit([1], [slightly])).toBe(-1);
    expect(pastLimit([1], [{ ...slightly, code: 8 }])).toBe(0);
    expect(pastLimit([1], [{ ...slightly, coefficients: [3] }])).toBe(0);
    check.timePassed({ noise: 0 } as Situation);
    expect(pastLimit([1], [slightly])).toBe(0);
  });

  test('or where it stands on its limit and rises, until 32 branches have moved at this instant', () => {
    const rising: Line = { level: 1, coefficients: [-1], tolerance, code: 7 };
    check.back.add(7);
    for (let moves = 2; moves <= 32; moves++) check.back.add(100 + moves);
    expect(pastLimit([1], [rising])).toBe(0);
    check.back.add(200);
    expect(pastLimit([1], [rising])).toBe(-1);
    expect(pastLimit([1], [{ ...rising, code: 8 }])).toBe(0);
  });
});

describe('a guard on its limit goes', () => {
  test('where its first derivative says: slope - sum of coefficients times rates', () => {
    expect(rises([2], { level: 1, coefficients: [-1] })).toBe(true);
    expect(rises([2], { level: -1, coefficients: [1] })).toBe(false);
    // 3 t + 1 - exp(-2 t) and so on.
    expect(rises([2], { level: 1, slope: 3, coefficients: [-1] })).toBe(true);
    expect(rises([2], { level: -1, slope: 3, coefficients: [1] })).toBe(true);
    expect(rises([2], { level: -1, slope: 1, coefficients: [1] })).toBe(false);
    expect(rises([2], { level: 1, slope: -1, coefficients: [-1] })).toBe(true);
    expect(rises([2], { level: 1, slope: -3, coefficients: [-1] })).toBe(false);
    // A part of the state that stands still moves nothing: -1 + 2 - exp(-2 t).
    expect(rises([0, 2], { level: -1, coefficients: [2, -1] })).toBe(true);
    expect(rises([0, 2], { level: -1, coefficients: [0, 1] })).toBe(false);
  });

  test('where the second one says, if the first is zero', () => {
    // -(1 - exp(-t))^2 = -1 + 2 exp(-t) - exp(-2 t), about -t^2; and its opposite.
    expect(rises([1, 2], { level: -1, coefficients: [2, -1] })).toBe(false);
    expect(rises([1, 2], { level: 1, coefficients: [-2, 1] })).toBe(true);
    // t - 1 + exp(-t), about t^2 / 2; and its opposite.
    expect(rises([1], { level: -1, slope: 1, coefficients: [1] })).toBe(true);
    expect(rises([1], { level: 1, slope: -1, coefficients: [-1] })).toBe(false);
    // However small all of it is.
    const small = 2 ** -30;
    expect(rises([1, 2], { level: small, coefficients: [-2 * small, small] })).toBe(true);
  });

  test('where the third or fourth one says, if those before are zero', () => {
    // (1 - exp(-t))^3 and (1 - exp(-t))^4, about t^3 and t^4, and their opposites.
    expect(rises([1, 2, 3], { level: 1, coefficients: [-3, 3, -1], tolerance: 2 ** -30 })).toBe(true);
    expect(rises([1, 2, 3], { level: -1, coefficients: [3, -3, 1], tolerance: 2 ** -30 })).toBe(false);
    expect(rises([1, 2, 3, 4], { level: 1, coefficients: [-4, 6, -4, 1] })).toBe(true);
    expect(rises([1, 2, 3, 4], { level: -1, coefficients: [4, -6, 4, -1] })).toBe(false);
    // The part that stands still counts in none: 1 of the level less 2 of it.
    expect(rises([0, 1, 2, 3], { level: -1, coefficients: [2, -3, 3, -1] })).toBe(true);
  });

  test('where it is taken beyond rounding first, if nothing but rounding is left of any of them', () => {
    // 2^-12 (1 - exp(-2^20 t)) and a slope: a coefficient below the tolerance may be rounding altogether, which its rate
    // would blow up. In the end the slope says.
    const line: Line = { level: 2 ** -12, slope: 2 ** -40, coefficients: [-(2 ** -12)], tolerance: 2 ** -10 };
    expect(rises([2 ** 20], line)).toBe(true);
    expect(rises([2 ** 20], { ...line, slope: -(2 ** -40) })).toBe(false);
    expect(rises([2 ** 20], { ...line, tolerance: 2 ** -30 })).toBe(true);
    // Two slow parts of 1 V that end where they began, one of which takes it up or down for a while.
    const swing: Line = { level: 0, coefficients: [1, -1, 2 ** -30], tolerance: 2 ** -20 };
    const rates = [2 ** -30, 2 ** -29, 2 ** 30];
    expect(rises(rates, swing)).toBe(true);
    expect(rises(rates, { ...swing, coefficients: [-1, 1, 2 ** -30] })).toBe(false);
  });

  test('up where it falls by rounding alone before it rises', () => {
    // 2^-30 (exp(-2^20 t) - 1) falls by 2^-30 within some microseconds; the slope has made up for it after 1 ms.
    const line: Line = { level: -(2 ** -30), slope: 2 ** -20, coefficients: [2 ** -30] };
    const rates = [2 ** 20];
    expect(rises(rates, { ...line, tolerance: 2 ** -31 })).toBe(true);
    // Where it falls by more than rounding it is below its limit for a time; so it is found when it crosses it.
    expect(rises(rates, { ...line, tolerance: 2 ** -40 })).toBe(false);
    expect([...check.live.subarray(0, check.liveCount)]).toEqual([0]);
    // Nor does it rise where the slope goes down as well.
    expect(rises(rates, { ...line, slope: -(2 ** -20), tolerance: 2 ** -31 })).toBe(false);
  });

  test('by the second derivative where the first is no more than the rounding of what it is the sum of', () => {
    // The slope takes away the only term's speed but for 3 * 2^-47 of it: 64 units of rounding are 2^-46 for each of them.
    const rest = 96 * EPSILON;
    expect(rises([1], { level: 1 + rest, slope: -1, coefficients: [-(1 + rest)] })).toBe(false);
    expect(rises([1], { level: -(1 + rest), slope: 1, coefficients: [1 + rest] })).toBe(true);
    // Twice as much is more than rounding: the first derivative says the opposite.
    const more = 192 * EPSILON;
    expect(rises([1], { level: 1 + more, slope: -1, coefficients: [-(1 + more)] })).toBe(true);
    expect(rises([1], { level: -(1 + more), slope: 1, coefficients: [1 + more] })).toBe(false);
  });
});

describe('GuardCheck where parts of the state grow', () => {
  /** A situation with growing parts, first in order, of which one may be driven by a ramp. */
  const growing = (rates: readonly number[], lines: readonly Line[], drift = rates.map(() => 0)): Situation =>
    ({ ...situationOf(rates, lines), grows: true, idle: 0, drift: Float64Array.from(drift) }) as unknown as Situation;
  const tolerance = 2 ** -10;
  /** Whether what grows is rounding, once the guards have been read. */
  const byRounding = (situation: Situation): boolean => {
    check.pastLimit(situation, new Float64Array(situation.stateCount).fill(1));
    return check.growsByRounding(situation);
  };

  test('any guard may pass its limit', () => {
    expect(check.pastLimit(growing([-1], [{ level: -1, coefficients: [-1] }, { level: -1 }]), Float64Array.of(1))).toBe(
      -1,
    );
    expect([...check.live.subarray(0, check.liveCount)]).toEqual([0, 1]);
  });

  test('it is rounding that grows where it is an eighth of what is tolerated of every guard, or less', () => {
    const line = (coefficient: number): Line => ({ level: -1, coefficients: [coefficient, 0.5], tolerance });
    const [little, much] = [line(tolerance / 8), line(-tolerance / 4)];
    expect(byRounding(growing([-1, 1], [little, little]))).toBe(true);
    expect(byRounding(growing([-1, 1], [little, much]))).toBe(false);
    expect(byRounding(growing([-1, 1], [much, little]))).toBe(false);
  });

  test('it is more where any of several parts that grow is, but not where others are', () => {
    const line = (...coefficients: readonly number[]): Line => ({ level: -1, coefficients, tolerance });
    expect(byRounding(growing([-2, -1, 1], [line(0, 0, 0), line(0, 0, 0.5)]))).toBe(true);
    expect(byRounding(growing([-2, -1, 0], [line(0, 0, 0), line(0, 0, 0.5)]))).toBe(true);
    expect(byRounding(growing([-2, -1, 1], [line(0, 0, 0), line(0, 0.5, 0)]))).toBe(false);
    expect(byRounding(growing([-2, -1], [line(0, 0.5)]))).toBe(false);
  });

  test('it is more where a ramp drives it', () => {
    expect(byRounding(growing([-1], [{ level: -1, tolerance }], [2 ** -40]))).toBe(false);
    expect(byRounding(growing([-1, 1], [{ level: -1, tolerance }], [0, 2 ** -40]))).toBe(true);
  });

  test('it may be as much more as the rounding that the state has brought along', () => {
    const situation = growing([-1], [{ level: -1, coefficients: [0.25], tolerance, scale: 2 }]);
    expect(byRounding(situation)).toBe(false);
    check.timePassed({ noise: 0.125 } as Situation);
    expect(byRounding(situation)).toBe(true);
  });

  test('a guard on its limit goes where its derivatives say, a growing part by minus its rate', () => {
    // d/dt of c exp(t) is c.
    const at = (...coefficients: readonly number[]): Line => ({
      level: -coefficients.reduce((a, b) => a + b),
      coefficients,
    });
    const goes = (rates: readonly number[], line: Line): boolean =>
      check.pastLimit(growing(rates, [line]), new Float64Array(rates.length).fill(1)) === 0;
    expect(goes([-1], at(0.5))).toBe(true);
    expect(goes([-1], at(-0.5))).toBe(false);
    // exp(t) + exp(-t) - 2 has no slope at first, and bends upwards.
    expect(goes([-1, 1], at(1, 1))).toBe(true);
    expect(goes([-1, 1], at(-1, -1))).toBe(false);
  });
});

test('GuardCheck.know() has room for a guard that no check has come to', () => {
  for (let g = 0; g < 20; g++) {
    check.know(g, g / 2);
    expect(check.coefficients[g]).toBe(g / 2);
  }
  check.know(40, 0.5);
  check.know(3, 0.25);
  expect([check.coefficients[40], check.coefficients[3]]).toEqual([0.5, 0.25]);
  // What it knows already it keeps.
  check.know(5, 0.75);
  expect([check.coefficients[40], check.coefficients[3], check.coefficients[5]]).toEqual([0.5, 0.25, 0.75]);
});
