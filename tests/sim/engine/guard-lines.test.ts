import { describe, expect, test } from 'vitest';
import type { ArmedGuard } from '#sim/engine/armed-guards.ts';
import type { Program } from '#sim/engine/program.ts';
import { Situation } from '#sim/engine/situation.ts';
import type { Law } from '#sim/network/element.ts';
import type { Mode } from '#sim/network/mode.ts';
import { ModeCompiler } from '#sim/network/mode-compiler.ts';
import { modeOf, networkOf, thevenin, type Wired } from '../../support/compiled-mode.ts';
import { ModeState } from '../../support/mode-state.ts';

const EPSILON = Number.EPSILON;

/** Of the program a situation only takes the currents to show. */
const program = { currents: [] } as unknown as Program;

let codes = 0;
function volts(plus: number, minus: number, offset: number, sign: 1 | -1 = 1): ArmedGuard {
  return { code: codes++, rank: 0, guard: undefined, plus, minus, branch: -1, sign, offset };
}
function amperes(branch: number, offset: number, sign: 1 | -1 = 1): ArmedGuard {
  return { code: codes++, rank: 0, guard: undefined, plus: 0, minus: 0, branch, sign, offset };
}

interface Inputs {
  readonly values: readonly number[];
  readonly slopes?: readonly number[];
}

function situationOf(mode: Mode, armed: readonly ArmedGuard[], { values, slopes }: Inputs, voltScale = 10): Situation {
  const u = Float64Array.of(...values, 1);
  const u1 = Float64Array.of(...(slopes ?? values.map(() => 0)), 0);
  const settled = { pieces: [], states: [], inputs: u, inputSlopes: u1, recurs: false };
  return new Situation(program, mode, settled, voltScale, armed);
}

/** A guard's value at a local time, as the engine reads it. */
function valueAt(situation: Situation, g: number, voltages: readonly number[], inputs: Inputs, time: number): number {
  const { rates, rest, rows, constants, slopes, stateCount: n } = situation;
  const z = new ModeState(situation.mode, voltages, inputs).stateAt(0);
  let value = constants[g]! + slopes[g]! * time;
  for (let k = 0; k < n; k++) value += rows[g * n + k]! * (z[k]! - rest[k]!) * Math.exp(-rates[k]! * time);
  return value;
}

/** A source of the first input at node 1, 10 kohm to node 2, 1 uF to ground: 10 ms. */
const charging = modeOf(
  3,
  [
    [1, 0, thevenin(0, 0, 0)],
    [1, 2, thevenin(1e4)],
  ],
  [[2, 0, 1e-6]],
);

describe('guardLines: how guards follow from the amplitudes', () => {
  test('a guard that was left out is back when its limit, an input or the voltage that it watches is another', () => {
    // Half of the first input at node 2, or four fifths of it.
    const wired: readonly Wired[] = [
      [1, 0, thevenin(0, 0, 0)],
      [1, 2, thevenin(1e3)],
      [2, 0, thevenin(1e3)],
    ];
    const laws = (lower: number): Law[] => [...wired.slice(0, 2).map(([, , law]) => law), thevenin(lower)];
    const network = networkOf(3, wired, []);
    const compiler = new ModeCompiler(network);
    const mode = compiler.compile(laws(1e3)) as Mode;
    const guard: { -readonly [K in keyof ArmedGuard]: ArmedGuard[K] } = volts(2, 0, 6);
    const situation = situationOf(mode, [guard], { values: [10] });
    const isArmed = (input: number): boolean => {
      const inputs = Float64Array.of(input, 1);
      const settled = { pieces: [], states: [], inputs, inputSlopes: new Float64Array(2), recurs: false };
      situation.renew(settled, 10);
      expect(situation.guards.length).toBe(situation.constants.length);
      return situation.guards.length === 1;
    };
    expect([isArmed(10), isArmed(10), isArmed(13), isArmed(10)]).toEqual([false, false, true, false]);
    guard.offset = 4;
    expect([isArmed(10), isArmed(10)]).toEqual([true, true]);
    guard.offset = 6;
    expect([isArmed(10), isArmed(10)]).toEqual([false, false]);
    expect(compiler.renew(network)).toBe(true);
    expect(compiler.compile(laws(4e3), mode)).toBe(mode);
    expect([isArmed(10), isArmed(10)]).toEqual([true, true]);
    expect(situation.constants[0]).toBeCloseTo(2, 12);
  });

  test('so is one that watches a current, or something less a current, when resistances are others', () => {
    // From 10 V through 1 kohm and as much, or four times as much: 5 mA, then 2 mA.
    const wired: readonly Wired[] = [
      [1, 0, thevenin(0, 0, 0)],
      [1, 2, thevenin(1e3)],
      [2, 0, thevenin(1e3)],
    ];
    const network = networkOf(3, wired, []);
    const laws = (lower: number): Law[] => [...wired.slice(0, 2).map(([, , law]) => law), thevenin(lower)];
    // Armed below 3 mA, and where 10 V less 1 kohm times the current is above 6 V.
    const guards = [amperes(1, -3e-3, -1), { ...volts(1, 0, 6), less: { branch: 1, times: 1e3 } }];
    for (const guard of guards) {
      const compiler = new ModeCompiler(network);
      const mode = compiler.compile(laws(1e3)) as Mode;
      const situation = situationOf(mode, [guard], { values: [10] });
      const armed = (): number => {
        const settled = { inputs: Float64Array.of(10, 1), inputSlopes: new Float64Array(2), recurs: false };
        situation.renew({ pieces: [], states: [], ...settled }, 10);
        return situation.guards.length;
      };
      expect([armed(), armed()]).toEqual([0, 0]);
      expect(compiler.renew(network)).toBe(true);
      expect(compiler.compile(laws(4e3), mode)).toBe(mode);
      expect([armed(), armed()]).toEqual([1, 1]);
    }
  });

  test('a guard that was left out is back when either input begins to move, or when less counts as rounding', () => {
    // The second input lies at node 2, a little above the limit: by nine tenths of the rounding of 10 V.
    const two = modeOf(
      3,
      [
        [1, 0, thevenin(0, 0, 0)],
        [2, 0, thevenin(0, 0, 1)],
      ],
      [],
      2,
    );
    const limit = 8 - 0.9 * 32 * EPSILON * 10;
    const situation = situationOf(two, [volts(1, 0, 20), volts(2, 0, limit)], { values: [9, 8] });
    const armed = (slopes: readonly [number, number], voltScale: number): number => {
      const [inputs, inputSlopes] = [Float64Array.of(9, 8, 1), Float64Array.of(...slopes, 0)];
      situation.renew({ pieces: [], states: [], inputs, inputSlopes, recurs: false }, voltScale);
      return situation.guards.length;
    };
    expect([armed([0, 0], 10), armed([0, 0], 10)]).toEqual([0, 0]);
    expect([armed([1, 0], 10), armed([0, 0], 10), armed([0, 1], 10), armed([0, 0], 10)]).toEqual([1, 0, 1, 0]);
    expect([armed([0, 0], 5), armed([0, 0], 5), armed([0, 0], 10)]).toEqual([1, 1, 0]);
  });

  test('a voltage that charges: 9 - 7 exp(-t / RC), less its limit, either way round', () => {
    const guards = [volts(2, 0, 6), volts(0, 2, -6), volts(2, 0, -6, -1), volts(1, 2, 1)];
    const inputs = { values: [9] };
    const situation = situationOf(charging, guards, inputs);
    expect(situation.guards).toEqual(guards);
    for (const time of [0, 0.004, 0.03]) {
      const at = 9 - 7 * Math.exp(-100 * time);
      const found = guards.map((_, g) => valueAt(situation, g, [2], inputs, time));
      [at - 6, 6 - at, 6 - at, 9 - at - 1].forEach((expected, g) => expect(found[g]).toBeCloseTo(expected, 13));
    }
  });

  test('a current through a resistance: (9 V - v) / R, less its limit, either way round', () => {
    const guards = [amperes(1, 1e-4), amperes(1, -1e-4, -1)];
    const inputs = { values: [9] };
    const situation = situationOf(charging, guards, inputs);
    for (const time of [0, 0.004, 0.03]) {
      const current = (7 * Math.exp(-100 * time)) / 1e4;
      expect(valueAt(situation, 0, [2], inputs, time)).toBeCloseTo(current - 1e-4, 17);
      expect(valueAt(situation, 1, [2], inputs, time)).toBeCloseTo(1e-4 - current, 17);
    }
  });

  test('a ramp at the source: S (t - RC (1 - exp(-t / RC))) behind the resistance, S RC over it, i = C S', () => {
    const inputs = { values: [0], slopes: [50] };
    const guards = [volts(1, 0, 2), volts(2, 0, 2), volts(1, 2, 0.25), amperes(1, 1e-5), amperes(0, 1e-5, -1)];
    const situation = situationOf(charging, guards, inputs);
    expect(situation.guards).toEqual(guards);
    for (const time of [0, 0.004, 0.03]) {
      const lag = 0.5 * (1 - Math.exp(-100 * time));
      const found = guards.map((_, g) => valueAt(situation, g, [0], inputs, time));
      [50 * time - 2, 50 * time - lag - 2, lag - 0.25].forEach((expected, g) => {
        expect(found[g]).toBeCloseTo(expected, 13);
      });
      // The source's own current flows from plus through it to minus: the opposite of what it gives.
      for (const g of [3, 4]) expect(found[g]).toBeCloseTo(lag / 1e4 - 1e-5, 17);
    }
    // What the resistance drops tends to a constant: no slope is left, not even one of rounding.
    expect(situation.slopes[2]).toBe(0);
    expect(situation.slopes[3]).toBe(0);
    expect(situation.slopes[0]).toBe(50);
  });

  test('a capacitor across a ramp: i = C S, which follows from the slope alone', () => {
    const mode = modeOf(2, [[1, 0, thevenin(0, 0, 0)]], [[1, 0, 2e-6]]);
    const guards = [amperes(0, 1e-4, -1)];
    const situation = situationOf(mode, guards, { values: [5], slopes: [300] });
    // It never changes and stands past its limit: 600 uA against 100 uA.
    expect(situation.guards).toEqual(guards);
    expect(situation.constants[0]).toBeCloseTo(5e-4, 17);
    expect(situation.slopes[0]).toBe(0);
  });

  test('two capacitors of their own behind one source, each and one against the other', () => {
    const both = modeOf(
      4,
      [
        [1, 0, thevenin(0, 0, 0)],
        [1, 2, thevenin(1e4)],
        [1, 3, thevenin(2e4)],
      ],
      [
        [2, 0, 1e-6],
        [3, 0, 1e-6],
      ],
    );
    // The middle one never moves and is left out, so that those behind it move up.
    const guards = [volts(3, 0, 6), volts(1, 0, 10), volts(2, 0, 6), volts(2, 3, 1)];
    const inputs = { values: [9] };
    const situation = situationOf(both, guards, inputs);
    expect(situation.guards).toEqual([guards[0], guards[2], guards[3]]);
    expect(situation.rows).toHaveLength(6);
    for (const time of [0, 0.004, 0.03]) {
      const [one, other] = [9 - 7 * Math.exp(-100 * time), 9 - 5 * Math.exp(-50 * time)];
      [other - 6, one - 6, one - other - 1].forEach((expected, g) => {
        expect(valueAt(situation, g, [2, 4], inputs, time)).toBeCloseTo(expected, 13);
      });
    }
  });

  test('a constant current into a capacitor: a drift of I / C', () => {
    const mode = modeOf(2, [[0, 1, { kind: 'current', current: 1e-3 }]], [[1, 0, 1e-6]]);
    const situation = situationOf(mode, [volts(1, 0, 5)], { values: [0] });
    expect(situation.slopes[0]).toBeCloseTo(1000, 11);
    expect(situation.constants[0]).toBe(-5);
    expect(valueAt(situation, 0, [2], { values: [0] }, 0)).toBeCloseTo(-3, 14);
  });
});

describe('guardLines: a guard that watches something less so many times a current', () => {
  /** The same source and capacitor, with 20 kohm beside the capacitor: two thirds of the source behind 6.67 kohm. */
  const shunted = modeOf(
    3,
    [
      [1, 0, thevenin(0, 0, 0)],
      [1, 2, thevenin(1e4)],
      [2, 0, thevenin(2e4)],
    ],
    [[2, 0, 1e-6]],
  );

  test('one resistor less three times the other: (9 - v) / R1 - 3 v / R2', () => {
    const less = { branch: 2, times: 3 };
    const guards = [
      { ...amperes(1, 1e-4), less },
      { ...amperes(1, -1e-4, -1), less },
    ];
    const inputs = { values: [9] };
    const situation = situationOf(shunted, guards, inputs);
    for (const time of [0, 0.004, 0.03]) {
      const v = 6 - 4 * Math.exp(-150 * time);
      const meant = (9 - v) / 1e4 - (3 * v) / 2e4 - 1e-4;
      expect(valueAt(situation, 0, [2], inputs, time)).toBeCloseTo(meant, 16);
      expect(valueAt(situation, 1, [2], inputs, time)).toBeCloseTo(-meant, 16);
    }
    // 1 V over either node and none of its own by 10 kohm, and three times 1 V over node and ground by 20 kohm.
    expect(situation.scales[0]).toBeCloseTo(2 / 1e4 + 3 / 2e4, 17);
    const opposite = { ...amperes(1, 0), less: { branch: 2, times: -3 } };
    expect(situationOf(shunted, [opposite], inputs).scales[0]).toBeCloseTo(2 / 1e4 + 3 / 2e4, 17);
  });

  test('a ramp: what follows from its slope alone is taken off as well', () => {
    // i = C S over the source's capacitor, and S t / R through the resistor beside it.
    const mode = modeOf(
      2,
      [
        [1, 0, thevenin(0, 0, 0)],
        [1, 0, thevenin(1e4)],
      ],
      [[1, 0, 2e-6]],
    );
    const inputs = { values: [5], slopes: [300] };
    const guards = [{ ...amperes(1, 1e-4), less: { branch: 0, times: 0.5 } }];
    const situation = situationOf(mode, guards, inputs);
    for (const time of [0, 0.01]) {
      const own = (5 + 300 * time) / 1e4;
      const source = -(own + 2e-6 * 300);
      expect(valueAt(situation, 0, [5], inputs, time)).toBeCloseTo(own - 0.5 * source - 1e-4, 16);
    }
  });

  test('what cancels is nothing: a current less itself never moves', () => {
    const guards = [{ ...amperes(1, -1), less: { branch: 1, times: 1 } }];
    const situation = situationOf(charging, guards, { values: [9], slopes: [50] });
    expect([...situation.rows]).toEqual([0]);
    expect([...situation.constants]).toEqual([1]);
    expect([...situation.slopes]).toEqual([0]);
  });
});

describe('guardLines: which guards are left out', () => {
  test('those that stand still and not past their limits; of two codes the one past it stays, in its place', () => {
    const guards = [volts(1, 0, 10), volts(1, 0, 8), volts(1, 0, 9), volts(2, 0, 100), volts(1, 0, 9.5)];
    const situation = situationOf(charging, guards, { values: [9] });
    // 9 V: below 10 V, above 8 V, on 9 V exactly; the capacitor moves, so that its guard stays however far its limit is.
    expect(situation.guards).toEqual([guards[1], guards[3]]);
    expect([...situation.constants]).toEqual([1, expect.closeTo(9 - 100, 12)]);
    expect(situation.rows).toHaveLength(2);
    for (const list of [situation.slopes, situation.tolerances, situation.scales, situation.roots]) {
      expect(list).toHaveLength(2);
    }
  });

  test('one that stands still stays when its source ramps', () => {
    const guards = [volts(1, 0, 10)];
    expect(situationOf(charging, guards, { values: [9], slopes: [1e-3] }).guards).toEqual(guards);
  });

  test('past its limit means by more than the rounding of the largest voltage: 32 units of 10 V', () => {
    const rounding = 32 * EPSILON * 10;
    const past = (by: number): number => situationOf(charging, [volts(1, 0, 8 - by)], { values: [8] }).guards.length;
    expect(past(0.9 * rounding)).toBe(0);
    expect(past(1.1 * rounding)).toBe(1);
  });
});

describe('guardLines: what counts as rounding', () => {
  test('32 units of the largest voltage per node that is read, and 16 of the constant', () => {
    const guards = [volts(1, 0, -3), volts(1, 2, -3), amperes(1, -1)];
    const { tolerances, scales } = situationOf(charging, guards, { values: [9] });
    // Nodes 1 and 2 both follow one voltage; ground none. The current: 1 V over each node and none of its own, by 10 kohm.
    expect([...scales].slice(0, 2)).toEqual([1, 2]);
    expect(scales[2]).toBeCloseTo(2 / 1e4, 18);
    expect(tolerances[0]! / EPSILON).toBeCloseTo(32 * 10 + 16 * 12, 9);
    expect(tolerances[1]! / EPSILON).toBeCloseTo(64 * 10 + 16 * 3, 9);
    // Amperes per volt are far less than 1 and stay so.
    expect(tolerances[2]! / EPSILON).toBeCloseTo(32 * 10 * (2 / 1e4) + 16, 9);
  });

  test('a divided voltage rounds as a whole one', () => {
    const divider: Wired[] = [
      [1, 0, thevenin(0, 0, 0)],
      [1, 2, thevenin(3e3)],
      [2, 0, thevenin(1e3)],
    ];
    const { tolerances, scales } = situationOf(modeOf(3, divider, []), [volts(2, 0, 1)], { values: [8] });
    expect(scales[0]).toBe(0.25);
    expect(tolerances[0]! / EPSILON).toBeCloseTo(32 * 10 + 16, 9);
  });

  test('two dividers of one ratio that ramp side by side never part', () => {
    // 1/3 from 2 k and 1 k and from 2.2 M and 1.1 M: equal but for rounding, whatever the ramp.
    const dividers: Wired[] = [
      [1, 0, thevenin(0, 0, 0)],
      [1, 2, thevenin(2e3)],
      [2, 0, thevenin(1e3)],
      [1, 3, thevenin(2.2e6)],
      [3, 0, thevenin(1.1e6)],
    ];
    const mode = modeOf(4, dividers, []);
    for (const slope of [1e-3, 1e6, -1e6]) {
      const inputs = { values: [9], slopes: [slope] };
      expect(situationOf(mode, [volts(2, 3, 0), volts(3, 2, 0)], inputs).guards).toEqual([]);
      expect(situationOf(mode, [volts(2, 3, -1)], inputs).slopes[0]).toBe(0);
    }
  });

  test('two dividers of one ratio behind one capacitor never part either', () => {
    const dividers: Wired[] = [
      [1, 0, thevenin(1e3)],
      [1, 2, thevenin(2e3)],
      [2, 0, thevenin(1e3)],
      [1, 3, thevenin(2.2e6)],
      [3, 0, thevenin(1.1e6)],
      [1, 4, thevenin(0.7)],
      [4, 0, thevenin(0.35)],
    ];
    const mode = modeOf(5, dividers, [[1, 0, 1e-6]]);
    const pairs = [volts(2, 3, 0), volts(3, 2, 0), volts(2, 4, 0), volts(4, 2, 0), volts(3, 4, 0), volts(4, 3, 0)];
    // The thirds differ in their last bits.
    const weights = [2, 3, 4].map((node) => mode.nodes.at(node).state[0]!);
    expect(new Set(weights).size).toBeGreaterThan(1);
    expect(situationOf(mode, pairs, { values: [0] }).guards).toEqual([]);
  });

  test('a slow ramp beside a steep one is no rounding', () => {
    const two: Wired[] = [
      [1, 0, thevenin(0, 0, 0)],
      [2, 0, thevenin(0, 0, 1)],
    ];
    const mode = modeOf(3, two, [], 2);
    const inputs = { values: [1, 1], slopes: [-1e-3, 1] };
    const { slopes } = situationOf(mode, [volts(1, 0, 5, -1), volts(2, 1, 5)], inputs);
    expect(slopes[0]).toBe(1e-3);
    expect(slopes[1]).toBeCloseTo(1.001, 15);
  });
});
