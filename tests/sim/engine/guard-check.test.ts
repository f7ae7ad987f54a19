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
