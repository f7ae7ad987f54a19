import { describe, expect, test } from 'vitest';
import { errorOf } from '../../support/error-measure.ts';
import { eventsOf, secondsFrom, storedRun } from '../../support/stored-run.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';
import type { FilePart } from '../../support/run-board.ts';

/** A monostable on 9 V of R C = 1 ms, fed without resistance. */
function fed(
  wave: { period: number; width: number; delay: number; count?: number },
  more: Record<string, unknown>,
): FilePart[] {
  return [
    ...monostable({ voltage: 9, resistance: 10e3, capacitance: 100e-9, ofTimer: { with: more } }),
    signal('G1', 'in', lowPulses(9, wave), { resistance: 0 }),
  ];
}

const single = { period: 1, width: 1e-4, delay: 1e-3, count: 1 };

describe('timer delay', () => {
  test('the latch acts at once; output and discharge switch follow after the delay', () => {
    const trace = storedRun(fed(single, { delay: 2e-6 }), 4e-3);
    const [set, cleared] = eventsOf(trace, 'U1', 'set', 'cleared');
    const [rise, fall] = eventsOf(trace, 'U1', 'outputHigh', 'outputLow');
    expect(set!.time).toBe(1e-3);
    // Two-part times keep the delay itself to rounding.
    expect(errorOf(secondsFrom(set, rise), 2e-6)).toBeLessThanOrEqual(4 * Number.EPSILON);
    expect(errorOf(secondsFrom(cleared, fall), 2e-6)).toBeLessThanOrEqual(4 * Number.EPSILON);
  });

  test('the capacitor begins to charge after the delay, and charges on for the delay at the end', () => {
    const trace = storedRun(fed(single, { delay: 50e-6 }), 4e-3);
    const [set, cleared] = eventsOf(trace, 'U1', 'set', 'cleared');
    // The switch opens 50 us after the latch is set: ln 3 time constants from then.
    expect(errorOf(secondsFrom(set, cleared), 50e-6 + 1e-3 * Math.log(3))).toBeLessThanOrEqual(1e-12);
    // At the fall of the output: 9 (1 - exp(-ln 3 - 0.05)).
    const [, fall] = eventsOf(trace, 'U1', 'outputHigh', 'outputLow');
    const peak = trace.before({ net: 'timing' }, fall!.time);
    expect(errorOf(peak, 9 * (1 - Math.exp(-0.05) / 3))).toBeLessThanOrEqual(1e-12);
  });

  test('is a pure delay: changes faster than the delay all come out, as far apart as they went in', () => {
    const parts = fed({ period: 4e-6, width: 1e-6, delay: 1e-3, count: 3 }, { delay: 10e-6 }).map((part) =>
      part.name === 'U1' ? { ...part, pins: { ...(part['pins'] as object), reset: 'r' } } : part,
    );
    // RESET goes low 1 us after each trigger pulse has ended.
    const wave = { shape: 'pulses', period: 4e-6, width: 1e-6, rest: 9, pulse: 0, delay: 1.002e-3, count: 3 };
    const trace = storedRun([...parts, signal('G2', 'r', wave, { resistance: 0 })], 2e-3);
    const latch = eventsOf(trace, 'U1', 'set', 'cleared');
    const output = eventsOf(trace, 'U1', 'outputHigh', 'outputLow');
    expect(latch).toHaveLength(6);
    expect(output.map(({ kind }) => kind)).toEqual([
      'outputHigh',
      'outputLow',
      'outputHigh',
      'outputLow',
      'outputHigh',
      'outputLow',
    ]);
    output.forEach((event, k) => {
      expect(errorOf(secondsFrom(latch[k], event), 10e-6)).toBeLessThanOrEqual(4 * Number.EPSILON);
    });
  });
});

describe('timer minimum trigger width', () => {
  const minimum = 2 ** -20;

  test('a shorter pulse does nothing: low and high again, never set', () => {
    const trace = storedRun(fed({ ...single, width: 0.99 * minimum }, { minimumTrigger: minimum }), 4e-3);
    const kinds = eventsOf(trace, 'U1', 'triggerLow', 'triggerHigh', 'accepted', 'set').map(({ kind }) => kind);
    expect(kinds).toEqual(['triggerLow', 'triggerHigh']);
    expect(trace.at({ net: 'out' }, 2e-3)).toBe(0);
  });

  test('a longer pulse is accepted when it has been low for the minimum, and sets the latch then', () => {
    const trace = storedRun(fed({ ...single, width: 1.01 * minimum }, { minimumTrigger: minimum }), 4e-3);
    const [low] = eventsOf(trace, 'U1', 'triggerLow');
    const [accepted] = eventsOf(trace, 'U1', 'accepted');
    const [set] = eventsOf(trace, 'U1', 'set');
    expect(errorOf(secondsFrom(low, accepted), minimum)).toBeLessThanOrEqual(8 * Number.EPSILON);
    expect(secondsFrom(accepted, set)).toBe(0);
    expect(set!.cause).toBe('accepted');
  });

  test('a pulse of the minimum to the last bit is not shorter, so it acts', () => {
    const exact = { period: 1, width: minimum, delay: 2 ** -10, count: 1 };
    const trace = storedRun(fed(exact, { minimumTrigger: minimum }), 4e-3);
    expect(eventsOf(trace, 'U1', 'set')).toHaveLength(1);
  });

  test('pulses do not add up: any number of short ones do nothing', () => {
    const many = { period: minimum, width: 0.9 * minimum, delay: 1e-3, count: 200 };
    const trace = storedRun(fed(many, { minimumTrigger: minimum }), 4e-3);
    expect(eventsOf(trace, 'U1', 'triggerLow')).toHaveLength(200);
    expect(eventsOf(trace, 'U1', 'accepted', 'set')).toEqual([]);
  });

  test('minimum width and delay add: the output rises both after the pulse began', () => {
    const trace = storedRun(fed(single, { minimumTrigger: 1e-6, delay: 3e-6 }), 4e-3);
    const [low] = eventsOf(trace, 'U1', 'triggerLow');
    const [rise] = eventsOf(trace, 'U1', 'outputHigh');
    expect(errorOf(secondsFrom(low, rise), 4e-6)).toBeLessThanOrEqual(8 * Number.EPSILON);
  });

  test('a pulse accepted during RESET acts when RESET rises, if it is still low', () => {
    for (const [width, expected] of [
      [1.5e-3, 1],
      [0.5e-3, 0],
    ] as const) {
      const parts = fed({ ...single, width }, { minimumTrigger: 1e-6 }).map((part) =>
        part.name === 'U1' ? { ...part, pins: { ...(part['pins'] as object), reset: 'r' } } : part,
      );
      const wave = {
        shape: 'points',
        between: 'steps',
        points: [
          [0, 0],
          [2e-3, 9],
        ],
      };
      const trace = storedRun([...parts, signal('G2', 'r', wave, { resistance: 0 })], 4e-3);
      expect(eventsOf(trace, 'U1', 'set')).toHaveLength(expected);
    }
  });
});
