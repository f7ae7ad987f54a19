import { describe, expect, test } from 'vitest';
import { simulate } from '#sim/run/run.ts';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, signal, supply, upAndDown } from '../../support/timer-circuits.ts';

const values = { drive: '100 µA', forward: 0.65, saturation: 0.1, slope: 5 };

/** An npn `T1` on ground that pulls the net `x` down. */
function npn(more: Record<string, unknown> = {}): FilePart {
  return { name: 'T1', kind: 'transistor', base: 'b', collector: 'x', emitter: 'ground', ...values, ...more };
}

describe('transistor', () => {
  test('above its drive it saturates: I = (V - saturation) / (R + slope)', () => {
    // Closed forms: 4.35 V over 10 kohm and 5 ohm at the base, 8.9 V over 1 kohm and 5 ohm at the collector.
    const trace = storedRun(
      [
        supply(9),
        signal('G1', 'in', { shape: 'constant', level: 5 }, { resistance: 0 }),
        resistor('R1', 'in', 'b', 10e3),
        resistor('R2', 'rail', 'x', 1e3),
        npn(),
      ],
      1e-3,
    );
    expect(errorOf(trace.at({ current: 'T1' }, 5e-4), 8.9 / 1005)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ net: 'x' }, 5e-4), 0.1 + (5 * 8.9) / 1005)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'R1' }, 5e-4), 4.35 / 10005)).toBeLessThanOrEqual(1e-12);
  });

  test('below its drive it is open, although its base conducts', () => {
    const trace = storedRun(
      [supply(9), resistor('R1', 'rail', 'b', 100e3), resistor('R2', 'rail', 'x', 1e3), npn()],
      1e-3,
    );
    expect(trace.at({ current: 'T1' }, 5e-4)).toBe(0);
    expect(trace.at({ net: 'x' }, 5e-4)).toBe(9);
    expect(errorOf(trace.at({ current: 'R1' }, 5e-4), 8.35 / 100005)).toBeLessThanOrEqual(1e-12);
  });

  test('as the base current passes its drive it closes, at half the drive it opens, each once and with its value', () => {
    const wave = upAndDown(5);
    const trace = storedRun(
      [
        supply(9),
        signal('G1', 'in', wave, { resistance: 0 }),
        resistor('R1', 'in', 'b', 9995),
        resistor('R2', 'rail', 'x', 1e3),
        npn(),
      ],
      3,
    );
    const [close, open, ...others] = eventsOf(trace, 'T1', 'close', 'open');
    expect(others).toEqual([]);
    // 0.65 V + 10 kohm times 100 uA = 1.65 V, which 5 V/s reaches at 0.33 s; with 50 uA 1.15 V, on the way back at 1.77 s.
    expect(close).toMatchObject({ kind: 'close', limit: 1e-4 });
    expect(open).toMatchObject({ kind: 'open', limit: 5e-5 });
    expect(errorOf(close!.time, 0.33)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(open!.time, 1.77)).toBeLessThanOrEqual(1e-12);
    expect(close!.value).toBeCloseTo(1e-4, 15);
    expect(open!.value).toBeCloseTo(5e-5, 15);
    expect(trace.at({ net: 'x' }, 0.32)).toBe(9);
    expect(trace.at({ net: 'x' }, 0.34)).toBeLessThan(0.2);
  });

  test('a pnp at the rail does the same the other way round; its current from collector to emitter is negative', () => {
    const parts = [
      supply(9),
      resistor('R1', 'b', 'ground', 10e3),
      resistor('R2', 'x', 'ground', 1e3),
      npn({ polarity: 'pnp', emitter: 'rail' }),
    ];
    const trace = storedRun(parts, 1e-3);
    expect(errorOf(trace.at({ current: 'T1' }, 5e-4), -8.9 / 1005)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ net: 'x' }, 5e-4), 8900 / 1005)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'R1' }, 5e-4), 8.35 / 10005)).toBeLessThanOrEqual(1e-12);
  });

  test('saturated it still carries nothing from emitter to collector', () => {
    const trace = storedRun(
      [
        supply(-9),
        signal('G1', 'b', { shape: 'constant', level: 5 }, { resistance: 1e3 }),
        resistor('R2', 'rail', 'x', 1e3),
        npn(),
      ],
      1e-3,
    );
    expect(trace.at({ current: 'T1' }, 5e-4)).toBe(0);
    expect(trace.at({ net: 'x' }, 5e-4)).toBe(-9);
  });

  test('empties a capacitor down to its saturation voltage: exp(-t / (slope C))', () => {
    const wave = { shape: 'pulses', period: 10, width: 1e-3, rest: 0, pulse: 5, delay: 1e-3, count: 1 };
    const trace = storedRun(
      [signal('G1', 'b', wave, { resistance: 1e3 }), capacitor('C1', 'x', 'ground', 10e-6, { initial: 6 }), npn()],
      5e-3,
    );
    expect(errorOf(trace.at({ net: 'x' }, 0.9e-3), 6)).toBeLessThanOrEqual(1e-12);
    // 5 ohm times 10 uF is 50 us; 0.1 ms is two of them.
    expect(errorOf(trace.at({ net: 'x' }, 1.1e-3), 0.1 + 5.9 * Math.exp(-2))).toBeLessThanOrEqual(1e-11);
    const end = trace.at({ net: 'x' }, 2.5e-3);
    expect(end).toBeCloseTo(0.1, 6);
    expect(trace.at({ net: 'x' }, 4.5e-3)).toBe(end);
  });

  test('watches for missing pulses: each pulse empties the timing capacitor, so the interval runs out only without them', () => {
    // Common practice, no source: a pnp beside the capacitor, worked by the same pulses that trigger the timer.
    const run = simulate(
      {
        parts: [
          supply(9),
          signal('G1', 'in', {
            shape: 'pulses',
            period: 0.05,
            width: 0.005,
            rest: 9,
            pulse: 0,
            delay: 0.01,
            count: 10,
          }),
          resistor('R1', 'rail', 'timing', 68e3),
          capacitor('C1', 'timing', 'ground', 1e-6),
          resistor('R2', 'in', 'b', 10e3),
          {
            name: 'T1',
            kind: 'transistor',
            polarity: 'pnp',
            base: 'b',
            emitter: 'timing',
            collector: 'ground',
            ...values,
            drive: '10 µA',
          },
          {
            name: 'U1',
            kind: 'timer',
            family: 'ideal',
            pins: {
              supply: 'rail',
              ground: 'ground',
              trigger: 'in',
              threshold: 'timing',
              discharge: 'timing',
              output: 'out',
            },
          },
        ],
      },
      { until: 1 },
    );
    expect(run.outcome.ok).toBe(true);
    // One interval: from the first pulse to the end of the wait after the tenth, about 0.465 s + 1.1 R C.
    expect(run.read('count(out)').value).toBe(1);
    const width = run.read('width(out)').value as number;
    expect(width).toBeGreaterThan(0.45 + 0.068);
    expect(width).toBeLessThan(0.455 + 1.0987 * 0.068);
  });

  test('gain and drive together are refused, since a gain decides when it saturates', () => {
    const both = npn({ gain: 100 });
    expect(() =>
      simulate(
        { parts: [supply(9), resistor('R1', 'rail', 'b', 1e4), resistor('R2', 'rail', 'x', 1e3), both] },
        { until: 1 },
      ),
    ).toThrow(/^T1: drive must be left out where gain is stated; got 100\sµA\. State one of the two/);
  });

  test.each([0, -1, 1e6, 'many'])('a gain of %s is refused', (gain) => {
    const one = { ...npn({ gain }), drive: undefined };
    expect(() => simulate({ parts: [supply(9), resistor('R1', 'rail', 'b', 1e4), one] }, { until: 1 })).toThrow(
      'T1: gain must be a number above 0 and at most 100000; got',
    );
  });
});
