import { describe, expect, test } from 'vitest';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { capacitor, diode, lowPulses, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

test('a one-way output stage that falls idle stays idle: rounding of its current does not take it back', () => {
  // The stage (4 Ω) feeds the capacitor through 20 kΩ up to the supply less its drop of 1.3 V, and goes on being lifted by
  // the trigger current. A stage current known to 1e-16 A stands for 1e-12 V at the capacitor, more than voltages round.
  for (const voltage of [3.7, 3.8, 3.85, 3.9, 4, 4.5]) {
    const parts = [
      supply(voltage),
      timer('U1', { trigger: 'timing', threshold: 'timing', output: 'out' }, { family: 'bipolar' }),
      resistor('R1', 'out', 'timing', 20e3),
      capacitor('C1', 'timing', 'ground', 50e-9),
    ];
    // storedRun fails on an ending such as `chatter`.
    const trace = storedRun(parts, 50e-3);
    expect(trace.endTime).toBe(50e-3);
  }
});

describe('circuits whose branches stand on their corners to rounding reach the end of the run', () => {
  const family = (name: 'bipolar' | 'cmos') => ({ family: name });
  /** What each has shown: a corner where every part of the state has died out, or where two branches in series meet. */
  const circuits: Readonly<Record<string, { readonly until: number; readonly parts: readonly FilePart[] }>> = {
    'a trigger pin at rest on the rail, its bias fading': {
      until: 20000,
      parts: [
        supply(5.002869334071875, { resistance: 1 }),
        timer('U1', { trigger: 'in', threshold: 't', discharge: 't', output: 'out' }, family('cmos')),
        resistor('R1', 'rail', 't', 2106573.0097947055),
        resistor('RP', 'rail', 'in', 13925.215020295664),
        capacitor('CC', 's', 'in', 5.743265902303539e-8),
        signal('G1', 's', lowPulses(5.002869334071875, { period: 1791.5179737141032, width: 462.223211696096 }), {
          resistance: 0,
        }),
        capacitor('C1', 't', 'ground', 0.004331129456971888),
        diode('D1', 'in', 'rail'),
        capacitor('CB', 'rail', 'ground', 0.000008063500214729268),
      ],
    },
    'an output without load on a supply that ramps': {
      until: 27000,
      parts: [
        supply(6.733903916552663, {
          resistance: 1000,
          changes: [
            { at: 3406.27989451962, voltage: 1.6252385333650183, over: 0 },
            { at: 10218.839683558861, voltage: 6.733903916552663, over: 3406.27989451962 },
          ],
        }),
        timer('U1', { trigger: 't', threshold: 't', discharge: 'm', output: 'out', control: 'k' }, family('bipolar')),
        resistor('R1', 'rail', 'm', 74277.30342069264),
        resistor('R2', 'm', 't', 5518039.091561349),
        capacitor('C1', 't', 'ground', 0.00030658604026173857, { leakage: 18807.4738243553, initial: 3 }),
        capacitor('CK', 'k', 'ground', 1.3752548154816553e-7),
      ],
    },
  };
  for (const [title, { until, parts }] of Object.entries(circuits)) {
    test(title, () => {
      expect(runCircuit(circuitOf(parts), { until, observers: [] })).toMatchObject({ code: 'reached' });
    });
  }
});
