import { expect, test } from 'vitest';
import { leavingOf, nextZero } from '#sim/engine/leaving-a-limit.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, signal, supply, timer, upAndDown } from '../../support/timer-circuits.ts';
import { schmittTrigger, strays } from '../../support/two-transistors.ts';

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

test('what passes its limit on a ramp with no more to and fro than rounding passes it once', () => {
  // The first transistor goes over from amplifying to letting through. In one state the picofarad across it settles within
  // 0.02 ps, in the other within 5 ps, and what it has to settle is some 1e-13 V: less than is known of either limit.
  const values = { voltage: 5, input: 240.13295730893805, first: 1e3, second: 330, upper: 46999.99999978629 };
  const trigger = { ...values, lower: 46999.69711371737, emitter: 1244.9511135242838, gain: 356.1077501549407 };
  const parts = [
    ...schmittTrigger(trigger),
    signal('G1', 'in', upAndDown(5), { resistance: 0 }),
    ...strays('e', 1e-12, 1.3e-12),
  ];
  const trace = storedRun(parts, 2);
  // On and off, and through its limit on the way up and on the way down.
  expect(eventsOf(trace, 'T1', 'piece')).toHaveLength(4);
});

test('leavingOf() says to which side a sum first leaves its value by more than a bound', () => {
  const sum = (slope: number, coefficients: readonly number[], rates: readonly number[]) => ({
    constant: 7,
    slope,
    coefficients: Float64Array.from(coefficients),
    rates: Float64Array.from(rates),
  });
  // t and -t.
  expect(leavingOf(sum(1, [], []), 0.1)?.side).toBe(1);
  expect(leavingOf(sum(-1, [], []), 0.1)?.side).toBe(-1);
  // 4 (u - u^2) with u = exp(-t) goes up from 0 to 1 at ln 2 and comes back; its opposite goes down as far.
  const hill = sum(0, [4, -4], [1, 2]);
  const valley = sum(0, [-4, 4], [1, 2]);
  for (const bound of [0.5, 0.99]) {
    expect(leavingOf(hill, bound)?.side).toBe(1);
    expect(leavingOf(valley, bound)?.side).toBe(-1);
    // A ramp takes the valley up in the end, after it has gone down by as much.
    expect(leavingOf({ ...valley, slope: 1e-3 }, bound)?.side).toBe(-1);
  }
  expect(leavingOf(hill, 1.01)).toBeUndefined();
  expect(leavingOf(valley, 1.01)).toBeUndefined();
  expect(leavingOf({ ...valley, slope: 1e-3 }, 1.01)?.side).toBe(1);
  // What stands still, and what never comes as far.
  expect(leavingOf(sum(0, [3], [0]), 0.1)).toBeUndefined();
  expect(leavingOf(sum(0, [-0.05], [1]), 0.1)).toBeUndefined();
  expect(leavingOf(sum(0, [-0.2], [1]), 0.1)?.side).toBe(1);
});

test('leavingOf() says from when on, and nextZero() when a sum comes back after that', () => {
  // t - 1 + exp(-2 t) goes down to about -0.15 and comes back, by its own formula; it is lowest at ln(2) / 2.
  const sum = { constant: -1, slope: 1, coefficients: Float64Array.of(1), rates: Float64Array.of(2) };
  const at = (time: number): number => time - 1 + Math.exp(-2 * time);
  const { side, from } = leavingOf(sum, 0.1)!;
  expect(side).toBe(-1);
  expect(at(from)).toBeCloseTo(-0.1, 12);
  expect(from).toBeLessThan(Math.LN2 / 2);
  const back = nextZero(sum, from);
  expect(at(back)).toBeCloseTo(0, 12);
  expect(back).toBeGreaterThan(Math.LN2 / 2);
  expect(nextZero(sum, back)).toBe(Infinity);
});
