import { expect, test } from 'vitest';
import { storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, supply, timer } from '../../support/timer-circuits.ts';

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
