import { expect, test } from 'vitest';
import { simulate } from '#sim/run/run.ts';

/** A bipolar monostable whose discharge switch limits its current while the capacitor empties. */
function monostable(resistance: number, capacitance: number, changes: object = {}, family = 'bipolar'): object {
  return {
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance },
      { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance },
      {
        name: 'U1',
        kind: 'timer',
        family,
        with: changes,
        pins: {
          supply: 'rail',
          ground: 'ground',
          trigger: 'in',
          threshold: 'timing',
          discharge: 'timing',
          output: 'out',
        },
      },
      {
        name: 'G1',
        kind: 'signal',
        plus: 'in',
        minus: 'ground',
        wave: { shape: 'pulses', period: 0.01, width: 1e-4, rest: 9, pulse: 0 },
      },
    ],
  };
}

test('simulate() passes the corner of the current limit once, however far the limited current aims', () => {
  // 0.15 A through 12 kohm aims at -1800 V; its rounding must not push the sink back over its corner.
  for (const capacitance of [1e-7, 1e-6, 4.7e-6]) {
    for (let resistance = 1000; resistance < 100e3; resistance *= 1.13) {
      const { outcome } = simulate(monostable(resistance, capacitance), { until: 0.1 });
      expect(outcome, `${resistance} ohm, ${capacitance} F`).toMatchObject({ code: 'reached' });
    }
  }
});

test('simulate() limits the discharge current of a switch without resistance', () => {
  const run = simulate(monostable(10e3, 1e-6, { dischargeCurrent: 0.01 }, 'ideal'), { until: 0.02 });
  const end = run.events.find((event) => event.kind === 'cleared')!.time;
  // 10 mA less the charging current (0.3 mA at 6 V to 0.9 mA at 0 V) empty 1 uF from 6 V: by C x' = (9 - x)/R - I,
  // RC ln((IR - 9 + 6) / (IR - 9)).
  const emptied = 0.01 * Math.log((100 - 3) / (100 - 9));
  expect(run.trace('timing').at(end)).toBeCloseTo(6, 12);
  expect(run.trace('timing').before(end + emptied)).toBeCloseTo(0, 9);
  expect(run.trace('timing').at(end + emptied * 1.001)).toBeCloseTo(0, 12);
});
