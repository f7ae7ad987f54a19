import { STRAY_CAPACITANCE } from '#sim/network/element.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ModeState } from '../../support/mode-state.ts';
import { networks } from '../../support/random-network.ts';
import {
  compile,
  stateOf,
  voltsOf,
  amperesOf,
  allAmperes,
  groupsOf,
  idealGroups,
} from '../../support/compiled-mode.ts';

describe('ModeCompiler.compile(): laws of every network', () => {
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
