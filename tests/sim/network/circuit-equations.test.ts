import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Law, type Network, type OwnLaw, STRAY_CAPACITANCE } from '#sim/network/element.ts';
import { compile, thevenin } from '../../support/compiled-mode.ts';
import { ModeState } from '../../support/mode-state.ts';
import { type NetworkCase, networks } from '../../support/random-network.ts';

// A mode is right if what it tells satisfies the equations of the circuit at every instant: Kirchhoff's laws, the law of
// each branch, and i = C dv/dt for each capacitor, from the voltages that it began with. These are written out here.

interface Case extends Omit<NetworkCase, 'laws'> {
  readonly laws: readonly Law[];
  /** How fast the inputs change (V/s). */
  readonly slopes: readonly number[];
}

/** What elimination, modal vectors and their inverse may leave of volts, within three decades of resistances. */
const ROUNDING = 1e-9;

/** Volts and siemens that the case is made of: the yardsticks for what is rounding. */
function sizesOf({ laws, voltages, inputs, slopes }: Case): { volts: number; amperes: number } {
  const own = laws.filter((law) => law.kind === 'thevenin');
  const most = Math.max(1e4, ...own.map(({ resistance }) => resistance));
  const driven = laws.reduce((sum, law) => sum + (law.kind === 'current' ? Math.abs(law.current) : 0), 0);
  const given = [...voltages, ...inputs, ...slopes.map((slope) => slope * 0.05), ...own.map(({ offset }) => offset)];
  const volts = 1 + driven * most * own.length + given.reduce((sum, value) => sum + Math.abs(value), 0);
  const siemens = own.reduce((sum, { resistance }) => sum + (resistance > 0 ? 1 / resistance : 0), 1e-4);
  return { volts, amperes: volts * siemens };
}

/** Holds a mode against the equations of its circuit; tells why it cannot be told in time, if it cannot. */
function expectEquations(drawn: Case): string | undefined {
  const { network, laws, voltages, inputs, slopes } = drawn;
  const mode = compile(network, laws);
  const { untold, rates } = mode;
  const begun = [...voltages, ...mode.held.map((_, i) => i - 1)];
  const capacitors = [
    ...network.capacitors,
    ...mode.held.map((a) => ({ part: '', a, b: 0, capacitance: STRAY_CAPACITANCE })),
  ];
  rates.forEach((rate, k) => expect(rate).toBeGreaterThanOrEqual(k === 0 ? -Infinity : rates[k - 1]!));
  const state = new ModeState(mode, begun, { values: inputs, slopes });
  const { volts, amperes } = sizesOf(drawn);
  const near = (found: number, expected: number, size: number): void => {
    expect(Math.abs(found - expected)).toBeLessThanOrEqual(ROUNDING * size);
  };
  const fast = Math.max(100, ...rates.map(Math.abs));
  const slow = Math.min(fast, ...rates.filter((rate) => rate > 0));
  // The charges of the capacitors of a loop, or across a source, come from it: only as many as there are states are free.
  if (mode.stateCount === capacitors.length) {
    begun.forEach((voltage, c) => near(state.at(mode.capacitorVoltages.at(c)), voltage, volts));
  }
  // An amplified ramp into a capacitor that nothing discharges makes a parabola: its equations hold at the beginning.
  const nU = inputs.length + 1;
  const curved = rates.some(
    (rate, k) =>
      rate === 0 && slopes.some((slope, j) => Math.abs(mode.drift[k * nU + j]! * slope) > ROUNDING * volts * 1e-3),
  );
  // What grows is looked at until it has grown to e times its size.
  const longest = rates.length > 0 && rates[0]! < 0 ? -1 / rates[0]! : Infinity;
  for (const wanted of untold || curved ? [0] : [0, 0.3 / fast, 2 / fast, Math.min(0.7 / slow, 0.05)]) {
    const time = Math.min(wanted, longest);
    const nodes = mode.nodes.all().map((readout) => state.at(readout, time));
    const currents = mode.branchCurrents.all().map((readout) => state.at(readout, time));
    // No coefficient of a mode grows beyond its gain times what the resistances and the slopes of the inputs make.
    const gain = laws.reduce((sum, law) => sum + (law.kind === 'controlled' ? Math.abs(law.gain) : 0), 1);
    const flow = gain * (amperes + Math.max(0, ...currents.map(Math.abs)));
    expect(nodes[0]).toBe(0);
    const sums = new Float64Array(network.nodeCount);
    network.branches.forEach(({ a, b }, index) => {
      const law = laws[index]!;
      const current = currents[index]!;
      sums[a]! += current;
      sums[b]! -= current;
      if (law.kind === 'open') expect(current).toBe(0);
      else if (law.kind === 'current') expect(current).toBe(law.current);
      else if (law.kind === 'thevenin') {
        const input = law.input < 0 ? 0 : inputs[law.input]! + slopes[law.input]! * time;
        near(nodes[a]! - nodes[b]!, law.offset + input + law.resistance * current, gain * volts);
      } else {
        const by = laws[law.by]!;
        near(current, by.kind === 'open' ? 0 : law.gain * currents[law.by]!, flow);
      }
    });
    capacitors.forEach(({ a, b, capacitance }, index) => {
      near(state.at(mode.capacitorVoltages.at(index), time), nodes[a]! - nodes[b]!, gain * volts);
      const current = state.at(mode.capacitorCurrents.at(index), time);
      if (!untold) {
        sums[a]! += current;
        sums[b]! -= current;
        // A thousandth of the fastest time constant either way: the third derivative makes less than a millionth of it.
        const step = 1e-3 / fast;
        const voltage = (at: number): number => state.at(mode.capacitorVoltages.at(index), at);
        const slope = (voltage(time + step) - voltage(time - step)) / (2 * step);
        const size = Math.max(Math.abs(current), capacitance * fast * volts * gain);
        expect(Math.abs(capacitance * slope - current)).toBeLessThanOrEqual(1e-6 * size);
      }
    });
    const charging = capacitors.reduce(
      (sum, { capacitance }) => sum + capacitance * Math.max(...slopes.map(Math.abs)),
      0,
    );
    if (!untold) sums.forEach((sum) => near(sum, 0, flow + charging));
  }
  return untold?.reason;
}

const range = { ohms: [1e2, 1e4], farads: [1e-7, 1e-5] } as const;
const slopes = [30, -70] as const;

function samples(options: { loops: boolean; islands: boolean }, seed: number, many: number): NetworkCase[] {
  return fc.sample(networks({ ...options, ...range }), { seed, numRuns: many });
}

describe('ModeCompiler.compile() satisfies the equations of the circuit', () => {
  test.each(samples({ loops: false, islands: false }, 1, 24).map((drawn, k) => [k, drawn] as const))(
    'in network %i',
    (_, drawn) => {
      expect(expectEquations({ ...drawn, slopes })).toBe(undefined);
    },
  );

  test.each(samples({ loops: true, islands: true }, 2, 24).map((drawn, k) => [k, drawn] as const))(
    'in network %i, with loops of capacitors and nets that nothing holds',
    (_, drawn) => {
      expect(expectEquations({ ...drawn, slopes })).toBe(undefined);
    },
  );

  /** A network with more branches: each carries so many times the current of one of some resistors, in turn. */
  function controlling(
    { network, laws, ...values }: NetworkCase,
    gains: readonly number[],
    controls = gains.length,
  ): Case | undefined {
    const resistors = laws.flatMap((law, index) => (law.kind === 'thevenin' && law.resistance > 0 ? [index] : []));
    if (resistors.length < gains.length + 1) return undefined;
    const driven = gains.map((gain, k) => {
      const by = resistors[k % controls]!;
      // From another node than the control's first one, so that stages follow each other.
      const a = (network.branches[by]!.a + 1 + k) % network.nodeCount;
      const b = a === 0 ? 1 : 0;
      return { branch: { part: `T${k}`, a, b }, law: { kind: 'controlled', by, gain } as const };
    });
    const more: Network = { ...network, branches: [...network.branches, ...driven.map(({ branch }) => branch)] };
    return { network: more, laws: [...laws, ...driven.map(({ law }) => law)], slopes, ...values };
  }

  const controlled = [[3], [0.4, 5], [-0.5, 0.3], [20, 2, 0.1]].flatMap((gains, g) =>
    samples({ loops: false, islands: false }, 10 + g, 14).flatMap((drawn) => controlling(drawn, gains) ?? []),
  );
  const shared = [
    [0.4, 5],
    [3, -0.5, 0.2],
  ].flatMap((gains, g) =>
    samples({ loops: false, islands: false }, 20 + g, 14).flatMap((drawn) => controlling(drawn, gains, 1 + g) ?? []),
  );

  test.each(controlled.map((drawn, k) => [k, drawn] as const))(
    'in network %i, where branches control others',
    (_, drawn) => {
      expectEquations(drawn);
    },
  );

  test.each(shared.map((drawn, k) => [k, drawn] as const))(
    'in network %i, where one branch controls several others',
    (_, drawn) => {
      expectEquations(drawn);
    },
  );

  test('in most of these networks at all times, not only at an instant', () => {
    for (const drawn of [controlled, shared]) {
      const told = drawn.filter(({ network, laws }) => compile(network, laws).untold === undefined);
      expect(told.length).toBeGreaterThan(drawn.length / 2);
    }
  });

  // Parts that stand still beside parts that decay, with currents that make the first ones drift.
  const pair = (laws: readonly OwnLaw[]): Case => ({
    network: {
      nodeCount: 4,
      branches: [
        { part: 'R1', a: 1, b: 2 },
        { part: 'I1', a: 0, b: 1 },
        { part: 'G1', a: 3, b: 0 },
      ],
      capacitors: [
        { part: 'C1', a: 1, b: 0, capacitance: 1e-6 },
        { part: 'C2', a: 2, b: 0, capacitance: 2e-6 },
        { part: 'C3', a: 3, b: 2, capacitance: 1e-6 },
      ],
      held: [],
      inputCount: 2,
    },
    laws,
    voltages: [3, 1, 1],
    inputs: [2, 0],
    slopes,
  });

  test.each<[string, readonly OwnLaw[]]>([
    ['a current', [thevenin(1e3), { kind: 'current', current: 1e-3 }, thevenin(1e3, 0, 0)]],
    ['a source that changes', [thevenin(1e3), { kind: 'open' }, thevenin(0, 0, 0)]],
    ['both', [thevenin(1e3, 0.5), { kind: 'current', current: -2e-3 }, thevenin(0, 1, 0)]],
    ['neither', [thevenin(1e3), { kind: 'open' }, { kind: 'open' }]],
  ])('where two capacitors only share what they have, moved by %s', (_, laws) => {
    expect(expectEquations(pair(laws))).toBe(undefined);
  });
});
