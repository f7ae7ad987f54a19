import { describe, expect, test } from 'vitest';
import { CrossingFinder } from '#sim/engine/crossing.ts';
import { EndingSearch } from '#sim/engine/ending-search.ts';
import type { GuardCheck } from '#sim/engine/guard-check.ts';
import type { Situation } from '#sim/engine/situation.ts';

// Guards are straight lines, level + slope t, which pass zero at -level / slope: exact in binary.

const EPSILON = Number.EPSILON;
/** What a check has found where no guard has a coefficient or stands on its limit. */
const NOTHING = { coefficients: new Float64Array(0), leaving: new Map() };

/** A guard that begins at -1 and passes zero at a time (s). */
interface Line {
  readonly at: number;
  readonly tolerance?: number;
}

interface Ending {
  readonly guard: number;
  readonly time: number;
  readonly roots: readonly number[];
}

/** Searches lines, all of them live, up to a time that is known. */
function search(lines: readonly Line[], known: number, likely = -1, live = lines.map((_, g) => g)): Ending {
  const situation = {
    rates: new Float64Array(0),
    idle: 0,
    stateCount: 0,
    constants: Float64Array.from(lines, () => -1),
    slopes: Float64Array.from(lines, ({ at }) => 1 / at),
    tolerances: Float64Array.from(lines, ({ tolerance = 0 }) => tolerance),
    roots: new Float64Array(lines.length),
    likely,
  };
  const check = { ...NOTHING, live: Int32Array.from(live), liveCount: live.length };
  const ending = new EndingSearch(new CrossingFinder(0), check as unknown as GuardCheck);
  ending.length = known;
  const guard = ending.run(situation as unknown as Situation);
  return { guard, time: ending.length, roots: [...situation.roots] };
}

/** What the search asks of its finder: guard, up to when, and whether a tie at that time counts. */
function asked(found: readonly number[], known: number, likely = -1): [guard: number, limit: number, tie: boolean][] {
  const all: [number, number, boolean][] = [];
  const finder = {
    first: (_: unknown, g: number, __: unknown, limit: number, tie: boolean) => {
      all.push([g, limit, tie]);
      return found[g]!;
    },
    valueOf: () => 1,
  };
  const situation = { roots: new Float64Array(found.length), tolerances: new Float64Array(found.length), likely };
  const check = { ...NOTHING, live: Int32Array.from(found.keys()), liveCount: found.length };
  const ending = new EndingSearch(finder as unknown as CrossingFinder, check as unknown as GuardCheck);
  ending.length = known;
  ending.run(situation as unknown as Situation);
  return all;
}

describe('EndingSearch.run()', () => {
  test('asks for ties with what has been found of earlier guards alone, for these go first', () => {
    const before = 8 * (1 - 64 * EPSILON);
    // The second and then the first are found; the third comes later in the list than what is known by then.
    expect(asked([1, 2, 3], 8, 1)).toEqual([
      [1, before, false],
      [0, 2, true],
      [2, 1, false],
    ]);
    expect(asked([Infinity, 2, 3], 8)).toEqual([
      [0, before, false],
      [1, before, false],
      [2, 2, false],
    ]);
    expect(asked([Number.NaN, Infinity], 8)).toEqual([
      [0, before, false],
      [1, before, false],
    ]);
    expect(asked([2, 3], 8, 0)).toEqual([
      [0, before, false],
      [1, 2, false],
    ]);
  });

  test('finds none where no guard is live, or none fires before the known time', () => {
    expect(search([], 4)).toEqual({ guard: -1, time: 4, roots: [] });
    expect(search([{ at: 1 }], 4, -1, [])).toEqual({ guard: -1, time: 4, roots: [0] });
    expect(search([{ at: 1 }], 4, 0, [])).toEqual({ guard: -1, time: 4, roots: [0] });
    expect(search([{ at: 8 }, { at: 16 }], 4)).toEqual({ guard: -1, time: 4, roots: [0, 0] });
  });

  test('finds the guard that fires first, whatever their order and whichever ended it last time', () => {
    const lines: Line[] = [{ at: 2 }, { at: 1 }, { at: 0.5 }, { at: 4 }];
    for (const likely of [-1, 0, 1, 2, 3]) {
      expect(search(lines, 8, likely)).toMatchObject({ guard: 2, time: 0.5 });
      expect(search(lines.toReversed(), 8, likely)).toMatchObject({ guard: 1, time: 0.5 });
      expect(search(lines, Infinity, likely)).toMatchObject({ guard: 2, time: 0.5 });
    }
    expect(search(lines, 8, -1, [0, 1, 3])).toMatchObject({ guard: 1, time: 1 });
    expect(search([{ at: 0.5 }, { at: 1 }], 8)).toMatchObject({ guard: 0, time: 0.5 });
  });

  test('keeps when the guard fires that it finds, as a guess; nothing that depends on where a caller stops', () => {
    for (const known of [8, 1.5]) {
      expect(search([{ at: 2 }, { at: 1 }], known).roots).toEqual([0, 1]);
      expect(search([{ at: 1 }, { at: 2 }], known).roots).toEqual([1, 0]);
      expect(search([{ at: 2 }, { at: 1 }], known, 1).roots).toEqual([0, 1]);
    }
    expect(search([{ at: 2 }, { at: 1 }], 0.5).roots).toEqual([0, 0]);
  });

  test('lets the known time go before a guard of the same instant, 64 roundings wide', () => {
    expect(search([{ at: 1 }], 1)).toEqual({ guard: -1, time: 1, roots: [0] });
    expect(search([{ at: 1 - 32 * EPSILON }], 1).guard).toBe(-1);
    expect(search([{ at: 1 - 256 * EPSILON }], 1)).toMatchObject({ guard: 0, time: 1 - 256 * EPSILON });
    expect(search([{ at: 1 }], 1, 0).guard).toBe(-1);
  });

  test('and before one that is past its limit by no more than rounding when the known time comes', () => {
    // At 1 s it is 2^-40 / (1 - 2^-40) past its limit.
    const line: Line = { at: 1 - 2 ** -40 };
    expect(search([line], 1)).toMatchObject({ guard: 0, time: line.at });
    expect(search([{ ...line, tolerance: 2 ** -39 }], 1)).toEqual({ guard: -1, time: 1, roots: [0] });
    expect(search([{ ...line, tolerance: 2 ** -41 }], 1).guard).toBe(0);
    // That is not asked of one that fires long before.
    expect(search([{ at: 1 - 2 ** -20, tolerance: 1 }], 1).guard).toBe(0);
    expect(search([{ at: 0.5, tolerance: 4 }], 1).guard).toBe(0);
    // Nor once another has been found.
    expect(search([{ at: 0.5 }, { at: 0.5 - 2 ** -41, tolerance: 1 }], 1)).toMatchObject({ guard: 1 });
  });

  test('among guards of one instant finds the one that is earlier in the list', () => {
    for (const likely of [-1, 0, 1, 2]) {
      expect(search([{ at: 2 }, { at: 1 }, { at: 1 }], 8, likely)).toMatchObject({ guard: 1, time: 1 });
    }
    for (const likely of [-1, 0, 1]) {
      expect(search([{ at: 1 }, { at: 1 }], 8, likely)).toMatchObject({ guard: 0, time: 1 });
    }
    expect(search([{ at: 2 }, { at: 1 }, { at: 1 - 32 * EPSILON }], 8)).toMatchObject({ guard: 1, time: 1 });
    expect(search([{ at: 1 }, { at: 1 - 256 * EPSILON }], 8)).toMatchObject({ guard: 1, time: 1 - 256 * EPSILON });
    expect(search([{ at: 1 - 256 * EPSILON }, { at: 1 }], 8)).toMatchObject({ guard: 0, time: 1 - 256 * EPSILON });
  });
});
