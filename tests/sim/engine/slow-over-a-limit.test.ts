import { expect, test } from 'vitest';
import { leavesAbove } from '#sim/engine/leaving-a-limit.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

const EPSILON = Number.EPSILON;

test('a ramp so slow that what lags behind it is rounding passes its limit when it begins there, whatever the last bits say', () => {
  // A level that stands on the threshold for a second, give or take some bits, and then creeps up through 1 kohm and 1 nF:
  // it lags behind by 1 us times the slope, some 1e-14 V, and all that is known of its way at first is rounding.
  for (const volts of [4.5, 5, 6, 9, 10, 12, 15]) {
    for (const slope of [1e-8, 1e-9, 1e-10]) {
      for (let bits = -6; bits <= 6; bits++) {
        const level = ((2 * volts) / 3) * (1 + bits * EPSILON);
        const points = [
          [0, level],
          [1, level],
          [1e6, level + slope * 1e6],
        ];
        const parts = [
          supply(volts),
          signal('G1', 'in', { shape: 'points', between: 'lines', points }, { resistance: 0 }),
          resistor('R1', 'in', 'timing', 1e3),
          capacitor('C1', 'timing', 'ground', 1e-9, { initial: level }),
          timer('U1', { trigger: 'rail', threshold: 'timing', output: 'out' }, { start: 'set' }),
        ];
        const [cleared] = eventsOf(storedRun(parts, 1e6), 'U1', 'cleared');
        // 1 us of lag, and a few dozen roundings of the voltage at that slope.
        const known = 1e-6 + (40 * EPSILON * volts) / slope;
        expect(Math.abs((cleared?.time ?? Infinity) - 1), `${volts} V, ${slope} V/s, ${bits}`).toBeLessThan(2 * known);
      }
    }
  }
});

test('leavesAbove() is whether a sum first leaves its value upwards, by more than is allowed', () => {
  const sum = (slope: number, coefficients: readonly number[], rates: readonly number[]) => ({
    constant: 7,
    slope,
    coefficients: Float64Array.from(coefficients),
    rates: Float64Array.from(rates),
  });
  // t and -t.
  expect(leavesAbove(sum(1, [], []), 0.1, 0.1)).toBe(true);
  expect(leavesAbove(sum(-1, [], []), 0.1, 0.1)).toBe(false);
  // 4 (u - u^2) with u = exp(-t) goes up from 0 to 1 at ln 2 and comes back; its opposite goes down as far.
  const hill = sum(0, [4, -4], [1, 2]);
  const valley = sum(0, [-4, 4], [1, 2]);
  for (const [tolerance, leaves] of [
    [0.5, true],
    [0.99, true],
    [1.01, false],
  ] as const) {
    expect(leavesAbove(hill, tolerance, tolerance)).toBe(leaves);
    expect(leavesAbove(valley, tolerance, tolerance)).toBe(false);
    // A ramp takes the valley up in the end: before it has gone down by as much, or after.
    expect(leavesAbove({ ...valley, slope: 1e-3 }, tolerance, tolerance)).toBe(!leaves);
  }
  // What stands still, and what never comes as far.
  expect(leavesAbove(sum(0, [3], [0]), 0.1, 0.1)).toBe(false);
  expect(leavesAbove(sum(0, [-0.05], [1]), 0.1, 0.1)).toBe(false);
  expect(leavesAbove(sum(0, [-0.2], [1]), 0.1, 0.1)).toBe(true);
});
