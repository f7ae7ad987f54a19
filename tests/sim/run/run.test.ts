import { expect, test } from 'vitest';
import { IssueError } from '#sim/core/errors.ts';
import { simulate } from '#sim/run/run.ts';

const parts = [
  { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V' },
  { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '100k' },
  { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '1 µF' },
  {
    name: 'U1',
    kind: 'timer',
    family: 'ideal',
    pins: { supply: 'rail', ground: 'ground', trigger: 'in', threshold: 'timing', discharge: 'timing', output: 'out' },
  },
  {
    name: 'G1',
    kind: 'signal',
    plus: 'in',
    minus: 'ground',
    wave: { shape: 'pulses', period: '50 ms', width: '2 ms', rest: '9 V', pulse: '0 V', delay: '10 ms' },
  },
];

/** R C ln 3 of the circuit above (s): the closed form of a monostable that starts from an empty capacitor. */
const interval = 0.1 * Math.log(3);

test('simulate() answers at any time, exactly, on both sides of a jump', () => {
  const run = simulate({ parts }, { until: '1 s' });
  expect(run.outcome).toMatchObject({ code: 'reached', ok: true, time: 1 });
  // 9 V (1 - exp(-t/RC)), 0.05 s after the start; a few roundings of volts.
  expect(run.trace('timing').at(0.06)).toBeCloseTo(9 * (1 - Math.exp(-0.5)), 13);
  const end = run.events.find((event) => event.kind === 'cleared')!.time;
  expect(end).toBeCloseTo(0.01 + interval, 15);
  expect(run.trace('timing').before(end)).toBeCloseTo(6, 13);
  expect(run.trace('timing').at(end)).toBe(0);
  expect(run.trace('current(R1)').at(end)).toBeCloseTo(9e-5, 18);
});

test('simulate() lists edges, fates and readings of the same run', () => {
  const run = simulate({ parts }, { until: 1 });
  const [rise, fall] = run.trace('out').edges();
  expect(rise).toEqual({ time: 0.01, to: 'high' });
  expect(fall!.time - rise!.time).toBeCloseTo(interval, 14);
  expect(run.read('ratio(out, in)').value).toBe(3);
  const { counts, pulses } = run.fates('U1');
  expect(pulses.slice(0, 4).map((pulse) => pulse.fate)).toEqual(['started', 'ignored', 'ignored', 'started']);
  expect(counts).toMatchObject({ started: 7, ignored: 13, held: 0, short: 0, barred: 0 });
});

test('simulate() counts edges at half of what a supply comes up to, where it begins at 0 V', () => {
  const changes = [{ at: 0, voltage: '9 V', over: '5 ms' }];
  const slow = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 0, changes };
  const run = simulate({ parts: parts.map((part) => (part.name === 'BT1' ? slow : part)) }, { until: '1 s' });
  // The rail passes 4.5 V half way up, to a rounding of the voltage (1e-16 of 9 V at 1800 V/s).
  const [rise, ...others] = run.trace('rail').edges();
  expect(rise?.to).toBe('high');
  expect(rise?.time).toBeCloseTo(0.0025, 15);
  expect(others).toEqual([]);
});

test('simulate() refuses a faulty circuit with every fault, and an end that is no time', () => {
  const faulty = parts.map((part) => (part.name === 'R1' ? { ...part, resistance: '5 V' } : part));
  expect(() => simulate({ parts: faulty }, { until: 1 })).toThrow(IssueError);
  expect(() => simulate({ parts }, { until: '-2 s' })).toThrow('until must be 0 s or more');
  expect(() => simulate({ parts }, { until: 'soon' })).toThrow('until must be a time');
});
