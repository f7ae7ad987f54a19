import { expect, test } from 'vitest';
import { CrossingFinder } from '#sim/engine/crossing.ts';
import { simulate } from '#sim/run/run.ts';

test('CrossingFinder.first() never goes back in time for a guard made of rounding alone', () => {
  for (const terms of [2, 3]) {
    const guards = {
      rates: Float64Array.from({ length: terms }, (_, k) => 10 ** k),
      idle: 0,
      constants: Float64Array.of(1e-17),
      slopes: Float64Array.of(0),
      tolerances: Float64Array.of(1e-13),
      roots: Float64Array.of(0),
    };
    const rounding = Float64Array.from({ length: terms }, (_, k) => 1e-18 / (k + 1));
    expect(new CrossingFinder(terms).first(guards, 0, rounding, 1, false)).toBeGreaterThanOrEqual(0);
  }
});

test('simulate() lets an unloaded one-way output rest on the corner of its curve', () => {
  // The bipolar output stage carries nothing once its coupling capacitor is charged: its current is rounding of either sign.
  const run = simulate(
    {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9, resistance: 3 },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'sink', resistance: 2e3 },
        { name: 'R2', kind: 'resistor', a: 'sink', b: 'timing', resistance: 47e3 },
        { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 8.5e-8, leakage: 5e6 },
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
        { name: 'C2', kind: 'capacitor', a: 'out', b: 'in', capacitance: 1e-9 },
        { name: 'R3', kind: 'resistor', a: 'rail', b: 'in', resistance: 100e3 },
      ],
    },
    { until: 0.1 },
  );
  expect(run.outcome).toMatchObject({ code: 'reached' });
  let before = 0;
  for (const { time, kind } of run.events) {
    expect(time, kind).toBeGreaterThanOrEqual(before);
    before = time;
  }
});
