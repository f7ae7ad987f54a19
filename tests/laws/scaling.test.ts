import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readyBoards } from '#sim/board/index.ts';
import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import type { Circuit, Part, PartData } from '#sim/circuit/description.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { scaled } from '../support/circuit-scaling.ts';

/**
 * Times of two runs of the same law agree to this share of the run: some dozen roundings of times and volts. A comparator
 * that only grazes its limit (right after a jump of the supply, say) is worse conditioned, down to the square root of
 * rounding; few events of a run may be such, and none may be worse.
 */
const TOLERANCE = 1e-12;
const GRAZING = 1e-8;
const MOST_GRAZING = 0.05;

/** A chain: oscillator, coupling capacitor, divider on a soft supply, with a probe; three to five states. */
const chain: readonly PartData[] = [
  { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9, resistance: 3 },
  { name: 'R1', kind: 'resistor', a: 'rail', b: 'sink', resistance: 10e3 },
  { name: 'R2', kind: 'resistor', a: 'sink', b: 'timing', resistance: 47e3 },
  { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-6, leakage: 5e6 },
  {
    name: 'U1',
    kind: 'timer',
    family: 'bipolar',
    pins: {
      supply: 'rail',
      ground: 'ground',
      trigger: 'timing',
      threshold: 'timing',
      discharge: 'sink',
      output: 'out',
    },
  },
  { name: 'C2', kind: 'capacitor', a: 'out', b: 'in', capacitance: 1e-8 },
  { name: 'R3', kind: 'resistor', a: 'rail', b: 'in', resistance: 100e3 },
  { name: 'R4', kind: 'resistor', a: 'rail', b: 'hold', resistance: 220e3 },
  { name: 'C3', kind: 'capacitor', a: 'hold', b: 'ground', capacitance: 1e-6, series: 1 },
  { name: 'P1', kind: 'probe', a: 'hold', b: 'ground' },
  {
    name: 'U2',
    kind: 'timer',
    family: 'cmos',
    pins: { supply: 'rail', ground: 'ground', trigger: 'in', threshold: 'hold', discharge: 'hold', output: 'divided' },
  },
];

const circuits = new Map<string, readonly PartData[]>([
  ...[...readyBoards].map(([name, board]) => [name, board.circuit.parts] as const),
  ['chain', chain],
]);

/** A circuit of the list with other timing parts and another family for its first timer, and how long to run it (s). */
const anyCircuit = fc
  .record({
    name: fc.constantFrom(...circuits.keys()),
    family: fc.constantFrom('ideal', 'bipolar', 'cmos'),
    resistance: fc.double({ min: 0.2, max: 5, noNaN: true }),
    capacitance: fc.double({ min: 0.2, max: 5, noNaN: true }),
  })
  .map(({ name, family, resistance, capacitance }) => {
    const base = checkedCircuit(circuits.get(name)!.map((part) => (part.name === 'U1' ? { ...part, family } : part)));
    const turned = (part: Part, field: string, factor: number): Part => ({
      ...part,
      values: { ...part.values, [field]: (part.values[field] as number) * factor },
    });
    const parts = base.parts.map((part) => {
      if (part.name === 'R1') return turned(part, 'resistance', resistance);
      return part.name === 'C1' ? turned(part, 'capacitance', capacitance) : part;
    });
    return { circuit: { ...base, parts }, until: name === 'chain' ? 0.3 : 3 };
  });

function checkedCircuit(parts: readonly PartData[]): Circuit {
  const { circuit, issues } = checkCircuit({ parts }, standardKinds);
  if (!circuit) throw new Error(issues.map(({ message }) => message).join('\n'));
  return circuit;
}

function runOf(circuit: Circuit, until: number): StoredTrace {
  const trace = new StoredTrace();
  const outcome = runCircuit(circuit, { until, observers: [trace] });
  expect(outcome.ok, outcome.message).toBe(true);
  return trace;
}

/** What happened when: part and kind of each event, with its time. Pieces of curves may change places at one instant. */
function story(trace: StoredTrace, rename: (part: string) => string = (part) => part): [string, number][] {
  return trace.events
    .filter((event) => event.kind !== 'piece')
    .map((event) => [`${rename(event.part)} ${event.kind}`, event.time]);
}

function expectSameStory(one: [string, number][], other: [string, number][], until: number, factor = 1): void {
  expect(other.map(([what]) => what)).toEqual(one.map(([what]) => what));
  const errors = one.map(([, time], i) => Math.abs(other[i]![1] / factor - time) / until);
  expect(Math.max(0, ...errors)).toBeLessThan(GRAZING);
  expect(errors.filter((error) => error > TOLERANCE).length).toBeLessThanOrEqual(MOST_GRAZING * errors.length);
}

test('runCircuit() tells the same story, bit for bit, every time', () => {
  fc.assert(
    fc.property(anyCircuit, ({ circuit, until }) => {
      expect(runOf(circuit, until).events).toEqual(runOf(circuit, until).events);
    }),
  );
});

test('runCircuit() does not depend on the names of nets and parts, nor on the order of the passive parts', () => {
  fc.assert(
    fc.property(anyCircuit, fc.infiniteStream(fc.nat()), ({ circuit, until }, random) => {
      const rename = (name: string): string => (name === 'ground' ? name : `x${name}`);
      const passive = ['resistor', 'capacitor', 'probe', 'pot', 'led', 'diode'];
      const renamed = circuit.parts.map((part) => ({
        ...part,
        name: rename(part.name),
        nets: Object.fromEntries(Object.entries(part.nets).map(([terminal, net]) => [terminal, rename(net)])),
      }));
      const keys = new Map(renamed.map((part) => [part.name, random.next().value]));
      const shuffled = renamed
        .filter(({ kind }) => passive.includes(kind))
        .sort((p, q) => keys.get(p.name)! - keys.get(q.name)!);
      const parts = renamed.map((part) => (passive.includes(part.kind) ? shuffled.pop()! : part));
      const nets = [...circuit.nets.map(rename)].reverse();
      expectSameStory(story(runOf(circuit, until), rename), story(runOf({ parts, nets }, until)), until);
    }),
  );
});

test('runCircuit() does not change when resistances are k times, capacitances and currents 1/k times as large', () => {
  fc.assert(
    fc.property(anyCircuit, fc.double({ min: 0.1, max: 10, noNaN: true }), ({ circuit, until }, k) => {
      const other = scaled(circuit, { resistance: k, capacitance: 1 / k, current: 1 / k, time: 1 });
      expectSameStory(story(runOf(circuit, until)), story(runOf(other, until)), until);
    }),
  );
});

test('runCircuit() takes k times as long when capacitances and all times of inputs and timers are k times as large', () => {
  fc.assert(
    fc.property(anyCircuit, fc.double({ min: 0.1, max: 10, noNaN: true }), ({ circuit, until }, k) => {
      const other = scaled(circuit, { resistance: 1, capacitance: k, current: 1, time: k });
      expectSameStory(story(runOf(circuit, until)), story(runOf(other, until * k)), until, k);
    }),
  );
});
