import { describe, expect, test } from 'vitest';
import type { Circuit, Part } from '#sim/circuit/description.ts';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { buildProgram, type Program } from '#sim/engine/program.ts';
import { ProgramSeries } from '#sim/engine/program-series.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, lowPulses, monostable, resistor, signal, supply } from '../../support/timer-circuits.ts';

function board(resistance: number, ofTimer: Readonly<Record<string, unknown>> = { family: 'bipolar' }): Circuit {
  return circuitOf([
    ...monostable({ voltage: 9, resistance, capacitance: 1e-7, ofTimer }),
    signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 })),
  ]);
}

/** The same circuit with another value of one part; all other parts are the same objects. */
function changed(circuit: Circuit, name: string, values: object): Circuit {
  const parts = circuit.parts.map((part) =>
    part.name === name ? { ...part, values: { ...part.values, ...values } } : part,
  );
  return { ...circuit, parts };
}

/** All of a program that is data; reactors are told by what they say of each of their states. */
function plain({ network, branches, initial, inputs, reactors, nodeNames, currents }: Program): unknown {
  const told = reactors.map((reactor) => ({
    ...{ part: reactor.part, start: reactor.start, slots: reactor.slots, timetable: reactor.timetable },
    guards: [0, 1, 2, 3].map((state) => reactor.guards(state)),
  }));
  return { network, branches, initial, inputs, told, nodeNames, currents };
}

describe('ProgramSeries.build()', () => {
  test.each([false, true])('gives what buildProgram gives, circuit after circuit (limits watched: %s)', (faults) => {
    const series = new ProgramSeries(standardDevices, faults);
    const first = board(22e3);
    const circuits = [
      first,
      changed(first, 'R1', { resistance: 10e3 }),
      changed(first, 'C1', { capacitance: 2e-7, initial: 1 }),
      // A leak is one branch more, so that all that follows has other numbers.
      changed(first, 'C1', { leakage: 1e6 }),
      changed(first, 'R1', { resistance: 5e3 }),
      { ...first, parts: first.parts.slice(0, -1) },
      first,
      { ...first, parts: first.parts.slice(0, 1) },
      first,
      { ...first, parts: first.parts.toReversed() },
      // Another net first: nodes have other numbers.
      { ...first, nets: first.nets.toReversed() },
      board(22e3, { family: 'ideal' }),
      first,
    ];
    for (const circuit of circuits) {
      expect(plain(series.build(circuit))).toEqual(plain(buildProgram(circuit, standardDevices, faults)));
    }
  });

  test('gives what buildProgram gives whatever has stood before parts that stay: their elements have other numbers then', () => {
    const { nets, parts: standing } = board(22e3);
    const between = { a: 'rail', b: 'timing' };
    const partOf = (part: FilePart): Part =>
      circuitOf([
        supply(9),
        resistor('R1', 'rail', 'timing', 1e3),
        resistor('R2', 'timing', 'ground', 1e3),
        part,
      ]).parts.at(-1)!;
    const pieces: readonly FilePart[] = [
      resistor('X1', 'rail', 'timing', 1e4),
      capacitor('X1', 'rail', 'timing', 1e-9),
      capacitor('X1', 'rail', 'timing', 1e-9, { series: 1 }),
      { name: 'X1', kind: 'button', ...between },
      signal('X1', 'timing', { shape: 'square', frequency: 1e3, low: 0, high: 1, duty: 0.5 }, { resistance: 1e3 }),
      { name: 'X1', kind: 'finger', a: 'timing' },
    ];
    const before: readonly (readonly Part[])[] = [[], ...pieces.map((piece) => [partOf(piece)])];
    const series = new ProgramSeries(standardDevices, false);
    for (const first of before) {
      for (const second of before) {
        series.build({ nets, parts: [...first, ...standing] });
        const circuit = { nets, parts: [...second, ...standing] };
        expect(plain(series.build(circuit))).toEqual(plain(buildProgram(circuit, standardDevices)));
      }
    }
  });

  test('takes over the very elements of parts that are the same, and lists in which nothing has changed', () => {
    const series = new ProgramSeries(standardDevices, false);
    const first = board(22e3);
    const before = series.build(first);
    const after = series.build(changed(first, 'R1', { resistance: 10e3 }));
    const differ = after.branches.filter((branch, index) => branch !== before.branches[index]);
    expect(differ.map(({ part }) => part)).toEqual(['R1']);
    for (const name of ['inputs', 'reactors', 'nodeNames'] as const) expect(after[name]).toBe(before[name]);
    expect(after.network.capacitors).toBe(before.network.capacitors);
    expect(after.network.held).toBe(before.network.held);
  });

  test('finds anew which nodes are held where a law comes to drive one', () => {
    const series = new ProgramSeries(standardDevices, false);
    const [still, biased] = [board(22e3, { family: 'ideal' }), board(22e3, { family: 'bipolar' })];
    for (const each of [still, biased, still]) {
      expect(series.build(each).network.held).toEqual(buildProgram(each, standardDevices).network.held);
    }
  });
});
