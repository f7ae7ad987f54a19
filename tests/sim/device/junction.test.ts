import { describe, expect, test } from 'vitest';
import { errorOf } from '../../support/error-measure.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, diode, lamp, resistor, signal, supply, upAndDown } from '../../support/timer-circuits.ts';

describe('diode', () => {
  const forward = { forward: 0.6, slope: 10 };

  test('above its forward voltage it conducts: I = (V - Vf) / (R + slope)', () => {
    const trace = storedRun([supply(9), resistor('R1', 'rail', 'a', 990), diode('D1', 'a', 'ground', forward)], 1e-3);
    expect(errorOf(trace.at({ current: 'D1' }, 5e-4), 8.4e-3)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ net: 'a' }, 5e-4), 0.6 + 0.084)).toBeLessThanOrEqual(1e-12);
  });

  test('the other way round, and below its forward voltage, it carries nothing', () => {
    const reversed = storedRun(
      [supply(9), resistor('R1', 'rail', 'a', 990), diode('D1', 'ground', 'a', forward)],
      1e-3,
    );
    expect(reversed.at({ current: 'D1' }, 5e-4)).toBe(0);
    expect(reversed.at({ net: 'a' }, 5e-4)).toBe(9);
    const small = storedRun([supply(0.5), resistor('R1', 'rail', 'a', 990), diode('D1', 'a', 'ground', forward)], 1e-3);
    expect(small.at({ current: 'D1' }, 5e-4)).toBe(0);
  });

  test('turns on and off as a ramp passes its forward voltage, and tells both', () => {
    const ramp = upAndDown(5);
    const trace = storedRun([signal('G1', 'a', ramp, { resistance: 90 }), diode('D1', 'a', 'ground', forward)], 3);
    const [on, off, ...others] = eventsOf(trace, 'D1', 'piece');
    // 5 V/s reaches 0.6 V at 0.12 s, and again at 1.88 s.
    expect(errorOf(on!.time, 0.12)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(off!.time, 1.88)).toBeLessThanOrEqual(1e-12);
    expect(others).toEqual([]);
    expect(errorOf(trace.at({ current: 'D1' }, 1), 4.4 / 100)).toBeLessThanOrEqual(1e-12);
  });

  test('charges a capacitor to the peak less its forward voltage, and holds it', () => {
    const pulse = { shape: 'pulses', period: 1, width: 0.1, rest: 0, pulse: 5, count: 1, delay: 0 };
    const parts = [
      signal('G1', 'in', pulse, { resistance: 90 }),
      diode('D1', 'in', 'peak', forward),
      capacitor('C1', 'peak', 'ground', 1e-6),
    ];
    const trace = storedRun(parts, 2);
    // 100 ohm, 1 uF: 1000 time constants in the pulse.
    expect(errorOf(trace.at({ net: 'peak' }, 2), 4.4)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ net: 'peak' }, 1e-4), 4.4 * (1 - Math.exp(-1)))).toBeLessThanOrEqual(1e-12);
  });

  test('without forward voltage and with a bridge of four, both halves of a signal come out the same way round', () => {
    const square = { shape: 'square', frequency: 1, high: 5, low: -5, delay: 0 };
    const ideal = { forward: 0, slope: 1 };
    const parts = [
      { name: 'G1', kind: 'signal', plus: 'p', minus: 'q', wave: square, resistance: 0 },
      diode('D1', 'p', 'up', ideal),
      diode('D2', 'q', 'up', ideal),
      diode('D3', 'ground', 'p', ideal),
      diode('D4', 'ground', 'q', ideal),
      resistor('R1', 'up', 'ground', 98),
    ];
    const trace = storedRun(parts, 2);
    for (const time of [0.25, 0.75, 1.25, 1.75]) {
      expect(errorOf(trace.at({ current: 'R1' }, time), 0.05)).toBeLessThanOrEqual(1e-12);
    }
  });
});

describe('LED', () => {
  test('is a diode with the forward voltage of its colour: 2 V less than the supply drives the current', () => {
    const trace = storedRun(
      [supply(9), resistor('R1', 'rail', 'a', 680), lamp('D1', 'a', 'ground', { forward: 2, slope: 20 })],
      1e-3,
    );
    expect(errorOf(trace.at({ current: 'D1' }, 5e-4), 7 / 700)).toBeLessThanOrEqual(1e-12);
  });

  test('two in series need twice the forward voltage', () => {
    const lamps = [
      lamp('D1', 'a', 'b', { forward: 2, slope: 20 }),
      lamp('D2', 'b', 'ground', { forward: 2, slope: 20 }),
    ];
    const bright = storedRun([supply(9), resistor('R1', 'rail', 'a', 460), ...lamps], 1e-3);
    expect(errorOf(bright.at({ current: 'D2' }, 5e-4), 0.01)).toBeLessThanOrEqual(1e-12);
    const dark = storedRun([supply(3.9), resistor('R1', 'rail', 'a', 460), ...lamps], 1e-3);
    expect(dark.at({ current: 'D2' }, 5e-4)).toBe(0);
  });
});
