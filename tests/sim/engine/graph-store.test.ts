import { expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { GraphStore } from '#sim/engine/graph-store.ts';
import { buildProgram } from '#sim/engine/program.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, lowPulses, monostable, resistor, signal, supply } from '../../support/timer-circuits.ts';

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

test('GraphStore.prepare() gives another graph for another part, name, kind or net, or one part more or less', () => {
  const parts = (more: readonly FilePart[]): ReturnType<typeof circuitOf> =>
    circuitOf([
      ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7 }),
      signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 })),
      ...more,
    ]);
  const plain = [resistor('R9', 'out', 'ground', 1e4)];
  for (const other of [
    [],
    [...plain, resistor('R8', 'out', 'ground', 1e4)],
    [resistor('R8', 'out', 'ground', 1e4)],
    [resistor('R9', 'out', 'rail', 1e4)],
    [resistor('R9', 'out', 'ground', 2e4)],
    [{ name: 'R9', kind: 'speaker', a: 'out', b: 'ground', resistance: 1e4 }],
  ]) {
    const store = newStore();
    const first = store.prepare(parts(plain)).graph;
    expect(store.prepare(parts(other)).graph).not.toBe(first);
    expect(store.prepare(parts(plain)).graph).toBe(first);
    const reversed = newStore();
    const second = reversed.prepare(parts(other)).graph;
    expect(reversed.prepare(parts(plain)).graph).not.toBe(second);
  }
});

/** A capacitor that charges, and may state its rated voltage. */
function charged(more: Readonly<Record<string, unknown>>): ReturnType<typeof circuitOf> {
  return circuitOf([supply(9), resistor('R1', 'rail', 'out', 1e3), capacitor('C1', 'out', 'ground', 1e-6, more)]);
}

test('GraphStore.prepare() gives another graph where a part states a value that it left out before, or leaves one out', () => {
  for (const [one, other] of [
    [{}, { rating: 16 }],
    [{ rating: 16 }, {}],
  ] as const) {
    const store = newStore();
    const first = store.prepare(charged(one)).graph;
    expect(store.prepare(charged(other)).graph).not.toBe(first);
  }
});

test('GraphStore.prepare() gives the same graph where such a value states nothing', () => {
  const store = newStore();
  const { graph } = store.prepare(charged({}));
  const { nets, parts } = charged({});
  const unstated = parts.map((part) => ({ ...part, values: { ...part.values, rating: undefined } }));
  expect(store.prepare({ nets, parts: unstated }).graph).toBe(graph);
});

test('GraphStore.prepare() watches the limits of the parts where it is asked to, and only there', () => {
  const circuit = board({ resistance: 22e3, period: 1e-3 });
  const store = newStore();
  const [plain, watched] = [false, true].map(
    (faults) => buildProgram(circuit, standardDevices, faults).reactors.length,
  );
  expect(watched).toBeGreaterThan(plain!);
  expect(store.prepare(circuit).program.reactors).toHaveLength(plain!);
  expect(store.prepare(circuit, true).program.reactors).toHaveLength(watched!);
});

test('GraphStore.prepare() keeps 32 graphs of circuits of which none can take over what another was', () => {
  const chain = (length: number): ReturnType<typeof circuitOf> =>
    circuitOf([
      supply(9),
      ...Array.from({ length }, (_, k) => resistor(`R${k}`, k === 0 ? 'rail' : `n${k}`, `n${k + 1}`, 1e3)),
      resistor('R99', `n${length}`, 'ground', 1e3),
    ]);
  const kept = (more: number): boolean => {
    const store = newStore();
    const first = store.prepare(chain(1)).graph;
    const others = Array.from({ length: more }, (_, k) => store.prepare(chain(k + 2)).graph);
    expect(new Set(others).size).toBe(more);
    expect(store.prepare(chain(more + 1)).graph).toBe(others.at(-1));
    return store.prepare(chain(1)).graph === first;
  };
  expect(kept(4)).toBe(true);
  expect(kept(31)).toBe(true);
  expect(kept(32)).toBe(false);
});

test('GraphStore.prepare() gives the program of the very circuit', () => {
  const store = newStore();
  const periods = [1e-3, 2e-3].map((period) => {
    const { inputs } = store.prepare(board({ resistance: 22e3, period })).program;
    return inputs.map(({ wave }) => ('period' in wave ? wave.period : undefined)).filter((each) => each !== undefined);
  });
  expect(periods).toEqual([[1e-3], [2e-3]]);
});

test('GraphStore.prepare() keeps what is asked for again, and lets the rest take up new numbers', () => {
  const store = newStore();
  const graphOf = (resistance: number): object => store.prepare(board({ resistance, period: 1e-3 })).graph;
  const asked = graphOf(1e3);
  expect(graphOf(1e3)).toBe(asked);
  const others = new Set<object>();
  for (let k = 1; k <= 40; k++) others.add(graphOf(1e3 + k));
  expect(others.size).toBe(4);
  expect(others).not.toContain(asked);
  expect(graphOf(1e3)).toBe(asked);
});

test('GraphStore.prepare() runs circuits that come but once in one graph for each build, where it may', () => {
  const store = new GraphStore(standardDevices, 1);
  const graphOf = (resistance: number, more: readonly FilePart[] = []): object =>
    store.prepare(
      circuitOf([
        ...monostable({ voltage: 9, resistance, capacitance: 1e-7 }),
        resistor('R9', 'in', 'rail', 1e4),
        ...more,
      ]),
    ).graph;
  const loaded = [resistor('R8', 'out', 'ground', 1e4)];
  const [plain, other] = [graphOf(1e3), graphOf(1e3, loaded)];
  expect(other).not.toBe(plain);
  for (let k = 1; k <= 5; k++) {
    expect(graphOf(1e3 + k)).toBe(plain);
    expect(graphOf(1e3 + k, loaded)).toBe(other);
  }
});

test('GraphStore.prepare() gives up the circuit that was used least lately', () => {
  const store = newStore();
  const graphOf = (resistance: number): object => {
    store.prepare(board({ resistance, period: 1e-3 }));
    return store.prepare(board({ resistance, period: 1e-3 })).graph;
  };
  const first = graphOf(1e3);
  const second = graphOf(2e3);
  for (let k = 3; k <= 32; k++) graphOf(k * 1e3);
  expect(graphOf(1e3)).toBe(first);
  // The 33rd takes over the second, which is now the one used least lately.
  expect(graphOf(33e3)).toBe(second);
  expect(graphOf(1e3)).toBe(first);
});

test('GraphStore.prepare() makes a graph of its own for circuits of another build', () => {
  const store = newStore();
  const families = ['bipolar', 'ideal', 'cmos'];
  const seen = new Set<object>();
  for (let k = 0; k < 12; k++) {
    const parts = monostable({
      voltage: 9,
      resistance: 1e3 + k,
      capacitance: 1e-7,
      ofTimer: { family: families[k % 3]! },
    });
    seen.add(
      store.prepare(circuitOf([...parts, signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 }))])).graph,
    );
  }
  // The families differ in what their pins let through, so none takes over another's.
  expect(seen.size).toBeGreaterThanOrEqual(3);
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
  for (const resistance of [22e3, 33e3, 22e3, 1e3, 2e3, 3e3, 4e3, 22e3]) {
    for (const period of [1e-3, 1.3e-3, 4e-3]) {
      for (const voltage of [9, 5]) {
        const values = { resistance, period, voltage };
        expect(events(values, graphs)).toEqual(events(values));
      }
    }
  }
});
