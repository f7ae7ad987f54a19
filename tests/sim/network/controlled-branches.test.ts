import type { Law } from '#sim/network/element.ts';
import type { Mode } from '#sim/network/mode.ts';
import { describe, expect, test } from 'vitest';
import { balancedBridges, bridgeOf, compile, networkOf, thevenin } from '../../support/compiled-mode.ts';
import { ModeState } from '../../support/mode-state.ts';

// Branches that carry a gain times the current of another one. What is expected solves the equations of Kirchhoff and of
// the capacitors by hand, beside each test.

type Branch = readonly [a: number, b: number, law: Law];
type Charged = readonly [a: number, b: number, capacitance: number];

function modeOf(nodeCount: number, branches: readonly Branch[], charged: readonly Charged[], inputCount = 0): Mode {
  const network = networkOf(
    nodeCount,
    branches.map(([a, b]) => [a, b, thevenin(0)] as const),
    charged,
    inputCount,
  );
  return compile(
    network,
    branches.map(([, , law]) => law),
  );
}

function controlled(by: number, gain: number): Law {
  return { kind: 'controlled', by, gain };
}

function expectNear(found: number, expected: number, digits = 12): void {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(10 ** -digits * Math.max(1, Math.abs(expected)));
}

const R = 1e3;
const C = 1e-6;
/** R C (s). */
const TAU = 1e-3;

test('an input that jumps and rises goes through capacitors in series beside a controlled branch as it does without one', () => {
  // 1 uF from the source to node 2 and 4 uF from there to ground; a control from the source drives node 3.
  const mode = modeOf(
    4,
    [
      [1, 0, thevenin(0, 0, 0)],
      [1, 0, thevenin(R, 0.7)],
      [3, 0, controlled(1, 100)],
      [1, 3, thevenin(10)],
    ],
    [
      [2, 0, 4 * C],
      [1, 2, C],
    ],
    1,
  );
  expect(mode.untold).toBeUndefined();
  // From 0.5 V with the source at 2 V, which jumps to 3 V and rises by 8 V/s from there: a fifth of it goes through.
  const state = new ModeState(mode, [0.5, 1.5], { values: [3], slopes: [8] });
  expectNear(state.at(mode.nodes.at(2)), 0.5 + 1 / 5);
  expectNear(state.at(mode.nodes.at(2), 0.1), 0.5 + 1 / 5 + 0.8 / 5);
  // (u - 0.7 V) / 1 kohm, a hundred times through 10 ohm.
  expectNear(state.at(mode.nodes.at(3)), 3 - 10 * 100 * (2.3 / R));
});

describe('a grounded emitter: the control does not see what it drives', () => {
  // i = (u - 0.7 V) / 1 kohm; node 2: C v' = (u - v) / 10 ohm - 100 i.
  const mode = modeOf(
    3,
    [
      [1, 0, thevenin(0, 0, 0)],
      [1, 0, thevenin(R, 0.7)],
      [2, 0, controlled(1, 100)],
      [1, 2, thevenin(10)],
    ],
    [[2, 0, C]],
    1,
  );

  test('tends to where the load leaves it, at the rate of the load', () => {
    expect(mode.untold).toBeUndefined();
    expect(mode.rates).toHaveLength(1);
    expectNear(mode.rates[0]! * 1e-5, 1);
    const state = new ModeState(mode, [3], { values: [5] });
    for (const time of [0, 1e-5, 3e-5]) expectNear(state.at(mode.nodes.at(2), time), 0.7 + 2.3 * Math.exp(-1e5 * time));
  });

  test('tells its currents', () => {
    const state = new ModeState(mode, [3], { values: [5] });
    expectNear(state.at(mode.branchCurrents.at(1)), 4.3e-3);
    expectNear(state.at(mode.branchCurrents.at(2)), 0.43);
    expectNear(state.at(mode.branchCurrents.at(3)), 0.2);
    expectNear(state.at(mode.capacitorCurrents.at(0)), -0.23);
    // The source gives what the base and the load take.
    expectNear(state.at(mode.branchCurrents.at(0)), -0.2043);
  });

  test("follows a source that ramps: C v' = -v / 10 ohm + (0.07 A - 0) for u / 10 ohm - 100 u / 1 kohm = 0", () => {
    const state = new ModeState(mode, [0.7], { values: [5], slopes: [2000] });
    for (const time of [0, 1e-4]) expectNear(state.at(mode.nodes.at(2), time), 0.7);
    expectNear(state.at(mode.branchCurrents.at(2), 1e-3), 100 * 6.3e-3);
  });
});

describe('an emitter follower: the control sees what it drives', () => {
  // i = (u - 0.7 V - v) / 100 ohm, and C v' = (1 + 99) i - v / 1 kohm: rate (1 + 1e-3) / 1 us.
  const mode = modeOf(
    3,
    [
      [1, 0, thevenin(0, 0, 0)],
      [1, 2, thevenin(100, 0.7)],
      [1, 2, controlled(1, 99)],
      [2, 0, thevenin(R)],
    ],
    [[2, 0, C]],
    1,
  );

  test('is as many times quicker as its gain says, and tends to the source less its drop', () => {
    expect(mode.untold).toBeUndefined();
    expectNear(mode.rates[0]! / 1.001e6, 1);
    const state = new ModeState(mode, [1], { values: [5.7] });
    const rest = 5 / 1.001;
    for (const time of [0, 5e-7, 4e-6]) {
      expectNear(state.at(mode.nodes.at(2), time), rest + (1 - rest) * Math.exp(-1.001e6 * time));
    }
    expectNear(state.at(mode.branchCurrents.at(1)), 0.04);
    expectNear(state.at(mode.branchCurrents.at(2)), 3.96);
    expectNear(state.at(mode.branchCurrents.at(2), 1e-3), 0.99 * rest * 1e-3, 10);
  });
});

test('an emitter follower without a capacitor: v = (u - 0.7 V) / (1 + 100 ohm / (100 1 kohm))', () => {
  const mode = modeOf(
    3,
    [
      [1, 0, thevenin(0, 0, 0)],
      [1, 2, thevenin(100, 0.7)],
      [1, 2, controlled(1, 99)],
      [2, 0, thevenin(R)],
    ],
    [],
    1,
  );
  expect(mode.untold).toBeUndefined();
  const state = new ModeState(mode, [], { values: [5.7] });
  expectNear(state.at(mode.nodes.at(2)), 5 / 1.001);
  expectNear(state.at(mode.branchCurrents.at(3)), 5e-3 / 1.001);
});

test('a branch whose control is open carries nothing', () => {
  const mode = modeOf(
    3,
    [
      [1, 0, thevenin(0, 0, 0)],
      [1, 0, { kind: 'open' }],
      [2, 0, controlled(1, 100)],
      [1, 2, thevenin(R)],
    ],
    [[2, 0, C]],
    1,
  );
  const state = new ModeState(mode, [0], { values: [5] });
  expectNear(mode.rates[0]! * TAU, 1);
  expectNear(state.at(mode.nodes.at(2), 1), 5);
  expect(state.at(mode.branchCurrents.at(2))).toBe(0);
});

test('a constant current into a capacitor, by a gain: a straight line', () => {
  // 4.3 mA times 2 out of 1 uF: -8.6 kV/s.
  const mode = modeOf(
    3,
    [
      [1, 0, thevenin(0, 0, 0)],
      [1, 0, thevenin(R, 0.7)],
      [2, 0, controlled(1, 2)],
    ],
    [[2, 0, C]],
    1,
  );
  expect([...mode.rates]).toEqual([0]);
  const state = new ModeState(mode, [7], { values: [5] });
  expectNear(state.at(mode.nodes.at(2), 5e-4), 7 - 4.3);
});

test('a controlled current reaches a capacitor through nets that hold none: R from there to ground, 3 R beside C', () => {
  // 2 mA out of node 4, from where 1 kohm leads to the capacitor and 1 kohm, node 3 and 1 kohm to ground.
  const mode = modeOf(
    5,
    [
      [1, 0, thevenin(0, 0, 0)],
      [1, 0, thevenin(R, 0.7)],
      [4, 0, controlled(1, 2)],
      [4, 2, thevenin(R)],
      [4, 3, thevenin(R)],
      [3, 0, thevenin(R)],
    ],
    [[2, 0, C]],
    1,
  );
  expectNear(mode.rates[0]! * 3 * TAU, 1);
  const state = new ModeState(mode, [5], { values: [1.7] });
  for (const time of [0, 1e-3, 6e-3]) {
    const volts = -4 + 9 * Math.exp(-time / (3 * TAU));
    expectNear(state.at(mode.nodes.at(2), time), volts);
    // What the capacitor drives is shared by 1 and 2 kohm: v4 (1 / 1 + 1 / 2) = v2 / 1 - 2, in kohm, mA and V.
    expectNear(state.at(mode.nodes.at(4), time), (volts - 2) / 1.5);
    expectNear(state.at(mode.nodes.at(3), time), (volts - 2) / 3);
  }
});

describe('two capacitors that drive each other', () => {
  /** Each is emptied by 1 kohm; what flows there is pushed, times a gain, into the other one, or drawn from it. */
  function pair(intoSecond: number, intoFirst: number, second = C): Mode {
    const push = (node: number, by: number, gain: number): Branch =>
      gain < 0 ? [node, 0, controlled(by, -gain)] : [0, node, controlled(by, gain)];
    return modeOf(
      3,
      [[1, 0, thevenin(R)], [2, 0, thevenin(R)], push(2, 0, intoSecond), push(1, 1, intoFirst)],
      [
        [1, 0, C],
        [2, 0, second],
      ],
    );
  }

  test('half as much each: sum and difference decay at 1/2 and 3/2 of 1 / (R C)', () => {
    const mode = pair(0.5, 0.5);
    expect(mode.untold).toBeUndefined();
    expectNear(mode.rates[0]! * TAU, 0.5);
    expectNear(mode.rates[1]! * TAU, 1.5);
    const state = new ModeState(mode, [5, 1], { values: [] });
    for (const time of [0, 1e-3, 3e-3]) {
      const [sum, difference] = [6 * Math.exp(-500 * time), 4 * Math.exp(-1500 * time)];
      expectNear(state.at(mode.nodes.at(1), time), (sum + difference) / 2);
      expectNear(state.at(mode.nodes.at(2), time), (sum - difference) / 2);
    }
    // Into the first: 0.5 1 mA less its own 5 mA.
    expectNear(state.at(mode.capacitorCurrents.at(0)), -4.5e-3);
    expectNear(state.at(mode.capacitorCurrents.at(1)), 1.5e-3);
  });

  test('one way only, the second twice as large: v2 = (v2 + g v1) exp(-t / 2 R C) - g v1 exp(-t / R C)', () => {
    const mode = pair(3, 0, 2 * C);
    expect(mode.untold).toBeUndefined();
    const state = new ModeState(mode, [5, 1], { values: [] });
    for (const time of [0, 1e-3, 4e-3]) {
      expectNear(state.at(mode.nodes.at(1), time), 5 * Math.exp(-1000 * time));
      expectNear(state.at(mode.nodes.at(2), time), 16 * Math.exp(-500 * time) - 15 * Math.exp(-1000 * time));
    }
    // Per volt the two parts of v2 can be 1 + g and g, more than v2 itself.
    expectNear(mode.nodes.at(1).scale, 1);
    expectNear(mode.nodes.at(2).scale, 7);
  });

  test('as much each: that the sum stands still is not told from a rate that is rounding', () => {
    const mode = pair(1, 1);
    expect(mode.untold?.reason).toBe('alike');
  });

  test('twice as much each: the sum grows, the difference decays', () => {
    // C (v1 + v2)' = (v1 + v2) / R and C (v1 - v2)' = -3 (v1 - v2) / R.
    const mode = pair(2, 2);
    expect(mode.untold).toBeUndefined();
    expectNear(mode.rates[0]!, -1000);
    expectNear(mode.rates[1]!, 3000);
    const state = new ModeState(mode, [5, 1], { values: [] });
    for (const time of [0, TAU, 5 * TAU]) {
      const [sum, difference] = [6 * Math.exp(1000 * time), 4 * Math.exp(-3000 * time)];
      expectNear(state.at(mode.nodes.at(1), time), (sum + difference) / 2);
      expectNear(state.at(mode.nodes.at(2), time), (sum - difference) / 2);
    }
  });

  test.each([
    ['one pushes, one draws: they swing', 2, -2, 'rings'],
    ['one way between equal ones has no sum of exponentials: t exp(-t / R C)', 1, 0, 'alike'],
  ] as const)(
    '%s, and tells by which parts; what holds at an instant is told all the same',
    (_, there, back, reason) => {
      const mode = pair(there, back);
      expect(mode.untold?.reason).toBe(reason);
      expect(mode.untold?.parts).toEqual(['B2', 'B3']);
      const state = new ModeState(mode, [5, 1], { values: [] });
      expectNear(state.at(mode.nodes.at(1)), 5);
      expectNear(state.at(mode.nodes.at(2)), 1);
      expectNear(state.at(mode.branchCurrents.at(0)), 5e-3);
      expectNear(state.at(mode.branchCurrents.at(2)), there * 5e-3);
      expectNear(state.at(mode.branchCurrents.at(3)), Math.abs(back) * 1e-3);
    },
  );
});

describe('a control that drives its own node, without a capacitor', () => {
  // 5 mA into node 1, 1 kohm to ground, a control of 1 kohm there, and so much of its current back into the node:
  // v (1 + 1 - gain) / 1 kohm = 5 mA.
  const driven = (gain: number): Mode =>
    modeOf(
      2,
      [
        [0, 1, { kind: 'current', current: 5e-3 }],
        [1, 0, thevenin(R)],
        [1, 0, thevenin(R)],
        [0, 1, controlled(2, gain)],
      ],
      [],
    );

  test('settles as long as it does not drive more than all conductances take', () => {
    for (const gain of [0.5, 1.5]) {
      const mode = driven(gain);
      expect(mode.untold).toBeUndefined();
      const state = new ModeState(mode, [], { values: [] });
      expectNear(state.at(mode.nodes.at(1)), 5 / (2 - gain));
      expectNear(state.at(mode.branchCurrents.at(3)), (gain * 5e-3) / (2 - gain));
    }
  });

  test('runs away beyond that', () => {
    expect(driven(3).untold?.reason).toBe('forks');
  });
});

describe('two controls that drive each other, without capacitors', () => {
  // 5 mA into node 1; 1 kohm and a control of 1 kohm from each node to ground. What the first control carries, times p, goes
  // into node 2; what the second one carries, times q, goes from node 1 to node 2, or into node 1. In mA and V:
  const across = (p: number, q: number, swapped = false): Mode => {
    const [first, second] = swapped ? [2, 1] : [1, 2];
    return modeOf(
      3,
      [
        [0, first, { kind: 'current', current: 5e-3 }],
        [1, 0, thevenin(R)],
        [2, 0, thevenin(R)],
        [1, 0, thevenin(R)],
        [2, 0, thevenin(R)],
        [0, second, controlled(first + 2, p)],
        [first, second, controlled(second + 2, q)],
      ],
      [],
    );
  };
  // v1 = i1, v2 = i2: 2 i1 + q i2 = 5 and (2 - q) i2 = p i1.

  test('settle where each set of them alone would', () => {
    for (const swapped of [false, true]) {
      const mode = across(1, 1.5, swapped);
      expect(mode.untold).toBeUndefined();
      const state = new ModeState(mode, [], { values: [] });
      // 0.5 i2 = i1 and 2 i1 + 1.5 i2 = 5.
      expectNear(state.at(mode.nodes.at(swapped ? 2 : 1)), 1);
      expectNear(state.at(mode.nodes.at(swapped ? 1 : 2)), 2);
      expectNear(state.at(mode.branchCurrents.at(6)), 3e-3);
    }
  });

  test('run away where one of them would alone, though both together hold each other', () => {
    // 2 - 3 is below zero; both together have 2 (2 - 3) + 3 = 1, above zero.
    for (const swapped of [false, true]) expect(across(1, 3, swapped).untold?.reason).toBe('forks');
  });

  test('run away where they drive each other on, though neither does alone', () => {
    const both = (p: number): Mode =>
      modeOf(
        3,
        [
          [0, 1, { kind: 'current', current: 5e-3 }],
          [1, 0, thevenin(R)],
          [2, 0, thevenin(R)],
          [1, 0, thevenin(R)],
          [2, 0, thevenin(R)],
          [0, 2, controlled(3, p)],
          [0, 1, controlled(4, p)],
        ],
        [],
      );
    // 2 i1 - p i2 = 5 and 2 i2 = p i1: i1 = 10 / (4 - p^2).
    const mode = both(1);
    expect(mode.untold).toBeUndefined();
    expectNear(new ModeState(mode, [], { values: [] }).at(mode.nodes.at(1)), 10 / 3);
    expect(both(3).untold?.reason).toBe('forks');
  });
});

test('three controls run away where the third would alone, though any others with it hold it', () => {
  // As above: (2 - gain) i on the diagonal, in mA and V, and what the others drive beside it. All minors of
  //   2  0 -2
  //   0  2 -2   are above zero: 2, 2, 4, -2 + 4, -2 + 4 and 12; the third number on the diagonal is not.
  //   2  2 -1
  const drive = (first: number, second: number, third: number): Mode =>
    modeOf(
      4,
      [
        ...[1, 2, 3].map((node): Branch => [node, 0, thevenin(R)]),
        ...[1, 2, 3].map((node): Branch => [node, 0, thevenin(R)]),
        [3, 0, controlled(3, second)],
        [3, 0, controlled(4, second)],
        [0, 1, controlled(5, first)],
        [0, 2, controlled(5, first)],
        [0, 3, controlled(5, third)],
      ],
      [],
    );
  expect(drive(2, 2, 1).untold).toBeUndefined();
  expect(drive(2, 2, 3).untold?.reason).toBe('forks');
});

test('a control that drives its own node as much as all conductances take is told at an instant by what another one holds', () => {
  // 5 mA into node 1 and, in mA and V: 2 i1 - 2 i1 + 2 i2 = 5 there, 2 i2 = 2 i1 at node 2.
  const mode = modeOf(
    3,
    [
      [0, 1, { kind: 'current', current: 5e-3 }],
      [1, 0, thevenin(R)],
      [2, 0, thevenin(R)],
      [1, 0, thevenin(R)],
      [2, 0, thevenin(R)],
      [0, 1, controlled(3, 2)],
      [1, 0, controlled(4, 2)],
      [0, 2, controlled(3, 2)],
    ],
    [],
  );
  expect(mode.untold?.reason).toBe('forks');
  const state = new ModeState(mode, [], { values: [] });
  for (const node of [1, 2]) expectNear(state.at(mode.nodes.at(node)), 2.5);
});

test.each(balancedBridges)(
  'a control across a balanced bridge of %d, %d, %d and %d ohm drives nothing, not even rounding',
  (p, q, r, s) => {
    for (const across of [1, 47, 1e4]) {
      const mode = modeOf(5, [...bridgeOf(p, q, r, s, across), [4, 0, controlled(5, 100)], [4, 0, thevenin(R)]], [], 1);
      for (const index of [5, 6]) {
        const { state, input } = mode.branchCurrents.at(index);
        expect([...state, ...input].map(Math.abs)).toEqual([0, 0]);
      }
    }
  },
);
