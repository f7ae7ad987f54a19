import { describe, expect, test } from 'vitest';
import { errorOf } from '../support/error-measure.ts';
import { boardOf, fatesOf, type FilePart, readAll } from '../support/run-board.ts';
import { eventsOf, setTimes, storedRun } from '../support/stored-run.ts';
import { lowPulses, monostable, signal } from '../support/timer-circuits.ts';

/**
 * What people who build timer boards know and teach: common practice, no source. All in the ideal family, where these
 * facts hold exactly; tolerances are 1e-12, some thousand roundings, with condition 1 (times in proportion to R and C,
 * the supply cancels).
 */
const TOLERANCE = 1e-12;

/** One interval of a monostable. */
function interval(voltage: number, resistance: number, capacitance: number): number {
  const about = 1.1 * resistance * capacitance;
  const wave = lowPulses(voltage, { period: 1, width: about / 100, delay: about / 2, count: 1 });
  return setTimes(
    storedRun([...monostable({ voltage, resistance, capacitance }), signal('G1', 'in', wave)], 3 * about),
  )[0]!;
}

describe('common practice, no source: the interval of a monostable', () => {
  test('ends on 9 V when the capacitor has reached 6 V', () => {
    const wave = lowPulses(9, { period: 1, width: 1e-3, delay: 0.1, count: 1 });
    const parts = [...monostable({ voltage: 9, resistance: 47e3, capacitance: 4.7e-6 }), signal('G1', 'in', wave)];
    const trace = storedRun(parts, 1);
    const [over] = eventsOf(trace, 'U1', 'thresholdOver');
    expect(errorOf([over!.value!, over!.limit!], [6, 6])).toBeLessThanOrEqual(TOLERANCE);
    expect(errorOf(trace.before({ net: 'timing' }, over!.time), 6)).toBeLessThanOrEqual(TOLERANCE);
  });

  test('is in proportion to the capacitance and to the resistance', () => {
    const one = interval(9, 10e3, 10e-6);
    expect(errorOf(interval(9, 10e3, 20e-6), 2 * one)).toBeLessThanOrEqual(TOLERANCE);
    expect(errorOf(interval(9, 10e3, 100e-6), 10 * one)).toBeLessThanOrEqual(TOLERANCE);
    expect(errorOf(interval(9, 20e3, 10e-6), 2 * one)).toBeLessThanOrEqual(TOLERANCE);
    expect(errorOf(interval(9, 100e3, 10e-6), 10 * one)).toBeLessThanOrEqual(TOLERANCE);
    expect(errorOf(interval(9, 5e3, 20e-6), one)).toBeLessThanOrEqual(TOLERANCE);
  });

  test('is the same on 5 V, 9 V, 12 V and 15 V', () => {
    const [five, ...others] = [5, 9, 12, 15].map((voltage) => interval(voltage, 68e3, 4.7e-6));
    expect(errorOf(others, [five!, five!, five!])).toBeLessThanOrEqual(TOLERANCE);
  });

  test('of 1.1 s swallows every second pulse of one a second', () => {
    // 100 kΩ and 10 µF, which people call 1.1 s.
    const parts = [
      ...monostable({ voltage: 9, resistance: 100e3, capacitance: 10e-6 }),
      signal('G1', 'in', lowPulses(9, { period: 1, width: 0.02, delay: 0.5 })),
    ];
    const board = boardOf(parts);
    const { pulses } = fatesOf(board, 12.2);
    const swallowed = ['started', 'ignored'];
    expect(pulses.map(({ fate }) => fate)).toEqual(Array.from({ length: 12 }, (_, i) => swallowed[i % 2]));
    expect(readAll(board, 12.2, ['ratio(out, in)'])[0]!.value).toBe(2);
  });
});

describe('common practice, no source: a 500 Hz square wave straight into TRIGGER', () => {
  const voltage = 9;
  const square: FilePart = signal(
    'G1',
    'in',
    { shape: 'square', frequency: 500, duty: 0.5, high: voltage, low: 0 },
    { resistance: 0 },
  );
  const circuit = (resistance: number, capacitance: number): FilePart[] => [
    ...monostable({ voltage, resistance, capacitance }),
    square,
  ];

  test('comes out inverted where the interval is short: TRIGGER low holds the output on, and at its rise the interval is over', () => {
    // 10 kΩ and 10 nF: 0.11 ms, much shorter than the 1 ms for which the input is low.
    const parts = circuit(10e3, 10e-9);
    const trace = storedRun(parts, 0.1);
    for (let k = 1; k < 99; k++) {
      const time = (k + 0.3) / 1000;
      expect(trace.at({ net: 'out' }, time)).toBe(voltage - trace.at({ net: 'in' }, time));
    }
    expect(readAll(boardOf(parts), { from: 0.01, until: 0.09 }, ['frequency(out)'])[0]!.value).toBeCloseTo(500, 9);
    // As the events tell it: every fall of the input sets the latch; at every rise TRIGGER lets go, THRESHOLD is found past
    // its limit at that instant, for the capacitor is charged already, and clears the latch.
    const story = trace.events.filter(({ part, time }) => part === 'U1' && time >= 2.5e-3 && time < 4.5e-3);
    expect(story.map(({ time, kind, cause }) => [Math.round(time * 1e6), kind, cause])).toEqual([
      [3000, 'triggerLow', undefined],
      [3000, 'set', 'triggerLow'],
      [3000, 'outputHigh', 'set'],
      [4000, 'triggerHigh', undefined],
      [4000, 'thresholdOver', undefined],
      [4000, 'cleared', 'thresholdOver'],
      [4000, 'outputLow', 'cleared'],
      // The discharge switch, told to close, finds a charged capacitor and conducts.
      [4000, 'piece', undefined],
    ]);
    const over = story.find(({ kind }) => kind === 'thresholdOver')!;
    // Charged for 1 ms, ten time constants: V (1 - exp(-10)), far above 2/3.
    expect(errorOf(over.value!, voltage * (1 - Math.exp(-10)))).toBeLessThanOrEqual(TOLERANCE);
    expect(errorOf(over.limit!, (2 * voltage) / 3)).toBeLessThanOrEqual(TOLERANCE);
    // Each pulse therefore started an interval and held the output past its end.
    const { pulses } = fatesOf(boardOf(parts), 0.0985);
    expect(new Set(pulses.map(({ fate }) => fate))).toEqual(new Set(['started']));
    for (const { heldFor } of pulses.slice(1)) {
      expect(errorOf(heldFor!, 1e-3 - Math.log(3) * 1e-4, { scale: 1e-3 })).toBeLessThanOrEqual(TOLERANCE);
    }
  });

  // The interval must end between two falls while the input is high: n - 1 periods and a half to n.
  for (const [frequency, ratio, resistance, capacitance] of [
    [62.5, 8, 140e3, 100e-9],
    [20, 25, 100e3, 447e-9],
  ] as const) {
    test(`comes out at ${frequency} Hz where the interval is ${ratio - 1} to ${ratio} of its periods`, () => {
      const parts = circuit(resistance, capacitance);
      const periods = (Math.log(3) * resistance * capacitance) / 2e-3;
      expect(periods).toBeGreaterThan(ratio - 0.5);
      expect(periods).toBeLessThan(ratio);
      const [f, n] = readAll(boardOf(parts), 1, ['frequency(out)', 'ratio(out, in)']);
      expect(errorOf(f!.value as number, frequency)).toBeLessThanOrEqual(TOLERANCE);
      expect(n!.value).toBe(ratio);
    });
  }
});
