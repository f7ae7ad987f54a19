import { extremes } from '#sim/core/exponential-sum.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SignalSum } from '#sim/trace/signal-sum.ts';
import { spread } from '../../support/arbitrary-numbers.ts';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { capacitor, lowPulses, monostable, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

/** A cleared timer, so that its discharge switch is closed onto a capacitor that starts charged. */
function emptying(initial: number, capacitance: number, parameters: Record<string, unknown>): FilePart[] {
  return [
    supply(9),
    timer('U1', { trigger: 'rail', output: 'out', threshold: 'ground', discharge: 'pin' }, { with: parameters }),
    capacitor('C1', 'pin', 'ground', capacitance, { initial }),
  ];
}

function pinAt(parts: readonly FilePart[], time: number): number {
  return storedRun(parts, Math.max(time, 1e-9)).at({ net: 'pin' }, time);
}

describe('timer discharge', () => {
  test('an ideal switch empties a capacitor in an instant', () => {
    expect(pinAt(emptying(8, 1e-6, {}), 0)).toBe(0);
  });

  test('with a resistance it empties by exp(-t / R C)', () => {
    const parts = emptying(8, 1e-6, { dischargeResistance: 20 });
    expect(errorOf(pinAt(parts, 50e-6), 8 * Math.exp(-2.5))).toBeLessThanOrEqual(1e-12);
  });

  test('it stops at its saturation voltage, with and without resistance', () => {
    expect(pinAt(emptying(8, 1e-6, { dischargeSaturation: 0.125 }), 0)).toBe(0.125);
    const parts = emptying(8, 1e-6, { dischargeSaturation: 0.125, dischargeResistance: 20 });
    expect(errorOf(pinAt(parts, 60e-6), 0.125 + 7.875 * Math.exp(-3))).toBeLessThanOrEqual(1e-12);
    expect(pinAt(parts, 1)).toBeCloseTo(0.125, 12);
  });

  test('against a pull-up it rests at (V Ron + Vsat R) / (R + Ron)', () => {
    const parts = [
      ...emptying(0, 1e-6, { dischargeSaturation: 0.1, dischargeResistance: 20 }),
      resistor('R1', 'rail', 'pin', 980),
    ];
    expect(errorOf(pinAt(parts, 1), (9 * 20 + 0.1 * 980) / 1000)).toBeLessThanOrEqual(1e-12);
  });

  test('one way only: it never charges a capacitor that is emptier than the saturation voltage', () => {
    for (const initial of [0, 0.05, -1]) {
      for (const dischargeResistance of [0, 20]) {
        const parts = emptying(initial, 1e-6, { dischargeSaturation: 0.125, dischargeResistance });
        for (const time of [0, 1e-6, 1]) expect(pinAt(parts, time)).toBe(initial);
      }
    }
  });

  test('limited to dischargeCurrent: a straight line down to Vsat + Ron I, then exp(-t / Ron C)', () => {
    // 150 mA out of 1000 uF: 150 V/s. The corner is at 0.1 + 10 * 0.15 = 1.6 V, reached after (8 - 1.6) / 150 s.
    const parts = emptying(8, 1e-3, { dischargeSaturation: 0.1, dischargeResistance: 10, dischargeCurrent: 0.15 });
    const corner = (8 - 1.6) / 150;
    expect(errorOf(pinAt(parts, 0.02), 8 - 150 * 0.02)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(pinAt(parts, corner), 1.6)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(pinAt(parts, corner + 0.01), 0.1 + 1.5 * Math.exp(-1))).toBeLessThanOrEqual(1e-12);
    const trace = storedRun(parts, 0.1);
    expect(errorOf(trace.at({ current: 'C1' }, 0.01), -0.15)).toBeLessThanOrEqual(1e-12);
  });

  test('limited without resistance: a straight line down to the saturation voltage', () => {
    const parts = emptying(8, 1e-3, { dischargeSaturation: 0.5, dischargeCurrent: 0.15 });
    expect(errorOf(pinAt(parts, 0.02), 5)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(pinAt(parts, 0.05), 0.5)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(pinAt(parts, 1), 0.5)).toBeLessThanOrEqual(1e-12);
  });

  test('a limited switch against a stronger pull-up does not get the capacitor down', () => {
    // The pull-up gives (9 - v) / 20 ohm; the switch takes 150 mA: rest at 9 - 3 = 6 V.
    const parts = [...emptying(0, 1e-5, { dischargeCurrent: 0.15 }), resistor('R1', 'rail', 'pin', 20)];
    expect(errorOf(pinAt(parts, 1), 6)).toBeLessThanOrEqual(1e-12);
  });

  test('a large capacitor needs time to empty, so a quick second trigger gives a shorter pulse', () => {
    // 1000 uF charged to 6 V, emptied by 150 mA for 10 ms (down by 1.5 V less what R gives): the second interval begins
    // from there. Check: T2 = R C ln((9 - v0) / 3), v0 as the run itself shows it at the second trigger.
    const parts = [
      ...monostable({
        voltage: 9,
        resistance: 1e3,
        capacitance: 1e-3,
        ofTimer: { with: { dischargeSaturation: 0.1, dischargeResistance: 10, dischargeCurrent: 0.15 } },
      }),
      signal('G1', 'in', lowPulses(9, { period: Math.log(3) + 0.2, width: 1e-3, delay: 0.1 }), { resistance: 0 }),
    ];
    const trace = storedRun(parts, 4);
    const sets = trace.events.filter(({ kind }) => kind === 'set' || kind === 'cleared');
    const [, , second, end] = sets;
    const start = trace.at({ net: 'timing' }, second!.time);
    expect(start).toBeGreaterThan(0.1);
    expect(errorOf(end!.time - second!.time, Math.log((9 - start) / 3))).toBeLessThanOrEqual(1e-12);
    expect(end!.time - second!.time).toBeLessThan(sets[1]!.time - sets[0]!.time);
  });

  test('off, it leaks dischargeLeakage into the pin, fading below half a volt, never below 0 V', () => {
    const parts = [
      supply(9),
      timer(
        'U1',
        { trigger: 'ground', output: 'out', threshold: 'ground', discharge: 'pin' },
        { start: 'set', with: { dischargeLeakage: 1e-6 } },
      ),
      capacitor('C1', 'pin', 'ground', 1e-6, { initial: 8 }),
    ];
    // 1 uA out of 1 uF: 1 V/s, straight down to 0.5 V, then exp(-t / 0.5 s).
    expect(errorOf(pinAt(parts, 5), 3)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(pinAt(parts, 8.5), 0.5 * Math.exp(-2))).toBeLessThanOrEqual(1e-12);
    expect(pinAt(parts, 1000)).toBeGreaterThanOrEqual(0);
  });

  test('whatever its parameters, it takes the pin down and never up, and never below the saturation voltage', () => {
    const parameters = fc.record({
      dischargeSaturation: fc.constantFrom(0, 0.037, 0.2),
      dischargeResistance: fc.oneof(fc.constant(0), spread(1, 100)),
      dischargeCurrent: fc.oneof(fc.constant('unlimited'), spread(0.01, 1)),
    });
    fc.assert(
      fc.property(
        parameters,
        fc.integer({ min: -100, max: 1600 }),
        spread(1e-9, 1e-3),
        (fields, hundredths, capacitance) => {
          const initial = hundredths / 100;
          const trace = storedRun(emptying(initial, capacitance, fields), 1);
          const floor = Math.min(initial, fields.dischargeSaturation);
          const sum = new SignalSum();
          let last = initial;
          trace.replay({
            segment(view) {
              sum.load(view, trace.signals.nets.indexOf('pin'));
              const { low, high } = extremes(sum, 0, view.length);
              expect(low).toBeGreaterThanOrEqual(floor - 1e-12);
              expect(high).toBeLessThanOrEqual(last + 1e-12);
              last = high;
            },
          });
        },
      ),
    );
  });
});
