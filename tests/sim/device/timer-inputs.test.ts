import { extremes } from '#sim/core/exponential-sum.ts';
import { SignalSum } from '#sim/trace/signal-sum.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread } from '../../support/arbitrary-numbers.ts';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, supply, timer } from '../../support/timer-circuits.ts';

/** A timer with one input pin on the net `pin` and all others out of the way. */
function withPin(
  pin: 'threshold' | 'trigger' | 'reset',
  parameters: Record<string, unknown>,
  ...more: FilePart[]
): FilePart[] {
  const pins = { trigger: 'rail', threshold: 'ground', output: 'out', reset: 'rail', [pin]: 'pin' };
  return [supply(9), timer('U1', pins, { with: parameters }), ...more];
}

function pinAt(parts: readonly FilePart[], time: number): number {
  return storedRun(parts, time).at({ net: 'pin' }, time);
}

describe('timer input currents', () => {
  test('THRESHOLD takes its current through a resistor from the rail: V - I R', () => {
    const parts = withPin('threshold', { thresholdCurrent: 250e-9 }, resistor('R1', 'rail', 'pin', 10e6));
    expect(errorOf(pinAt(parts, 1), 9 - 2.5)).toBeLessThanOrEqual(1e-12);
  });

  test('TRIGGER gives its current through a resistor to ground: I R', () => {
    const parts = withPin('trigger', { triggerCurrent: 0.5e-6 }, resistor('R1', 'pin', 'ground', 4e6));
    expect(errorOf(pinAt(parts, 1), 2)).toBeLessThanOrEqual(1e-12);
  });

  test('RESET pulls up towards two junctions: its current at 0 V is as published, and none flows above 1.4 V', () => {
    // 1.4 V / 0.4 mA = 3.5 kohm inside; with 3.5 kohm to ground the pin is half of it.
    const low = withPin('reset', { resetCurrent: 0.4e-3 }, resistor('R1', 'pin', 'ground', 3.5e3));
    expect(errorOf(pinAt(low, 1), 0.7)).toBeLessThanOrEqual(1e-12);
    const high = withPin('reset', { resetCurrent: 0.4e-3 }, resistor('R1', 'rail', 'pin', 1e6));
    expect(pinAt(high, 1)).toBe(9);
  });

  test('RESET lets go again once it has risen past its two junctions', () => {
    // Current-free above 1.4 V: the capacitor ends at the rail, not at a divider of 3.5 kohm and 1 kohm.
    const parts = withPin(
      'reset',
      { resetCurrent: 0.4e-3 },
      resistor('R1', 'rail', 'pin', 1e3),
      capacitor('C1', 'pin', 'ground', 1e-6, { initial: 0 }),
    );
    expect(errorOf(pinAt(parts, 0.1), 9)).toBeLessThanOrEqual(1e-12);
  });

  test('a timer whose RESET is joined to nothing runs, whatever current the pin would give', () => {
    const { pins, ...fields } = timer('U1', { trigger: 'ground', threshold: 'ground', output: 'out' });
    const { reset: _, ...joined } = pins as Record<string, string>;
    const alone: FilePart = { ...fields, pins: joined, with: { resetCurrent: 0.4e-3 } };
    const parts = [supply(9), alone, resistor('R1', 'out', 'ground', 1e3)];
    expect(storedRun(parts, 1).at({ net: 'out' }, 1)).toBeGreaterThan(8);
  });

  test('the threshold current empties a capacitor in a straight line, fading over the last half volt to 0 V', () => {
    const parts = withPin(
      'threshold',
      { thresholdCurrent: 1e-6 },
      capacitor('C1', 'pin', 'ground', 1e-6, { initial: 5 }),
    );
    expect(errorOf(pinAt(parts, 3), 2)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(pinAt(parts, 5.5), 0.5 * Math.exp(-2))).toBeLessThanOrEqual(1e-12);
  });

  test('the trigger current charges a capacitor in a straight line, fading over the last half volt to the supply', () => {
    const parts = withPin('trigger', { triggerCurrent: 1e-6 }, capacitor('C1', 'pin', 'ground', 1e-6, { initial: 4 }));
    expect(errorOf(pinAt(parts, 3), 7)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(pinAt(parts, 5.5), 9 - 0.5 * Math.exp(-2))).toBeLessThanOrEqual(1e-12);
  });

  test('a pin past its rail already gets none', () => {
    const below = withPin(
      'threshold',
      { thresholdCurrent: 1e-6 },
      capacitor('C1', 'pin', 'ground', 1e-6, { initial: -2 }),
    );
    expect(pinAt(below, 10)).toBe(-2);
    const above = withPin('trigger', { triggerCurrent: 1e-6 }, capacitor('C1', 'pin', 'ground', 1e-6, { initial: 11 }));
    expect(pinAt(above, 10)).toBe(11);
  });

  test('no pin is ever driven past a rail by its own current, whatever hangs on it', () => {
    const pins = fc.constantFrom('threshold', 'trigger', 'reset');
    const ends = fc.constantFrom('rail', 'ground');
    fc.assert(
      fc.property(
        pins,
        ends,
        spread(1e3, 1e9),
        spread(1e-12, 1e-6),
        spread(1e-11, 1e-3),
        spread(0.1, 1e3),
        fc.integer({ min: 0, max: 9 }),
        (pin, end, ohms, farads, current, until, initial) => {
          const parts = withPin(
            pin,
            { [`${pin}Current`]: current },
            resistor('R1', end, 'pin', ohms),
            capacitor('C1', 'pin', 'ground', farads, { initial }),
          );
          const trace = storedRun(parts, until);
          const sum = new SignalSum();
          trace.replay({
            segment(view) {
              const { low, high } = extremes(sum.load(view, trace.signals.nets.indexOf('pin')), 0, view.length);
              expect(low).toBeGreaterThanOrEqual(-1e-11);
              expect(high).toBeLessThanOrEqual(9 + 1e-11);
            },
          });
        },
      ),
    );
  });
});

describe('timer divider', () => {
  test('three equal resistors: CONTROL at two thirds, the trigger reference at one', () => {
    const trace = storedRun(withPin('trigger', {}, resistor('R1', 'rail', 'pin', 1e3)), 1);
    expect(errorOf(trace.at({ net: 'U1.control' }, 1), 6)).toBeLessThanOrEqual(1e-15);
    expect(errorOf(trace.at({ net: 'U1.lower' }, 1), 3)).toBeLessThanOrEqual(1e-15);
  });

  test('a load on CONTROL moves both: 10 kohm to ground beside twice 5 kohm', () => {
    const parts = withPin('trigger', {}, resistor('R1', 'rail', 'pin', 1e3)).map((part) =>
      part.kind === 'timer' ? { ...part, pins: { ...(part['pins'] as object), control: 'control' } } : part,
    );
    const trace = storedRun([...parts, resistor('R2', 'control', 'ground', 10e3)], 1);
    // 5 kohm against 10 kohm beside 10 kohm: 9 V half and half.
    expect(errorOf(trace.at({ net: 'control' }, 1), 4.5)).toBeLessThanOrEqual(1e-15);
    expect(errorOf(trace.at({ net: 'U1.lower' }, 1), 2.25)).toBeLessThanOrEqual(1e-15);
  });

  test('takes V / (3 R) from the supply', () => {
    const trace = storedRun(withPin('trigger', { dividerResistance: 100e3 }, resistor('R1', 'rail', 'pin', 1e3)), 1);
    expect(errorOf(trace.at({ current: 'BT1' }, 1), -9 / 300e3)).toBeLessThanOrEqual(1e-12);
  });
});
