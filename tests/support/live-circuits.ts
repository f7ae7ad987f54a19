import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import type { Circuit } from '#sim/circuit/description.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import type { Observer } from '#sim/trace/observer.ts';
import { expect } from 'vitest';

/** The checked circuit of some parts, which must have no fault. */
export function circuit(parts: readonly object[]): Circuit {
  const { circuit: checked, issues } = checkCircuit({ parts }, standardKinds);
  expect(issues.filter((issue) => issue.severity === 'fault')).toEqual([]);
  return checked!;
}

/** 9 V on the rail. */
export const battery = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 };

/** Timer U1 between rail and ground. */
export function timer(family: string, pins: object): object {
  return { name: 'U1', kind: 'timer', family, pins: { supply: 'rail', ground: 'ground', output: 'out', ...pins } };
}

/** Two coupled states, a ramping supply and a pulse train: every kind of segment. */
export function busy(family: string): Circuit {
  return circuit([
    { ...battery, resistance: 2, changes: [{ at: 0.01, voltage: 7, over: 0.02 }] },
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: 22e3 },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-7 },
    { name: 'C2', kind: 'capacitor', a: 'control', b: 'ground', capacitance: 1e-8 },
    timer(family, { trigger: 'in', threshold: 'timing', discharge: 'timing', control: 'control' }),
    {
      name: 'G1',
      kind: 'signal',
      plus: 'in',
      minus: 'ground',
      wave: { shape: 'pulses', period: 1e-3, width: 1e-4, rest: 9, pulse: 0 },
    },
  ]);
}

/** Hears every event and the length of every segment. */
export function listener(): Observer & { events: RunEvent[]; lengths: number[] } {
  const events: RunEvent[] = [];
  const lengths: number[] = [];
  return { events, lengths, event: (event) => events.push(event), segment: ({ length }) => lengths.push(length) };
}
