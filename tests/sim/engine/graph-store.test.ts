import { expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { GraphStore } from '#sim/engine/graph-store.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

interface Values {
  readonly resistance: number;
  readonly period: number;
  readonly voltage?: number;
}

function board({ resistance, period, voltage = 9 }: Values): ReturnType<typeof circuitOf> {
  return circuitOf([
    ...monostable({ voltage, resistance, capacitance: 1e-7, ofTimer: { family: 'bipolar' } }),
    signal('G1', 'in', lowPulses(voltage, { period, width: 1e-4 })),
  ]);
}

const newStore = (): GraphStore => new GraphStore(standardDevices);

test('GraphStore.prepare() gives the same graph for circuits that differ in what drives them', () => {
  const store = newStore();
  const { graph } = store.prepare(board({ resistance: 22e3, period: 1e-3 }));
  expect(store.prepare(board({ resistance: 22e3, period: 2e-3 })).graph).toBe(graph);
  expect(store.prepare(board({ resistance: 22.1e3, period: 1e-3 })).graph).not.toBe(graph);
  expect(store.prepare(board({ resistance: 22e3, period: 1e-3, voltage: 10 })).graph).not.toBe(graph);
  expect(store.prepare(board({ resistance: 22e3, period: 1e-3 }), true).graph).not.toBe(graph);
});

test('GraphStore.prepare() gives the program of the very circuit', () => {
  const store = newStore();
  const periods = [1e-3, 2e-3].map((period) => {
    const { inputs } = store.prepare(board({ resistance: 22e3, period })).program;
    return inputs.map(({ wave }) => ('period' in wave ? wave.period : undefined)).filter((each) => each !== undefined);
  });
  expect(periods).toEqual([[1e-3], [2e-3]]);
});

test('GraphStore.prepare() gives up the circuit that was used least lately', () => {
  const store = newStore();
  const graphOf = (resistance: number): object => store.prepare(board({ resistance, period: 1e-3 })).graph;
  const graph = graphOf(1e3);
  for (let k = 1; k <= 31; k++) graphOf(1e3 + k);
  expect(graphOf(1e3)).toBe(graph);
  for (let k = 32; k <= 63; k++) graphOf(1e3 + k);
  expect(graphOf(1e3)).not.toBe(graph);
});

test('GraphStore.prepare() forgets the guesses of the run before', () => {
  const graphs = newStore();
  const { graph } = graphs.prepare(board({ resistance: 22e3, period: 1e-3 }));
  const fresh = (): boolean => graph.guesses().every((guess) => guess === 0 || guess === -1);
  runCircuit(board({ resistance: 22e3, period: 1e-3 }), { until: 0.02, observers: [], graphs });
  expect(graph.guesses().length).toBeGreaterThan(0);
  expect(fresh()).toBe(false);
  expect(graphs.prepare(board({ resistance: 22e3, period: 2e-3 })).graph).toBe(graph);
  expect(fresh()).toBe(true);
});

test('runCircuit() sees the same, to the last bit, in graphs kept from other runs', () => {
  const graphs = newStore();
  const events = (values: Values, kept?: GraphStore): unknown[] => {
    const seen: unknown[] = [];
    const observers = [{ event: (event: object): void => void seen.push({ ...event }) }];
    runCircuit(board(values), { until: 0.02, observers, graphs: kept });
    return seen;
  };
  for (const resistance of [22e3, 33e3, 22e3]) {
    for (const period of [1e-3, 1.3e-3, 1e-3, 4e-3]) {
      for (const voltage of [9, 5]) {
        const values = { resistance, period, voltage };
        expect(events(values, graphs)).toEqual(events(values));
      }
    }
  }
});
