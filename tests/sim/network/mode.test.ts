import { STRAY_CAPACITANCE, type Law, type Network } from '#sim/network/element.ts';
import { compileMode, type Mode } from '#sim/network/mode.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread } from '../../support/arbitrary-numbers.ts';
import { type BigReal, big, bigSolve, magnitude, ONE, over, times, toDouble } from '../../support/big-real.ts';
import { ModeState } from '../../support/mode-state.ts';
import { type NetworkCase, networks } from '../../support/random-network.ts';

function thevenin(resistance: number, offset = 0, input = -1): Law {
  return { kind: 'thevenin', input, offset, resistance };
}

type Wired = readonly [a: number, b: number, law: Law];
type Charged = readonly [a: number, b: number, capacitance: number];

function networkOf(nodeCount: number, wired: readonly Wired[], charged: readonly Charged[], inputCount = 1): Network {
  return {
    nodeCount,
    branches: wired.map(([a, b], index) => ({ part: `B${index}`, a, b })),
    capacitors: charged.map(([a, b, capacitance], index) => ({ part: `C${index}`, a, b, capacitance })),
    inputCount,
  };
}

function compile(network: Network, laws: readonly Law[]): Mode {
  const mode = compileMode(network, laws);
  if ('shortedParts' in mode) throw new Error(`short of ${mode.shortedParts.join()}`);
  return mode;
}

function modeOf(nodeCount: number, wired: readonly Wired[], charged: readonly Charged[], inputCount = 1): Mode {
  return compile(
    networkOf(nodeCount, wired, charged, inputCount),
    wired.map(([, , law]) => law),
  );
}

/** A case's mode with the state that its voltages make. */
function stateOf({ network, laws, voltages, inputs }: NetworkCase): ModeState {
  const mode = compile(network, laws);
  return new ModeState(mode, [...voltages, ...mode.held.map((_, i) => i - 1)], { values: inputs });
}

/** Largest voltage that a case can make: the scale of what is rounding in a voltage. */
function voltsOf({ voltages, inputs, laws }: NetworkCase): number {
  const offsets = laws.map((law) => (law.kind === 'thevenin' ? Math.abs(law.offset) : 0));
  const ohms = laws.reduce((sum, law) => sum + (law.kind === 'thevenin' ? law.resistance : 0), 0);
  const amperes = laws.reduce((sum, law) => sum + (law.kind === 'current' ? Math.abs(law.current) : 0), 0);
  return Math.max(1e-3, ...[...voltages, ...inputs].map(Math.abs), ...offsets) + amperes * ohms;
}

/** Voltage over resistance: the scale of what is rounding in a branch's current; undefined for ideal sources. */
function amperesOf(drawn: NetworkCase, law: Law): number | undefined {
  if (law.kind === 'open') return 0;
  if (law.kind === 'current') return Math.abs(law.current);
  return law.resistance > 0 ? (2 * voltsOf(drawn)) / law.resistance : undefined;
}

/** All that resistors and constant currents could carry together: the scale for ideal sources and capacitors. */
function allAmperes(drawn: NetworkCase): number {
  return drawn.laws.reduce((sum, law) => sum + (amperesOf(drawn, law) ?? 0), 0);
}

describe('compileMode: single circuits with closed forms', () => {
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
    expect(compileMode(network, [thevenin(0, 0, 0), thevenin(0)])).toEqual({ shortedParts: ['B1', 'B0'] });
  });
});

describe('compileMode: stiff circuits keep their digits', () => {
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

describe('compileMode: capacitors of very different size in one loop', () => {
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

describe('compileMode: laws of every network', () => {
  const anything = networks({ loops: true, islands: true });

  test("currents obey Kirchhoff's law at every node but for rounding", () => {
    fc.assert(
      fc.property(anything, (drawn) => {
        const state = stateOf(drawn);
        const { mode } = state;
        const sums = new Array<number>(drawn.network.nodeCount).fill(0);
        const sizes = new Array<number>(drawn.network.nodeCount).fill(0);
        const leave = (a: number, b: number, current: number, size: number): void => {
          sums[a]! += current;
          sums[b]! -= current;
          sizes[a]! += size;
          sizes[b]! += size;
        };
        drawn.network.branches.forEach(({ a, b }, index) => {
          const size = amperesOf(drawn, drawn.laws[index]!) ?? allAmperes(drawn);
          leave(a, b, state.at(mode.branchCurrents.at(index)), size);
        });
        const all = [...drawn.network.capacitors, ...mode.held.map((a) => ({ a, b: 0 }))];
        all.forEach(({ a, b }, index) => leave(a, b, state.at(mode.capacitorCurrents.at(index)), allAmperes(drawn)));
        // What elimination and modal vectors leave of the largest currents that could flow.
        sums.forEach((sum, node) => expect(Math.abs(sum)).toBeLessThanOrEqual(1e-12 * sizes[node]!));
      }),
    );
  });

  test('every branch obeys its law', () => {
    fc.assert(
      fc.property(anything, (drawn) => {
        const state = stateOf(drawn);
        const { mode } = state;
        drawn.network.branches.forEach(({ a, b }, index) => {
          const law = drawn.laws[index]!;
          const current = state.at(mode.branchCurrents.at(index));
          if (law.kind === 'open') expect(current).toBe(0);
          if (law.kind === 'current') expect(current).toBe(law.current);
          if (law.kind !== 'thevenin') return;
          const voltage = state.at(mode.nodes.at(a)) - state.at(mode.nodes.at(b));
          const asked = law.offset + (law.input < 0 ? 0 : drawn.inputs[law.input]!) + law.resistance * current;
          const size = voltsOf(drawn) * (mode.nodes.at(a).scale + mode.nodes.at(b).scale + 1);
          expect(Math.abs(voltage - asked)).toBeLessThanOrEqual(1e-12 * size);
        });
      }),
    );
  });

  test("capacitor voltages are the differences of their nodes', and a current is C dv/dt", () => {
    fc.assert(
      fc.property(anything, (drawn) => {
        const state = stateOf(drawn);
        const { mode } = state;
        const tiny = 1e-6 / Math.max(1, ...mode.rates);
        drawn.network.capacitors.forEach(({ a, b, capacitance }, index) => {
          const voltage = (time: number): number => state.at(mode.capacitorVoltages.at(index), time);
          const size = voltsOf(drawn) * (mode.nodes.at(a).scale + mode.nodes.at(b).scale);
          expect(Math.abs(voltage(0) - (state.at(mode.nodes.at(a)) - state.at(mode.nodes.at(b))))).toBeLessThanOrEqual(
            1e-12 * size,
          );
          // The charge that the current brings in a millionth of the fastest time constant.
          const middle = state.at(mode.capacitorCurrents.at(index), tiny / 2);
          expect(Math.abs(capacitance * (voltage(tiny) - voltage(0)) - middle * tiny)).toBeLessThanOrEqual(
            capacitance * 1e-12 * size + 1e-10 * Math.abs(middle * tiny),
          );
        });
      }),
    );
  });

  test('the projection keeps voltages that agree already', () => {
    fc.assert(
      fc.property(anything, (drawn) => {
        const first = stateOf(drawn);
        const { mode } = first;
        const settled = mode.capacitorVoltages.all().map((readout) => first.at(readout));
        const again = new ModeState(mode, settled, { values: drawn.inputs });
        mode.capacitorVoltages.all().forEach((readout, index) => {
          expect(Math.abs(again.at(readout) - settled[index]!)).toBeLessThanOrEqual(
            1e-11 * (voltsOf(drawn) * (1 + readout.scale)),
          );
        });
      }),
    );
  });

  test('the projection moves no charge but over capacitors: what is joined by ideal sources alone keeps its own', () => {
    fc.assert(
      fc.property(anything, (drawn) => {
        const state = stateOf(drawn);
        const { mode } = state;
        const before = [...drawn.voltages, ...mode.held.map((_, i) => i - 1)];
        const capacitors = [
          ...drawn.network.capacitors,
          ...mode.held.map((a) => ({ a, b: 0, capacitance: STRAY_CAPACITANCE })),
        ];
        const group = idealGroups(drawn);
        const gained = new Map<number, { charge: number; size: number }>();
        capacitors.forEach(({ a, b, capacitance }, index) => {
          const charge = capacitance * (state.at(mode.capacitorVoltages.at(index)) - before[index]!);
          const size = capacitance * voltsOf(drawn) * (1 + mode.capacitorVoltages.at(index).scale);
          for (const [node, sign] of [
            [a, 1],
            [b, -1],
          ] as const) {
            const entry = gained.get(group[node]!) ?? { charge: 0, size: 0 };
            gained.set(group[node]!, { charge: entry.charge + sign * charge, size: entry.size + size });
          }
        });
        for (const [index, { charge, size }] of gained) {
          if (index !== group[0]) expect(Math.abs(charge)).toBeLessThanOrEqual(1e-12 * size);
        }
      }),
    );
  });

  test('rates ascend, none is negative, and nothing is NaN', () => {
    fc.assert(
      fc.property(anything, (drawn) => {
        const { rates, nodes, branchCurrents, capacitorCurrents, project } = compile(drawn.network, drawn.laws);
        rates.forEach((rate, k) => expect(rate).toBeGreaterThanOrEqual(k === 0 ? 0 : rates[k - 1]!));
        const numbers = [...nodes.all(), ...branchCurrents.all(), ...capacitorCurrents.all()].flatMap(
          ({ state, input, inputSlope, scale }) => [...state, ...input, ...inputSlope, scale],
        );
        expect([...rates, ...numbers, ...project].every(Number.isFinite)).toBe(true);
      }),
    );
  });

  test('as many rates are zero as there are independent ways to charge capacitors that no resistor sees', () => {
    fc.assert(
      fc.property(networks({ loops: false, islands: false }), (drawn) => {
        const { rates, stateCount } = compile(drawn.network, drawn.laws);
        // Without loops every capacitor is a state; one that nothing discharges stays: those that are bridges between
        // what resistors and sources join.
        const joined = groupsOf(
          drawn.network.nodeCount,
          drawn.network.branches.filter((_, i) => drawn.laws[i]!.kind === 'thevenin'),
        );
        const islands = new Set(joined).size;
        expect(rates.filter((rate) => rate === 0)).toHaveLength(Math.min(stateCount, islands - 1));
      }),
    );
  });
});

/** A number for each node; the same for nodes that the branches join. */
function groupsOf(nodeCount: number, branches: readonly { readonly a: number; readonly b: number }[]): number[] {
  const group = Array.from({ length: nodeCount }, (_, node) => node);
  for (const { a, b } of branches) {
    const [from, to] = [group[b]!, group[a]!];
    group.forEach((value, node) => {
      if (value === from) group[node] = to;
    });
  }
  return group;
}

function idealGroups({ network, laws }: NetworkCase): number[] {
  return groupsOf(
    network.nodeCount,
    network.branches.filter((_, i) => {
      const law = laws[i]!;
      return law.kind === 'thevenin' && law.resistance === 0;
    }),
  );
}

describe('compileMode against nodal analysis in 512-bit arithmetic', () => {
  /** Node voltages, then currents of capacitors, then of ideal sources, each capacitor taken as a source of its voltage. */
  function nodalAnalysis({
    network,
    laws,
    voltages,
    inputs,
  }: NetworkCase): { nodes: BigReal[]; capacitors: BigReal[]; branches: BigReal[] } | undefined {
    const { nodeCount, branches, capacitors } = network;
    const ideal = branches.flatMap((_, index) => {
      const law = laws[index]!;
      return law.kind === 'thevenin' && law.resistance === 0 ? [index] : [];
    });
    const free = nodeCount - 1;
    const size = free + capacitors.length + ideal.length;
    const a = Array.from({ length: size }, () => new Array<BigReal>(size).fill(0n));
    const b = new Array<BigReal>(size).fill(0n);
    const stamp = (row: number, column: number, value: BigReal): void => {
      if (row > 0 && column > 0) a[row - 1]![column - 1]! += value;
    };
    const push = (node: number, value: BigReal): void => {
      if (node > 0) b[node - 1]! += value;
    };
    const level = (law: Law & { kind: 'thevenin' }): BigReal =>
      big(law.offset) + (law.input < 0 ? 0n : big(inputs[law.input]!));
    branches.forEach(({ a: p, b: q }, index) => {
      const law = laws[index]!;
      if (law.kind === 'current') {
        push(p, -big(law.current));
        push(q, big(law.current));
      } else if (law.kind === 'thevenin' && law.resistance > 0 && p !== q) {
        const g = over(ONE, big(law.resistance));
        stamp(p, p, g);
        stamp(q, q, g);
        stamp(p, q, -g);
        stamp(q, p, -g);
        push(p, times(g, level(law)));
        push(q, -times(g, level(law)));
      }
    });
    const fix = (at: number, p: number, q: number, value: BigReal): void => {
      for (const [node, sign] of [
        [p, ONE],
        [q, -ONE],
      ] as const) {
        if (node === 0) continue;
        a[at]![node - 1]! += sign;
        a[node - 1]![at]! += sign;
      }
      b[at] = value;
    };
    capacitors.forEach(({ a: p, b: q }, index) => fix(free + index, p, q, big(voltages[index]!)));
    ideal.forEach((branch, index) => {
      const { a: p, b: q } = branches[branch]!;
      fix(free + capacitors.length + index, p, q, level(laws[branch] as Law & { kind: 'thevenin' }));
    });
    let x: BigReal[];
    try {
      x = bigSolve(a, b);
    } catch {
      return undefined;
    }
    const nodes = [0n, ...x.slice(0, free)];
    const currents = branches.map(({ a: p, b: q }, index) => {
      const law = laws[index]!;
      if (law.kind === 'current') return big(law.current);
      if (law.kind === 'open') return 0n;
      if (law.resistance === 0) return x[free + capacitors.length + ideal.indexOf(index)]!;
      return over(nodes[p]! - nodes[q]! - level(law), big(law.resistance));
    });
    return { nodes, capacitors: x.slice(free, free + capacitors.length), branches: currents };
  }

  /** What 512 bits leave in place of nothing. */
  const ZERO = 1e-140;

  /** The currents that unit voltages draw: the conductance matrix that the capacitors see, C x' = -K x. */
  function seenConductance(drawn: NetworkCase): BigReal[][] | undefined {
    const { capacitors } = drawn.network;
    const silent = drawn.laws.map(
      (law): Law => (law.kind === 'thevenin' ? { ...law, input: -1, offset: 0 } : { kind: 'open' }),
    );
    const columns = capacitors.map((_, k) =>
      nodalAnalysis({ ...drawn, laws: silent, voltages: capacitors.map((_unused, i) => (i === k ? 1 : 0)) }),
    );
    if (columns.some((column) => column === undefined)) return undefined;
    return capacitors.map((_, i) => columns.map((column) => -column!.capacitors[i]!));
  }

  function determinant(matrix: readonly (readonly BigReal[])[]): BigReal {
    const rows = matrix.map((row) => [...row]);
    let product = ONE;
    for (let column = 0; column < rows.length; column++) {
      let best = column;
      for (let i = column + 1; i < rows.length; i++) {
        if (magnitude(rows[i]![column]!) > magnitude(rows[best]![column]!)) best = i;
      }
      if (rows[best]![column] === 0n) return 0n;
      if (best !== column) product = -product;
      [rows[column], rows[best]] = [rows[best]!, rows[column]!];
      product = times(product, rows[column]![column]!);
      for (let i = column + 1; i < rows.length; i++) {
        const factor = over(rows[i]![column]!, rows[column]![column]!);
        rows[i] = rows[i]!.map((value, j) => value - times(factor, rows[column]![j]!));
      }
    }
    return product;
  }

  /** By how much of itself a rate moves to become an exact one: Newton's step for det(C^-1 K / rate - 1) = 0. */
  function errorOfRate(seen: readonly (readonly BigReal[])[], { network }: NetworkCase, rate: number): number {
    const scaled = seen.map((row, i) =>
      row.map((value) => over(over(value, big(network.capacitors[i]!.capacitance)), big(rate))),
    );
    const at = (share: BigReal): BigReal =>
      determinant(scaled.map((row, i) => row.map((value, j) => (i === j ? value - share : value))));
    const step = ONE >> 200n;
    const here = at(ONE);
    const slope = over(at(ONE + step) - here, step);
    return slope === 0n ? Number.POSITIVE_INFINITY : Math.abs(toDouble(over(here, slope)));
  }

  test('every rate is an exact one but for 1e-12 of itself, however far apart the rates are', () => {
    fc.assert(
      fc.property(networks({ loops: false, islands: false }), (drawn) => {
        const seen = seenConductance(drawn);
        fc.pre(seen !== undefined);
        for (const rate of compile(drawn.network, drawn.laws).rates) {
          if (rate > 0) expect(errorOfRate(seen, drawn, rate)).toBeLessThanOrEqual(1e-12);
        }
      }),
    );
  });

  test('where all comes to rest is exact to a few roundings, however far apart the rates are', () => {
    fc.assert(
      fc.property(networks({ loops: true, islands: false }), (drawn) => {
        const mode = compile(drawn.network, drawn.laws);
        fc.pre(mode.stateCount > 0 && mode.rates[0]! > 0);
        const still = nodalAnalysis({ ...drawn, network: { ...drawn.network, capacitors: [] }, voltages: [] });
        fc.pre(still !== undefined);
        const state = new ModeState(mode, drawn.voltages, { values: drawn.inputs });
        // A thousand slowest time constants later.
        const end = 1e3 / mode.rates[0]!;
        mode.nodes.all().forEach((readout, node) => {
          const error = Math.abs(state.at(readout, end) - toDouble(still.nodes[node]!));
          expect(error).toBeLessThanOrEqual(32 * Number.EPSILON * voltsOf(drawn));
        });
      }),
    );
  });

  test('node voltages and all currents agree, with resistances over seven and capacitances over eight decades', () => {
    fc.assert(
      fc.property(networks({ loops: false, islands: false }), (drawn) => {
        const exact = nodalAnalysis(drawn);
        fc.pre(exact !== undefined);
        const state = stateOf(drawn);
        const { mode } = state;
        mode.nodes.all().forEach((readout, node) => {
          expect(Math.abs(state.at(readout) - toDouble(exact.nodes[node]!))).toBeLessThanOrEqual(
            1e-12 * (voltsOf(drawn) * (1 + readout.scale)),
          );
        });
        mode.branchCurrents.all().forEach((readout, index) => {
          const size = amperesOf(drawn, drawn.laws[index]!) ?? allAmperes(drawn);
          expect(Math.abs(state.at(readout) - toDouble(exact.branches[index]!))).toBeLessThanOrEqual(
            1e-12 * size + ZERO,
          );
        });
        // That the capacitors' currents agree at every state is that the equations of motion do.
        mode.capacitorCurrents.all().forEach((readout, index) => {
          const size = allAmperes(drawn);
          expect(Math.abs(state.at(readout) - toDouble(exact.capacitors[index]!))).toBeLessThanOrEqual(
            1e-12 * size + ZERO,
          );
        });
      }),
    );
  });
});
