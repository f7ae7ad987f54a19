import { describe, expect, test } from 'vitest';
import { runCircuit } from '#sim/run/simulate.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import type { Observer } from '#sim/trace/observer.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

const counter = circuitOf([
  ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7, ofTimer: { family: 'bipolar' } }),
  signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 })),
]);

/** Keeps all events it is told of. */
function listening(more: Partial<Observer> = {}): Observer & { readonly heard: RunEvent[] } {
  const heard: RunEvent[] = [];
  return { ...more, heard, event: (event) => void heard.push(event) };
}

describe('observers of runCircuit()', () => {
  test('one that ignores pieces is told of every other event, alone or beside one that wants them all', () => {
    const all = listening();
    const [beside, alone] = [listening({ ignoresPieces: true }), listening({ ignoresPieces: true })];
    runCircuit(counter, { until: 0.02, observers: [all, beside] });
    runCircuit(counter, { until: 0.02, observers: [alone] });
    const pieces = all.heard.filter(({ kind }) => kind === 'piece' || kind === 'source');
    // Two corners of each of the 20 pulses at least.
    expect(pieces.length).toBeGreaterThan(40);
    const others = all.heard.filter((event) => !pieces.includes(event));
    expect(others.length).toBeGreaterThan(20);
    expect(beside.heard).toEqual(others);
    expect(alone.heard).toEqual(others);
  });
});
