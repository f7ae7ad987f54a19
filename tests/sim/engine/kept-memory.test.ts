import { describe, expect, test } from 'vitest';
import type { Part } from '#sim/circuit/description.ts';
import { sameData } from '#sim/core/same-data.ts';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { GraphStore } from '#sim/engine/graph-store.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { keptBy } from '../../support/kept-objects.ts';
import type { FilePart } from '../../support/run-board.ts';
import { astable, lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

// Samples of which each has other voltages in places without a resistance: no mode of the one before can be used again.
// What is kept of them is counted, not weighed, so that the counts are the same each time.

/** What timers of the ideal family have at their pins without load (V), in the k-th sample. */
function dropsOf(k: number): Record<string, number> {
  const turn = (names: readonly string[]): Record<string, number> =>
    Object.fromEntries(names.map((name, place) => [name, 0.1 + 1e-4 * Math.floor((k + place) / names.length)]));
  return turn(['outputHighDrop', 'outputLowSaturation', 'dischargeSaturation']);
}

const boards: readonly (readonly [string, (k: number) => FilePart[], number])[] = [
  [
    'a monostable, of which one voltage in turn changes with each sample',
    (k) => [
      ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7, ofTimer: { with: dropsOf(k) } }),
      signal('G1', 'in', lowPulses(9, { period: 4e-3, width: 1e-4, count: 2 })),
    ],
    0.006,
  ],
  [
    'a monostable, of which all voltages change at once',
    (k) => [
      ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7, ofTimer: { with: dropsOf(3 * k) } }),
      signal('G1', 'in', lowPulses(9, { period: 4e-3, width: 1e-4, count: 2 })),
    ],
    0.006,
  ],
  [
    'a monostable, of which the voltage of the low output changes with every second sample',
    (k) => [
      ...monostable({
        voltage: 9,
        resistance: 22e3 + k,
        capacitance: 1e-7,
        ofTimer: { with: { outputLowSaturation: 0.1 + 1e-4 * Math.floor(k / 2) } },
      }),
      signal('G1', 'in', lowPulses(9, { period: 4e-3, width: 1e-4, count: 2 })),
    ],
    0.006,
  ],
  [
    'a timer that runs free, of which one voltage in turn changes with each sample',
    (k) => astable({ voltage: 9, first: 10e3, second: 22e3, capacitance: 1e-7, ofTimer: { with: dropsOf(k) } }),
    0.01,
  ],
];

describe('a graph that takes up one sample after the other keeps no more of many than of some', () => {
  test.for(boards)('%s', ([, partsOf, until]) => {
    const graphs = new GraphStore(standardDevices, 1);
    /** As in a study, parts that do not change are the very same. */
    let last: readonly Part[] = [];
    /** The most that is kept after any of some more samples. */
    let sample = 0;
    const most = (count: number): { objects: number; numbers: number } => {
      const peak = { objects: 0, numbers: 0 };
      for (let k = 0; k < count; k++, sample++) {
        const { nets, parts } = circuitOf(partsOf(sample));
        last = parts.map((part, index) => (sameData(part, last[index]) ? last[index]! : part));
        const outcome = runCircuit({ nets, parts: last }, { until, observers: [], graphs });
        expect(outcome.ok).toBe(true);
        if (k % 10 > 0) continue;
        const { objects, numbers } = keptBy(graphs);
        peak.objects = Math.max(peak.objects, objects);
        peak.numbers = Math.max(peak.numbers, numbers);
      }
      return peak;
    };
    const some = most(200);
    const many = most(400);
    // Long before, everything is there that a sample needs; the tenth is for what comes and goes.
    expect(many.objects).toBeLessThan(1.1 * some.objects);
    expect(many.numbers).toBeLessThan(1.1 * some.numbers);
  });
});
