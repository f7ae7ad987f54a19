import { expect, test } from 'vitest';
import { sideLeftFor } from '#sim/engine/leaving-a-limit.ts';
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

test('sideLeftFor() is the side on which a sum first leaves its value by more than a bound', () => {
  const sum = (slope: number, coefficients: readonly number[], rates: readonly number[]) => ({
    constant: 7,
    slope,
    coefficients: Float64Array.from(coefficients),
    rates: Float64Array.from(rates),
  });
  // t and -t.
  expect(sideLeftFor(sum(1, [], []), 0.1)).toBe(1);
  expect(sideLeftFor(sum(-1, [], []), 0.1)).toBe(-1);
  // 4 (u - u^2) with u = exp(-t) goes up from 0 to 1 at ln 2 and comes back; its opposite goes down as far.
  const hill = sum(0, [4, -4], [1, 2]);
  const valley = sum(0, [-4, 4], [1, 2]);
  for (const bound of [0.5, 0.99]) {
    expect(sideLeftFor(hill, bound)).toBe(1);
    expect(sideLeftFor(valley, bound)).toBe(-1);
    // A ramp takes the valley up in the end, after it has gone down by as much.
    expect(sideLeftFor({ ...valley, slope: 1e-3 }, bound)).toBe(-1);
  }
  expect(sideLeftFor(hill, 1.01)).toBeUndefined();
  expect(sideLeftFor(valley, 1.01)).toBeUndefined();
  expect(sideLeftFor({ ...valley, slope: 1e-3 }, 1.01)).toBe(1);
  // What stands still, and what never comes as far.
  expect(sideLeftFor(sum(0, [3], [0]), 0.1)).toBeUndefined();
  expect(sideLeftFor(sum(0, [-0.05], [1]), 0.1)).toBeUndefined();
  expect(sideLeftFor(sum(0, [-0.2], [1]), 0.1)).toBe(1);
});
