import { STRAY_CAPACITANCE } from '#sim/network/element.ts';
import { ModeCompiler } from '#sim/network/mode-compiler.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread } from '../../support/arbitrary-numbers.ts';
import { type BigReal, big, ONE, over, times, toDouble } from '../../support/big-real.ts';
import { ModeState } from '../../support/mode-state.ts';
import { balancedBridges, bridgeOf, modeOf, networkOf, thevenin, type Wired } from '../../support/compiled-mode.ts';

describe('ModeCompiler.compile(): single circuits with closed forms', () => {
  test('a capacitor that charges through a resistor tends to the source with rate 1 / (R C)', () => {
    const mode = modeOf(
      3,
      [
        [1, 0, thevenin(0, 0, 0)],
        [1, 2, thevenin(1e4)],
      ],
      [[2, 0, 1e-6]],
    );
    expect(mode.rates).toHaveLength(1);
    expect(mode.rates[0]).toBeCloseTo(100, 12);
    const state = new ModeState(mode, [2], { values: [9] });
    // 9 - 7 exp(-1) at t = R C; current into the capacitor 7 V / 10 kohm at the start.
    expect(state.at(mode.nodes.at(2), 0.01)).toBeCloseTo(9 - 7 / Math.E, 13);
    expect(state.at(mode.capacitorCurrents.at(0))).toBeCloseTo(7e-4, 16);
    expect(state.at(mode.branchCurrents.at(1))).toBeCloseTo(7e-4, 16);
    expect(state.at(mode.branchCurrents.at(0))).toBeCloseTo(-7e-4, 16);
  });

  test('readouts bound what they tell per volt: currents by what is subtracted over R, a charge by C times the rate', () => {
    const mode = modeOf(
      3,
      [
        [1, 0, thevenin(0, 0, 0)],
        [1, 2, thevenin(500, -0.75)],
      ],
      [[2, 0, 1e-6]],
    );
    expect(mode.capacitorVoltages.at(0).scale).toBe(1);
    // (1 V of the source, 1 V of the capacitor and 0.75 V) / 500 ohm, whichever sign these have.
    expect(mode.branchCurrents.at(1).scale).toBeCloseTo(2.75 / 500, 16);
    // C / (R C) per volt.
    expect(mode.capacitorCurrents.at(0).scale).toBeCloseTo(1 / 500, 16);
  });

  test.each(balancedBridges)(
    'a balanced bridge of %d, %d, %d and %d ohm carries nothing across, not even rounding',
    (p, q, r, s) => {
      for (const across of [1, 47, 1e4]) {
        const { state, input } = modeOf(4, bridgeOf(p, q, r, s, across), []).branchCurrents.at(5);
        expect([...state, ...input].map(Math.abs)).toEqual([0, 0]);
      }
    },
  );

  test('parallel capacitors share their charge at once: C1 V1 + C2 V2 over C1 + C2', () => {
    const mode = modeOf(
      2,
      [[1, 0, thevenin(1e3)]],
      [
        [1, 0, 1e-6],
        [1, 0, 3e-6],
      ],
    );
    expect(mode.stateCount).toBe(1);
    const state = new ModeState(mode, [8, 0], { values: [0] });
    expect(state.at(mode.capacitorVoltages.at(0))).toBeCloseTo(2, 14);
    expect(state.at(mode.capacitorVoltages.at(1))).toBeCloseTo(2, 14);
    expect(mode.rates[0]).toBeCloseTo(1 / (1e3 * 4e-6), 11);
    // The current divides as the capacitances do.
    expect(state.at(mode.capacitorCurrents.at(1))).toBeCloseTo(-1.5e-3, 16);
  });

  test('a capacitor across a source follows it: i = C dV/dt', () => {
    const mode = modeOf(2, [[1, 0, thevenin(0, 0, 0)]], [[1, 0, 2e-6]]);
    expect(mode.stateCount).toBe(0);
    const state = new ModeState(mode, [0], { values: [5], slopes: [300] });
    expect(state.at(mode.capacitorVoltages.at(0))).toBe(5);
    expect(state.at(mode.capacitorVoltages.at(0), 0.01)).toBeCloseTo(8, 14);
    expect(state.at(mode.capacitorCurrents.at(0))).toBeCloseTo(600e-6, 18);
    // The source gives it: its own current, from plus through the source to minus, is the opposite.
    expect(state.at(mode.branchCurrents.at(0))).toBeCloseTo(-600e-6, 18);
  });

  test('two capacitors in series from a source divide its step by their capacitances, and hold it', () => {
    const mode = modeOf(
      3,
      [[1, 0, thevenin(0, 0, 0)]],
      [
        [1, 2, 1e-6],
        [2, 0, 3e-6],
      ],
    );
    expect([...mode.rates]).toEqual([0]);
    // From 0 V each, the source jumps to 8 V: the middle goes to 8 C1 / (C1 + C2) = 2 V and stays.
    const state = new ModeState(mode, [0, 0], { values: [8] });
    expect(state.at(mode.nodes.at(2))).toBeCloseTo(2, 14);
    expect(state.at(mode.nodes.at(2), 1e9)).toBeCloseTo(2, 14);
  });

  test('two such pairs at one source divide it each by its own, in a jump and on a ramp', () => {
    const mode = modeOf(
      4,
      [[1, 0, thevenin(0, 0, 0)]],
      [
        [2, 0, 4e-6],
        [3, 0, 3e-6],
        [1, 2, 1e-6],
        [1, 3, 1e-6],
      ],
    );
    // From 0.5 V and -1 V with the source at 2 V, which jumps to 3 V and rises by 8 V/s from there.
    const state = new ModeState(mode, [0.5, -1, 1.5, 3], { values: [3], slopes: [8] });
    expect(state.at(mode.nodes.at(2))).toBeCloseTo(0.5 + 1 / 5, 14);
    expect(state.at(mode.nodes.at(3))).toBeCloseTo(-1 + 1 / 4, 14);
    expect(state.at(mode.nodes.at(2), 0.1)).toBeCloseTo(0.5 + 1 / 5 + 0.8 / 5, 14);
    expect(state.at(mode.nodes.at(3), 0.1)).toBeCloseTo(-1 + 1 / 4 + 0.8 / 4, 14);
  });

  test('what stands still drifts and tends nowhere, and what decays tends somewhere and does not drift', () => {
    // Two capacitors in series behind a resistor, of which together they see 1 uF; 2 mA flow into the net between them, whose
    // charge stands still but for that.
    const mode = modeOf(
      4,
      [
        [1, 0, thevenin(0, 0, 0)],
        [1, 2, thevenin(1e4, 2)],
        [0, 3, { kind: 'current', current: 2e-3 }],
      ],
      [
        [2, 3, 3e-6],
        [3, 0, 1.5e-6],
      ],
    );
    expect([...mode.rates]).toEqual([0, expect.closeTo(100, 12)]);
    expect([...mode.equilibrium.subarray(0, 2)]).toEqual([0, 0]);
    expect(mode.equilibrium[2]).not.toBe(0);
    expect(mode.drift[1]).not.toBe(0);
    expect([...mode.drift.subarray(2)]).toEqual([0, 0]);
  });

  test('a ramp charges a capacitor behind a resistor to S (t - R C (1 - exp(-t / R C)))', () => {
    const mode = modeOf(
      3,
      [
        [1, 0, thevenin(0, 0, 0)],
        [1, 2, thevenin(1e4)],
      ],
      [[2, 0, 1e-6]],
    );
    const state = new ModeState(mode, [0], { values: [0], slopes: [50] });
    const expected = 50 * (0.02 - 0.01 * (1 - Math.exp(-2)));
    expect(state.at(mode.nodes.at(2), 0.02)).toBeCloseTo(expected, 13);
  });

  test('series capacitors with a resistor across both keep the voltage between them: a zero rate by structure', () => {
    const mode = modeOf(
      3,
      [[2, 0, thevenin(1e3)]],
      [
        [1, 0, 1e-6],
        [2, 1, 4e-6],
      ],
    );
    expect(mode.rates[0]).toBe(0);
    expect(mode.rates[1]).toBeCloseTo(1 / (1e3 * 0.8e-6), 9);
    // 5 V and 5 V: both lose the charge 10 V 0.8 uF = 8 uC, so the middle ends at 5 - 8 = -3 V.
    const state = new ModeState(mode, [5, 5], { values: [0] });
    expect(state.at(mode.nodes.at(1), 1)).toBeCloseTo(-3, 13);
    expect(state.at(mode.nodes.at(2), 1)).toBeCloseTo(0, 13);
  });

  test('a coupling capacitor between two nets with resistors of their own floats, and tells no zero rate', () => {
    const mode = modeOf(
      3,
      [
        [1, 0, thevenin(1e3)],
        [2, 0, thevenin(3e3)],
      ],
      [[1, 2, 1e-6]],
    );
    expect(mode.rates[0]).toBeCloseTo(250, 11);
    const state = new ModeState(mode, [8], { values: [0] });
    // The resistors divide the 8 V: 2 V and -6 V.
    expect(state.at(mode.nodes.at(1))).toBeCloseTo(2, 14);
    expect(state.at(mode.nodes.at(2))).toBeCloseTo(-6, 14);
  });

  test('a constant current into a capacitor alone is a ramp I t / C', () => {
    const mode = modeOf(2, [[0, 1, { kind: 'current', current: 1e-3 }]], [[1, 0, 1e-6]]);
    expect([...mode.rates]).toEqual([0]);
    const state = new ModeState(mode, [1], { values: [0] });
    expect(state.at(mode.nodes.at(1), 2e-3)).toBeCloseTo(3, 14);
    expect(state.at(mode.capacitorCurrents.at(0))).toBeCloseTo(1e-3, 17);
  });

  test('a net cut off from everything keeps its voltage, and drifts with a bias current by I t over the stray capacitance', () => {
    const open: Wired = [1, 0, { kind: 'open' }];
    const still = modeOf(2, [open], []);
    expect(still.held).toEqual([1]);
    expect(new ModeState(still, [3], { values: [0] }).at(still.nodes.at(1), 1e6)).toBe(3);
    const biased = modeOf(2, [open, [0, 1, { kind: 'current', current: 1e-12 }]], []);
    const state = new ModeState(biased, [3], { values: [0] });
    expect(state.at(biased.nodes.at(1), 10)).toBeCloseTo(3 + 1e-11 / STRAY_CAPACITANCE, 12);
  });

  test('0 ohm makes one net of two: the current through it is what the rest draws', () => {
    const mode = modeOf(
      4,
      [
        [1, 0, thevenin(0, 0, 0)],
        [1, 2, thevenin(0)],
        [2, 3, thevenin(0)],
        [3, 0, thevenin(1e3)],
      ],
      [],
    );
    const state = new ModeState(mode, [], { values: [6] });
    expect(state.at(mode.nodes.at(3))).toBe(6);
    for (const index of [1, 2, 3]) expect(state.at(mode.branchCurrents.at(index))).toBeCloseTo(6e-3, 16);
    expect(state.at(mode.branchCurrents.at(0))).toBeCloseTo(-6e-3, 16);
  });

  test('names the parts of a short', () => {
    const network = networkOf(
      2,
      [
        [1, 0, thevenin(0, 0, 0)],
        [1, 0, thevenin(0)],
      ],
      [],
    );
    expect(new ModeCompiler(network).compile([thevenin(0, 0, 0), thevenin(0)])).toEqual({ shortedParts: ['B1', 'B0'] });
  });
});

describe('ModeCompiler.compile(): stiff circuits keep their digits', () => {
  /** det(K - rate C) of two capacitors to ground, 1 over `switched` to ground, `bridge` between them, 2 over `leak`. */
  function slowRateOf(c1: number, c2: number, switched: number, bridge: number, leak: number): number {
    const [one, other] = [big(c1), big(c2)];
    const g = (resistance: number): BigReal => over(ONE, big(resistance));
    const [g1, g12, g2] = [g(switched), g(bridge), g(leak)];
    // rates solve p^2 - trace p + det = 0 with trace and det of C^-1 K.
    const trace = over(g1 + g12, one) + over(g2 + g12, other);
    const det = over(times(g1 + g12, g2 + g12) - times(g12, g12), times(one, other));
    let rate = over(det, trace);
    for (let round = 0; round < 60; round++) rate = over(det, trace - rate);
    return toDouble(rate);
  }

  test('a slow rate beside a 10 ohm switch, rate ratios up to 1e14, is good to 1e-13', () => {
    fc.assert(
      fc.property(
        spread(1e-10, 1e-7),
        spread(1e-6, 1e-2),
        spread(1e4, 1e7),
        spread(1e4, 1e7),
        (c1, c2, bridge, leak) => {
          const mode = modeOf(
            3,
            [
              [1, 0, thevenin(10)],
              [1, 2, thevenin(bridge)],
              [2, 0, thevenin(leak)],
            ],
            [
              [1, 0, c1],
              [2, 0, c2],
            ],
          );
          expect(Math.abs(mode.rates[0]! / slowRateOf(c1, c2, 10, bridge, leak) - 1)).toBeLessThanOrEqual(1e-13);
        },
      ),
    );
  });

  test('one ratio of 1e14: 100 pF over 10 ohm beside 10 mF over 10 Mohm', () => {
    const [c1, c2, bridge, leak] = [100e-12, 10e-3, 1e7, 1e7];
    const mode = modeOf(
      3,
      [
        [1, 0, thevenin(10)],
        [1, 2, thevenin(bridge)],
        [2, 0, thevenin(leak)],
      ],
      [
        [1, 0, c1],
        [2, 0, c2],
      ],
    );
    expect(mode.rates[1]! / mode.rates[0]!).toBeGreaterThan(1e13);
    expect(Math.abs(mode.rates[0]! / slowRateOf(c1, c2, 10, bridge, leak) - 1)).toBeLessThanOrEqual(1e-13);
  });

  test('both parts of a slow decay keep their digits in the time domain, 1e6 fast time constants later', () => {
    // C1 and C2 share charge fast over 10 ohm, then leak slowly: v = 5 exp(-t / (R (C1 + C2))) but for 10 ohm / 10 Mohm.
    const mode = modeOf(
      3,
      [
        [1, 2, thevenin(10)],
        [2, 0, thevenin(1e7)],
      ],
      [
        [1, 0, 1e-9],
        [2, 0, 1e-9],
      ],
    );
    const state = new ModeState(mode, [10, 0], { values: [0] });
    const time = 0.02;
    const slow = slowRateOf(1e-9, 1e-9, 1e30, 10, 1e7);
    const found = state.at(mode.nodes.at(1), time) / state.at(mode.nodes.at(1), 0.01);
    expect(Math.abs(found / Math.exp(-slow * 0.01) - 1)).toBeLessThanOrEqual(1e-12);
  });
});

describe('ModeCompiler.compile(): capacitors of very different size in one loop', () => {
  test('voltages that agree already stay as they are, to the last bits', () => {
    // 100 pF, 100 pF and 10 mF in a ring: a matrix of the small ones' voltages would lose eight digits.
    const mode = modeOf(
      3,
      [[1, 0, thevenin(1e3)]],
      [
        [1, 0, 1e-10],
        [2, 1, 1e-10],
        [2, 0, 1e-2],
      ],
    );
    const state = new ModeState(mode, [3, 4, 7], { values: [0] });
    mode.capacitorVoltages.all().forEach((readout, index) => {
      expect(Math.abs(state.at(readout) - [3, 4, 7][index]!)).toBeLessThanOrEqual(32 * Number.EPSILON);
    });
  });
});
