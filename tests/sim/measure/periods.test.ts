import fc from 'fast-check';
import { expect, test } from 'vitest';
import { faultObserver } from '#sim/measure/faults.ts';
import { edgeObserver } from '#sim/measure/edges.ts';
import { fateObserver } from '#sim/measure/fates.ts';
import { flashObserver } from '#sim/measure/flashes.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { readingObserver } from '#sim/measure/reading-observer.ts';
import type { Envelope } from '#sim/trace/column-envelope.ts';
import { envelopeObserver } from '#sim/trace/envelope-observer.ts';
import { highLevel, runCircuit, timersOf } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { astable, lamp, lowPulses, monostable, resistor, signal } from '../../support/timer-circuits.ts';

const TAKEN = [
  'width(out)',
  'low(out)',
  'period(out)',
  'frequency(out)',
  'duty(out)',
  'count(out)',
  'count(out, fall)',
  'first(out)',
  'ratio(out, in)',
  'delay(in, out)',
  'peak(timing)',
  'trough(timing)',
  'mean(timing)',
  'current(R1)',
  'current(C1)',
  'peak_current(R1)',
  'power(R1)',
  'light(D1)',
];

/** All that can be read of a run, with periods counted or gone through. */
function seen(parts: readonly FilePart[], window: { from: number; until: number }, countPeriods: boolean): unknown {
  const circuit = circuitOf(parts);
  const timers = timersOf(circuit);
  const context = { circuit, timers, highLevel: highLevel(circuit) };
  const readings = TAKEN.map((text) => readingObserver(parseReading(text), context, window));
  const fates = fateObserver(timers[0]!, window, { most: 5 });
  const allFates = fateObserver(timers[0]!, window);
  const edges = edgeObserver('out', highLevel(circuit), window);
  // Columns shorter than a period, and columns of hundreds of periods.
  const [columns, wide] = [700, 7].map((count) =>
    envelopeObserver([{ net: 'timing' }, { net: 'out' }, { net: 'rail' }], { ...window, columns: count }),
  );
  const faults = faultObserver(circuit, window);
  const flashes = flashObserver(circuit, window);
  const traces = [allFates, edges, columns!, wide!];
  const observers = [...readings, fates, faults, flashes, ...traces];
  const outcome = runCircuit(circuit, {
    until: window.until,
    observers,
    faults: true,
    countPeriods,
    maxEvents: countPeriods ? 1e5 : 1e7,
  });
  return {
    outcome,
    readings: Object.fromEntries(readings.map((reading, i) => [TAKEN[i]!, reading.result()])),
    fates: fates.result(),
    traces: traces.map((each) => each.result()),
    faults: faults.result(),
    flashes: flashes.result(),
  };
}

/** Equal texts and counts; other numbers to 1e-11, which is what sums of thousands of rounded terms may differ by. */
function expectAlike(a: unknown, b: unknown, path = ''): void {
  if (typeof a === 'number' && typeof b === 'number' && !Number.isInteger(a)) {
    expect(Math.abs(a - b), `${path}: ${a} against ${b}`).toBeLessThanOrEqual(1e-11 * Math.abs(a));
  } else if (typeof a === 'object' && a !== null && typeof b === 'object' && b !== null) {
    expect(Object.keys(b), path).toEqual(Object.keys(a));
    for (const [key, value] of Object.entries(a))
      expectAlike(value, (b as Record<string, unknown>)[key], `${path}.${key}`);
  } else expect(b, path).toEqual(a);
}

const load = [resistor('R5', 'out', 'lit', 470), lamp('D1', 'lit', 'ground')];

function divider(family: string, resistance: number, width: number): FilePart[] {
  return [
    ...monostable({ voltage: 9, resistance, capacitance: 1e-7, ofTimer: { family } }),
    ...load,
    signal('G1', 'in', lowPulses(9, { period: 1e-3, width })),
  ];
}

function flasher(family: string, second: number): FilePart[] {
  return [
    ...astable({ voltage: 9, first: 10e3, second, capacitance: 1e-7, ofTimer: { family } }),
    ...load,
    signal('G1', 'in', { shape: 'constant', level: 9 }),
    resistor('R6', 'in', 'ground', 1e6),
  ];
}

test.each(['ideal', 'bipolar', 'cmos'])(
  'readings, fates and faults of counted periods are those of the plain run, %s family',
  { timeout: 120_000 },
  (family) => {
    fc.assert(
      fc.property(
        fc.double({ min: 3.3, max: 4.8, noNaN: true }),
        fc.double({ min: 0.05, max: 0.9, noNaN: true }),
        fc.constantFrom(0, 0.3),
        (decade, share, from) => {
          for (const parts of [divider(family, 10 ** decade, share * 1e-3), flasher(family, 10 ** decade)]) {
            const window = { from, until: 3.0004 };
            expectAlike(seen(parts, window, false), seen(parts, window, true));
          }
        },
      ),
      { numRuns: 3 },
    );
  },
);

test('readings of 10^12 pulses are exact, and their trace is in columns', () => {
  const { outcome, readings, fates, traces } = seen(divider('ideal', 22e3, 1e-4), { from: 0, until: 1e9 }, true) as {
    outcome: { code: string };
    readings: Record<string, { value: number }>;
    fates: { counts: Record<string, number>; explanation: string };
    traces: [{ pulses: unknown[]; cut: boolean }, { edges: unknown[]; cut: boolean }, Envelope[], Envelope[]];
  };
  expect(outcome.code).toBe('reached');
  // 22 kohm x 100 nF x ln 3 = 2.417 ms: every third pulse starts an interval; the last starter is pulse 10^12 - 1.
  expect(readings['ratio(out, in)']!.value).toBe(3);
  expect(readings['count(out)']!.value).toBe(333_333_333_334);
  expect(fates.counts).toMatchObject({ started: 333_333_333_334, ignored: 666_666_666_666 });
  expect(Math.abs(readings['width(out)']!.value / (22e3 * 1e-7 * Math.log(3)) - 1)).toBeLessThan(1e-12);
  expect(fates.explanation).toContain('3');
  const [pulses, edges, [timing, out, rail]] = traces;
  expect([pulses.pulses.length, pulses.cut, edges.edges.length, edges.cut]).toEqual([10_000, true, 100_000, true]);
  // In a week and a half the capacitor goes from empty to two thirds of 9 V and back some 10^9 times, the output from 0 V to
  // 9 V; the last column is as full as all others.
  expect([timing!.low.length, out!.low.length, rail!.low.length]).toEqual([700, 700, 700]);
  for (let column = 0; column < 700; column++) {
    expect(timing!.low[column]).toBeCloseTo(0, 9);
    expect(timing!.high[column]).toBeCloseTo(6, 9);
    expect([out!.low[column], out!.high[column], rail!.low[column], rail!.high[column]]).toEqual([0, 9, 9, 9]);
  }
});
