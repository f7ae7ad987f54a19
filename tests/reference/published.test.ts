import { describe, expect, test } from 'vitest';
import published from '#shared/published-examples.json';
import { errorOf } from '../support/error-measure.ts';
import { boardOf, readAll } from '../support/run-board.ts';
import { setTimes, storedRun } from '../support/stored-run.ts';
import {
  astable,
  capacitor,
  lowPulses,
  monostable,
  resistor,
  signal,
  supply,
  timer,
} from '../support/timer-circuits.ts';

/** A value with the tolerance of its print. */
interface Printed {
  readonly value: number;
  readonly within: number;
}

/** A parts list of a monostable with one short trigger; run for two intervals and a bit. */
function triggered(values: { resistance: number; capacitance: number; voltage: number }, family: string) {
  const about = 1.1 * values.resistance * values.capacitance;
  const wave = lowPulses(values.voltage, { period: about, width: about / 10, delay: about / 2, count: 1 });
  const parts = [...monostable({ ...values, ofTimer: { family } }), signal('G1', 'in', wave)];
  return { parts, until: 2.5 * about };
}

describe('published monostables of the ideal family last as printed', () => {
  // Tolerance: half of the last digit that the source prints, or what is said beside the value.
  for (const { source, printed, derived, ...values } of published.monostables) {
    const { interval, within } = printed ?? derived;
    test(`${source}: ${interval} s`, () => {
      const { parts, until } = triggered(values, 'ideal');
      const [width] = readAll(boardOf(parts), until, ['width(out)']);
      expect(errorOf(width!.value as number, interval, { scale: within })).toBeLessThanOrEqual(1);
    });
  }
});

describe('published astables of the ideal family run as printed', () => {
  for (const { source, printed, derived, ...values } of published.astables) {
    const numbers = Object.entries(printed ?? derived) as [string, Printed][];
    test(`${source}: ${numbers.map(([name, { value }]) => `${name} ${value}`).join(', ')}`, () => {
      const about = 0.7 * (values.first + 2 * values.second) * values.capacitance;
      const calls = {
        high: 'width(out)',
        low: 'low(out)',
        frequency: 'frequency(out)',
        duty: 'duty(out)',
        period: 'period(out)',
      };
      // From the second period on: the first begins with an empty capacitor.
      const window = { from: 2 * about, until: 8 * about };
      const readings = readAll(
        boardOf(astable(values)),
        window,
        numbers.map(([name]) => calls[name as keyof typeof calls]),
      );
      for (const [i, [name, { value, within }]] of numbers.entries()) {
        expect(errorOf(readings[i]!.value as number, value, { scale: within }), name).toBeLessThanOrEqual(1);
      }
    });
  }
});

describe('published dividers', () => {
  for (const { source, printed, derived, ...values } of published.dividers) {
    const ratioAt = (period: number): unknown => {
      const wave = lowPulses(values.voltage, { period, width: period / 50 });
      const board = boardOf([...monostable(values), signal('G1', 'in', wave)]);
      return readAll(board, 40 * period, ['ratio(out, in)'])[0]!.value;
    };
    test(`${source}: divides by ${printed.ratio} for input periods of ${derived.shortest} s to ${derived.longest} s`, () => {
      const { shortest, longest } = derived;
      for (const period of [shortest, (shortest + longest) / 2, 0.999 * longest]) {
        expect(ratioAt(period)).toBe(printed.ratio);
      }
      // Outside, the ratio is the next one: the range is the one derived, to about 1 %.
      expect(ratioAt(0.985 * shortest)).toBe(printed.ratio + 1);
      expect(ratioAt(1.01 * longest)).toBe(printed.ratio - 1);
    });
  }
});

test('three published timers in sequence, coupled by 1 nF and 33 kΩ, follow one another for 1.10 s, 0.517 s and 1.62 s', () => {
  // TI-A Fig. 22 and 23: RA = RB = RC = 100 kΩ, CA 10 µF, CB 4.7 µF, CC 14.7 µF, coupling 1 nF and 33 kΩ, CONT 10 nF.
  const voltage = 5;
  const stage = (index: number, trigger: string, capacitance: number) => [
    timer(`U${index}`, {
      trigger,
      output: `out${index}`,
      threshold: `timing${index}`,
      discharge: `timing${index}`,
      control: `control${index}`,
    }),
    resistor(`R${index}`, 'rail', `timing${index}`, 100e3),
    capacitor(`C${index}`, `timing${index}`, 'ground', capacitance),
    capacitor(`K${index}`, `control${index}`, 'ground', 10e-9),
  ];
  const coupling = (index: number, from: string, to: string) => [
    capacitor(`CC${index}`, from, to, 1e-9),
    resistor(`RC${index}`, 'rail', to, 33e3),
  ];
  const parts = [
    supply(voltage),
    ...stage(1, 'in', 10e-6),
    ...coupling(1, 'out1', 'in2'),
    ...stage(2, 'in2', 4.7e-6),
    ...coupling(2, 'out2', 'in3'),
    ...stage(3, 'in3', 14.7e-6),
    signal('G1', 'in', lowPulses(voltage, { period: 10, width: 10e-3, delay: 3, count: 1 })),
  ];
  const trace = storedRun(parts, 8);
  // Both coupling capacitors start empty, so that the second and third timer fire once when the supply comes on; the last
  // times are those of the sequence. Tolerance: half of the last digit, and 0.13 % for 1.1 in place of ln 3.
  const last = (name: string): number => setTimes(trace, name).at(-1)!;
  expect(errorOf(last('U1'), 1.1, { scale: 0.005 })).toBeLessThanOrEqual(1);
  expect(errorOf(last('U2'), 0.517, { scale: 0.001 })).toBeLessThanOrEqual(1);
  expect(errorOf(last('U3'), 1.62, { scale: 0.007 })).toBeLessThanOrEqual(1);
  const starts = trace.events.filter(({ kind, time }) => kind === 'set' && time >= 3).map(({ part }) => part);
  expect(starts).toEqual(['U1', 'U2', 'U3']);
});
