import { describe, expect, test } from 'vitest';
import { readyBoards } from '#sim/board/index.ts';
import type { Circuit } from '#sim/circuit/description.ts';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { Driver } from '#sim/engine/driver.ts';
import { buildProgram, type Program, signalTable } from '#sim/engine/program.ts';
import { SituationGraph } from '#sim/engine/situation-graph.ts';
import { voltScale } from '#sim/engine/volt-scale.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { everything, renumbered } from '../../support/shown-run.ts';
import {
  astable,
  capacitor,
  diode,
  lowPulses,
  monostable,
  resistor,
  signal,
  supply,
  upAndDown,
} from '../../support/timer-circuits.ts';

// What is expected of each run is another run of the same circuit, to the last bit: in a graph of its own, without a stop.
// The laws say the same of random circuits; these boards are few and short, one for each thing that runs carry along.

const EVENTS = 60;
const FACTORS = [1.1, 0.9, 1.3, 0.7, 1.05, 0.95, 1.2, 0.8];

const divider = (family: string): FilePart[] => [
  ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7, ofTimer: { family } }),
  signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 })),
];
const transistor = (more: Record<string, unknown>): FilePart => ({
  name: 'T1',
  kind: 'transistor',
  base: 'b',
  collector: 'c',
  emitter: 'ground',
  ...more,
});

const boards: readonly (readonly [string, Circuit, number])[] = [
  ...[...readyBoards].map(([name, { circuit }]) => [name, circuitOf(circuit.parts), 2] as const),
  ...(['ideal', 'bipolar', 'cmos'] as const).map(
    (family) => [`a divider: ${family}`, circuitOf(divider(family)), 0.0207] as const,
  ),
  [
    'a timer that runs free into a diode and two more capacitors',
    circuitOf([
      ...astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-7, ofTimer: { family: 'bipolar' } }),
      capacitor('C2', 'out', 'pump', 2.2e-7),
      diode('D1', 'ground', 'pump'),
      diode('D2', 'pump', 'store'),
      capacitor('C3', 'store', 'ground', 1e-6),
      resistor('R3', 'store', 'ground', 100e3),
    ]),
    0.05,
  ],
  [
    'a ramp that a diode and a contact follow',
    circuitOf([
      signal('G1', 'in', upAndDown(9)),
      resistor('R1', 'in', 'a', 1e4),
      diode('D1', 'a', 'b'),
      capacitor('C1', 'b', 'ground', 1e-5),
      resistor('R2', 'b', 'ground', 1e5),
      {
        name: 'S1',
        kind: 'button',
        a: 'b',
        b: 'ground',
        bounce: { for: 1e-3, seed: 1 },
        presses: [{ at: 0.5, for: 0.25 }],
      },
    ]),
    2,
  ],
  [
    'a sine at a transistor that amplifies',
    circuitOf([
      supply(9),
      signal('G1', 'in', { shape: 'sine', frequency: 50, amplitude: 1, offset: 1, phase: 0 }),
      resistor('R1', 'in', 'b', 1e5),
      resistor('R2', 'rail', 'c', 1e3),
      capacitor('C1', 'c', 'ground', 1e-6),
      transistor({ gain: 50 }),
    ]),
    0.02,
  ],
  [
    'a net that is loose now and then, and a current',
    circuitOf([
      supply(9),
      signal('G1', 'in', lowPulses(9, { period: 1e-2, width: 3e-3 })),
      { name: 'I1', kind: 'source', a: 'z', b: 'ground', current: 5e-8, headroom: 0.5 },
      diode('D1', 'in', 'z'),
      capacitor('C1', 'in', 'far', 1e-8),
      resistor('R1', 'far', 'ground', 1e5),
      { name: 'S1', kind: 'switch', a: 'z', b: 'rail', presses: [{ at: 0.013, for: 0.004 }] },
    ]),
    0.05,
  ],
];

/** The events of a run, and its checkpoint at the end. */
function eventsOf(program: Program, until: number, stops: (driver: Driver) => Driver = (driver) => driver): unknown[] {
  const seen: RunEvent[] = [];
  const observer = { event: (event: RunEvent) => void seen.push(event) };
  const driver = stops(new Driver(program, [observer]));
  const outcome = driver.advance(until, { maxEvents: 1e4 });
  return [seen, outcome, driver.checkpoint()];
}

describe('a run is the same, bit for bit,', () => {
  test.each(boards)('in a graph that has run it with other numbers: %s', (_, circuit, until) => {
    const program = buildProgram(circuit, standardDevices);
    const other = buildProgram(renumbered(circuit, FACTORS), standardDevices);
    const graph = new SituationGraph(other, voltScale(other));
    everything(other, until, EVENTS, graph);
    expect(graph.renew(program, voltScale(program))).toBe(true);
    expect(everything(program, until, EVENTS, graph)).toEqual(everything(program, until, EVENTS));
    expect(graph.begin()).toBe(true);
    expect(everything(program, until, EVENTS, graph)).toEqual(everything(program, until, EVENTS));
  });

  test.each(boards)('taken up from a checkpoint as text: %s', (_, circuit, until) => {
    const program = buildProgram(circuit, standardDevices);
    const [all, outcome, end] = eventsOf(program, until) as [RunEvent[], unknown, unknown];
    for (const share of [0, 0.31, 0.77]) {
      const first = new Driver(program, []);
      expect(first.advance(share * until, { maxEvents: 1e4 }).ok).toBe(true);
      const kept = JSON.parse(JSON.stringify(first.checkpoint())) as NonNullable<ReturnType<Driver['checkpoint']>>;
      const rest: RunEvent[] = [];
      const second = new Driver(program, [{ event: (event) => void rest.push(event) }], kept);
      expect(second.now).toBe(first.now);
      expect(second.advance(until, { maxEvents: 1e4 })).toEqual(outcome);
      expect(rest).toEqual(all.slice(all.length - rest.length));
      expect(rest.every(({ time }) => time >= share * until)).toBe(true);
      const byName = (checkpoint: typeof kept): unknown => ({
        ...checkpoint,
        roots: Object.fromEntries(checkpoint.roots.map((entry) => [entry.situation, entry])),
      });
      expect(byName(second.checkpoint()!)).toEqual(byName(end as typeof kept));
    }
  });

  test.each(boards)('stopped by time and by number of events: %s', (_, circuit, until) => {
    const program = buildProgram(circuit, standardDevices);
    const stopped = eventsOf(program, until, (driver) => {
      for (const share of [0.11, 0.11, 0.42])
        expect(driver.advance(share * until, { maxEvents: 1e4 }).code).toBe('reached');
      expect(Math.abs(driver.now - 0.42 * until)).toBeLessThanOrEqual(Number.EPSILON * until);
      for (let turn = 0; turn < 3; turn++) {
        const before = driver.checkpoint()!.handled;
        const { code } = driver.advance(until, { maxEvents: 1e4, atATime: 2 });
        if (code === 'paused') expect(driver.checkpoint()!.handled).toBe(before + 2);
        else expect(code).toBe('reached');
      }
      return driver;
    });
    expect(stopped).toEqual(eventsOf(program, until));
  });

  test.each(boards)('watched or not: what a run says now is what a trace has kept: %s', (_, circuit, until) => {
    const program = buildProgram(circuit, standardDevices);
    const trace = new StoredTrace();
    const driver = new Driver(program, [trace]);
    const { nets } = signalTable(program);
    for (const share of [0, 0.31, 0.77, 1]) {
      expect(driver.advance(share * until, { maxEvents: 1e4 }).code).toBe('reached');
      if (share === 0) continue;
      nets.forEach((net, index) => {
        // The trace keeps what was shown up to now, and works it out from its beginning.
        const expected = trace.at({ net }, driver.now);
        expect(Math.abs(driver.signal(index) - expected)).toBeLessThanOrEqual(1e-9 * 10);
      });
    }
  });
});
