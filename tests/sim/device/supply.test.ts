import { describe, expect, test } from 'vitest';
import { errorOf } from '../../support/error-measure.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

describe('supply', () => {
  test('sags under load by its resistance: V R / (R + Rs), its current counts from plus to minus', () => {
    const trace = storedRun([supply(9, { resistance: 10 }), resistor('R1', 'rail', 'ground', 80)], 1e-3);
    expect(errorOf(trace.at({ net: 'rail' }, 0), 8)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'BT1' }, 0), -0.1)).toBeLessThanOrEqual(1e-12);
  });

  test('steps at a time, and what hangs on it without resistance goes along', () => {
    const changes = [{ at: 0.5, voltage: 6, over: 0 }];
    const trace = storedRun([supply(9, { changes }), resistor('R1', 'rail', 'ground', 1e3)], 1);
    expect([trace.before({ net: 'rail' }, 0.5), trace.at({ net: 'rail' }, 0.5)]).toEqual([9, 6]);
    expect(eventsOf(trace, 'BT1', 'source').map(({ time }) => time)).toContain(0.5);
  });

  test('ramps in a straight line over a time, and stays', () => {
    const changes = [{ at: 0.5, voltage: 5, over: 0.25 }];
    const trace = storedRun([supply(9, { changes }), resistor('R1', 'rail', 'ground', 1e3)], 1);
    expect(errorOf(trace.at({ net: 'rail' }, 0.625), 7)).toBeLessThanOrEqual(1e-14);
    expect(errorOf(trace.at({ net: 'rail' }, 0.75), 5)).toBeLessThanOrEqual(1e-14);
    expect(errorOf(trace.at({ net: 'rail' }, 1), 5)).toBeLessThanOrEqual(1e-14);
  });

  test('several changes follow each other, each from where the one before ended', () => {
    const changes = [
      { at: 0.25, voltage: 5, over: 0 },
      { at: 0.5, voltage: 7, over: 0.25 },
      { at: 0.875, voltage: 9, over: 0 },
    ];
    const trace = storedRun([supply(9, { changes }), resistor('R1', 'rail', 'ground', 1e3)], 1);
    expect([0.1, 0.3, 0.625, 0.9].map((time) => trace.at({ net: 'rail' }, time))).toEqual([9, 5, 6, 9]);
    expect(errorOf(trace.before({ net: 'rail' }, 0.875), 7)).toBeLessThanOrEqual(1e-14);
  });

  test('a dip charges and discharges what hangs behind a resistor, in closed form', () => {
    // 10 ms time constant: ramp down by 3 V over 10 ms: x = 9 - 300 (t - T (1 - exp(-t/T))).
    const changes = [{ at: 0.1, voltage: 6, over: 0.01 }];
    const parts = [
      supply(9, { changes }),
      resistor('R1', 'rail', 'x', 10e3),
      capacitor('C1', 'x', 'ground', 1e-6, { initial: 9 }),
    ];
    const trace = storedRun(parts, 1);
    expect(errorOf(trace.at({ net: 'x' }, 0.05), 9)).toBeLessThanOrEqual(1e-13);
    const expected = 9 - 300 * (0.01 - 0.01 * (1 - Math.exp(-1)));
    expect(errorOf(trace.at({ net: 'x' }, 0.11), expected)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ net: 'x' }, 0.12), 6 + (expected - 6) / Math.E)).toBeLessThanOrEqual(1e-12);
  });

  test('a ramp of the supply moves the limits of a timer: its trigger reference meets 3 V when the supply is at 9 V', () => {
    const changes = [{ at: 0.1, voltage: 6, over: 0.2 }];
    const parts = [
      supply(12, { changes }),
      timer('U1', { trigger: 'in', threshold: 'ground', output: 'out' }),
      signal('G1', 'in', { shape: 'constant', level: 3 }, { resistance: 0 }),
    ];
    const trace = storedRun(parts, 1);
    const [low, high] = eventsOf(trace, 'U1', 'triggerLow', 'triggerHigh');
    expect(low).toMatchObject({ kind: 'triggerLow', time: 0 });
    // 12 V - 30 V/s (t - 0.1): 9 V at 0.2 s.
    expect(errorOf(high!.time, 0.2)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(high!.value!, 3)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(high!.limit!, 3)).toBeLessThanOrEqual(1e-12);
    // The output follows the supply down.
    expect(errorOf(trace.at({ net: 'out' }, 1), 6)).toBeLessThanOrEqual(1e-12);
  });
});

describe('signal', () => {
  test('stands behind its resistance, 50 ohm until stated', () => {
    const parts = [signal('G1', 'x', { shape: 'constant', level: 6 }), resistor('R1', 'x', 'ground', 100)];
    expect(errorOf(storedRun(parts, 1).at({ net: 'x' }, 0), 4)).toBeLessThanOrEqual(1e-12);
  });

  test('between two nets it raises one above the other', () => {
    const parts = [
      supply(9),
      { name: 'G1', kind: 'signal', plus: 'x', minus: 'rail', wave: { shape: 'constant', level: 2 }, resistance: 0 },
      resistor('R1', 'x', 'ground', 1e3),
    ];
    expect(errorOf(storedRun(parts, 1).at({ net: 'x' }, 0), 11)).toBeLessThanOrEqual(1e-14);
  });

  test('points joined by lines, with a jump, come out as they are', () => {
    const wave = {
      shape: 'points',
      between: 'lines',
      points: [
        [0, 0],
        [1, 4],
        [1, 8],
        [2, 6],
      ],
    };
    const parts = [signal('G1', 'x', wave, { resistance: 0 }), resistor('R1', 'x', 'ground', 1e3)];
    const trace = storedRun(parts, 3);
    expect(errorOf(trace.at({ net: 'x' }, 0.5), 2)).toBeLessThanOrEqual(1e-14);
    expect(errorOf(trace.before({ net: 'x' }, 1), 4)).toBeLessThanOrEqual(1e-14);
    expect(errorOf(trace.at({ net: 'x' }, 1), 8)).toBeLessThanOrEqual(1e-14);
    expect(errorOf(trace.at({ net: 'x' }, 2.5), 6)).toBeLessThanOrEqual(1e-14);
  });
});
