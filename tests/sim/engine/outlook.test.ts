import { describe, expect, test } from 'vitest';
import { type Foreseen, Outlook } from '#sim/engine/outlook.ts';

// Guards are straight lines over the state, exact in binary: what becomes of a state follows by looking at them. That a look
// at all guards says the same, near their limits to the last bit, is a law (`tests/laws/outlook.test.ts`).

/** A tolerance of every guard, as large as no rounding of these numbers. */
const TOLERANCE = 2 ** -40;

/** A guard that watches for the state to rise to a limit, or to fall to it; steeper, it is more volts for each of the state. */
interface Line {
  readonly limit: number;
  readonly falls?: boolean;
  readonly steep?: number;
  readonly moves?: boolean;
}

/** A state that tends to `rest` at one per second, and guards. */
function tending(rest: number, ...lines: readonly Line[]): Foreseen {
  const rows = lines.map(({ falls = false, steep = 1 }) => (falls ? -steep : steep));
  return {
    rates: Float64Array.of(1),
    rest: Float64Array.of(rest),
    rows: Float64Array.from(rows),
    constants: Float64Array.from(lines, ({ limit }, g) => rows[g]! * (rest - limit)),
    tolerances: new Float64Array(lines.length).fill(TOLERANCE),
    guards: lines.map(({ moves = false }) => ({ guard: moves ? undefined : {} })),
  };
}

/** What becomes of states, one after the other: which guard fires, "at once" or "later"; undefined where it is not told. */
function told(situation: Foreseen, ...states: readonly number[]): (string | undefined)[] {
  const outlook = new Outlook();
  return states.map((z) => {
    if (!outlook.covers(situation, z)) return undefined;
    const { guard, atOnce } = outlook;
    return guard < 0 ? 'none' : `${guard} ${atOnce ? 'at once' : 'later'}`;
  });
}

describe('Outlook.covers()', () => {
  test('tells which limit a state comes to first on its way, on either side of where it tends to', () => {
    const rising = tending(4, { limit: 3 }, { limit: 2, steep: 2 }, { limit: 3.5 });
    expect(told(rising, 1, -7)).toEqual(['1 later', '1 later']);
    const falling = tending(4, { limit: 5, falls: true }, { limit: 6, falls: true, steep: 1 / 4 });
    expect(told(falling, 7, 100)).toEqual(['1 later', '1 later']);
  });

  test('tells that a guard past its limit fires at once, of several the first', () => {
    const two = tending(0, { limit: 5 }, { limit: 3 });
    expect(told(two, 4, 6, 100, 2)).toEqual(['1 at once', '0 at once', '0 at once', 'none']);
  });

  test('tells that nothing fires where the state tends away from all limits', () => {
    expect(told(tending(0, { limit: 5 }, { limit: -5, falls: true }), 4, -4, 0)).toEqual(['none', 'none', 'none']);
    expect(told(tending(0), 1)).toEqual(['none']);
  });

  test('tells of a state on the limit that it has come to by where it goes from there', () => {
    const rising = tending(8, { limit: 3 });
    expect(told(rising, 3, 3 - TOLERANCE / 8, 3 + 2 * TOLERANCE)).toEqual(['0 at once', '0 at once', '0 at once']);
    const leaving = tending(8, { limit: 3, falls: true }, { limit: 5 });
    expect(told(leaving, 3, 3 + TOLERANCE, 3 - TOLERANCE / 8)).toEqual(['1 later', '1 later', '1 later']);
    expect(told(leaving, 3, 2)).toEqual(['1 later', '0 at once']);
  });

  test('does not tell of a state so near to a limit that rounding says on which side it is', () => {
    expect(told(tending(8, { limit: 3 }), 3 - TOLERANCE, 3 - 2 * TOLERANCE)).toEqual([undefined, undefined]);
    expect(told(tending(0, { limit: 3 }), 3, 3 + TOLERANCE)).toEqual([undefined, undefined]);
    expect(told(tending(8, { limit: 3, falls: true }), 3 - TOLERANCE)).toEqual([undefined]);
    // Nothing else fires: whether the one on its limit still counts as watched is a question of bits.
    expect(told(tending(8, { limit: 3, falls: true }), 3)).toEqual([undefined]);
  });

  test('does not tell of a state that hardly moves on its limit', () => {
    expect(told(tending(3 + 32 * TOLERANCE, { limit: 3 }), 3)).toEqual([undefined]);
    expect(told(tending(3 + 32 * TOLERANCE, { limit: 3, falls: true }, { limit: 3.5 }), 3)).toEqual([undefined]);
  });

  test('does not tell of a limit that the state tends to, nor of two limits at one place', () => {
    expect(told(tending(3, { limit: 3 }), 1)).toEqual([undefined]);
    expect(told(tending(3 - TOLERANCE, { limit: 3 }), 1)).toEqual([undefined]);
    expect(told(tending(8, { limit: 3 }, { limit: 3, steep: 2 }), 1)).toEqual([undefined]);
    expect(told(tending(8, { limit: 3 }, { limit: 3 + 2 ** -20 }), 1)).toEqual(['0 later']);
    // A quarter of a millivolt is no place of its own where limits are millions of volts away.
    expect(told(tending(2 ** 23, { limit: 2 ** 20 }, { limit: 2 ** 20 + 2 ** -12 }), 1)).toEqual([undefined]);
  });

  test('takes a guard that does not follow the state for what it is', () => {
    const held = { ...tending(0, { limit: 1 }), rows: Float64Array.of(0), constants: Float64Array.of(1) };
    expect(told(held, -5, 0, 5)).toEqual(['0 at once', '0 at once', '0 at once']);
    expect(told({ ...held, constants: Float64Array.of(-1) }, 5)).toEqual(['none']);
    expect(told({ ...held, constants: Float64Array.of(TOLERANCE) }, 5)).toEqual([undefined]);
  });

  test('takes a situation without a state as one that stands still', () => {
    const none = new Float64Array(0);
    expect(told({ ...tending(0, { limit: 1 }), rates: none, rest: none, rows: none }, 7)).toEqual(['none']);
  });

  test('gives the law of the guard that fires later, and says of one that fires at once whether it moves a branch', () => {
    const outlook = new Outlook();
    expect(outlook.covers(tending(8, { limit: 3 }, { limit: 5, steep: 2 }), 4)).toBe(true);
    expect(outlook).toMatchObject({ guard: 0, atOnce: true, moves: false });
    const move = new Outlook();
    expect(move.covers(tending(8, { limit: 5, steep: 2, moves: true }), 6)).toBe(true);
    expect(move).toMatchObject({ guard: 0, atOnce: true, moves: true });
    const later = new Outlook();
    expect(later.covers(tending(8, { limit: 3, falls: true }, { limit: 5, steep: 2 }), 4)).toBe(true);
    expect(later).toMatchObject({ guard: 1, atOnce: false, rest: 8, rate: 1, level: 6, row: 2 });
  });

  test('gives up looking where it looks in vain again and again, and goes on telling what it knows', () => {
    const situation = tending(8, { limit: 3 });
    const outlook = new Outlook();
    for (let turn = 0; turn < 20; turn++) expect(outlook.covers(situation, 3 - 2 * TOLERANCE)).toBe(false);
    expect(outlook.covers(situation, 1)).toBe(false);
  });
});
