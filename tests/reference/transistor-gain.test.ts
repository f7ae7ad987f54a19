import { describe, expect, test } from 'vitest';
import { errorOf } from '../support/error-measure.ts';
import type { FilePart } from '../support/run-board.ts';
import { setTimes, storedRun } from '../support/stored-run.ts';
import { capacitor, lowPulses, resistor, signal, supply, timer, upAndDown } from '../support/timer-circuits.ts';

/**
 * Closed forms of circuits with transistors that amplify, from Kirchhoff's laws with a base of `forward` and `slope` and a
 * collector current of gain times the base current; from memory, in every textbook of electronics.
 */
const [GAIN, FORWARD, SLOPE, SATURATION] = [200, 0.65, 5, 0.1];

function transistor(nets: Record<string, string>, more: Record<string, unknown> = {}): FilePart {
  const values = { gain: GAIN, forward: FORWARD, slope: SLOPE, saturation: SATURATION };
  return { name: 'T1', kind: 'transistor', ...nets, ...values, ...more };
}

/** A pnp current source from the rail into the net `timing`, and its current (A). */
function currentSource(volts: number): { readonly parts: FilePart[]; readonly current: number } {
  const [upper, lower, emitter] = [4.7e3, 10e3, 1.2e3];
  const open = (volts * lower) / (upper + lower);
  const inside = (upper * lower) / (upper + lower);
  const base = (volts - FORWARD - open) / (emitter * (GAIN + 1) + SLOPE + inside);
  return {
    parts: [
      resistor('R1', 'rail', 'b', upper),
      resistor('R2', 'b', 'ground', lower),
      resistor('R3', 'rail', 'e', emitter),
      transistor({ base: 'b', emitter: 'e', collector: 'timing' }, { polarity: 'pnp' }),
    ],
    current: GAIN * base,
  };
}

describe('a transistor with a gain', () => {
  test('a pnp current source charges a capacitor in a straight line: v = I t / C', () => {
    const { parts, current } = currentSource(12);
    const trace = storedRun([supply(12), ...parts, capacitor('C1', 'timing', 'ground', 1e-6)], 3e-3);
    for (const time of [1e-4, 1e-3, 2.2e-3, 2.9e-3]) {
      expect(errorOf(trace.at({ net: 'timing' }, time), (current * time) / 1e-6)).toBeLessThanOrEqual(1e-12);
      expect(errorOf(trace.at({ current: 'T1' }, time), -current)).toBeLessThanOrEqual(1e-12);
    }
  });

  test('a monostable that it charges is set for C 2 V / (3 I)', () => {
    const { parts, current } = currentSource(12);
    const trace = storedRun(
      [
        supply(12),
        ...parts,
        capacitor('C1', 'timing', 'ground', 1e-6),
        timer('U1', { trigger: 'in', threshold: 'timing', discharge: 'timing', output: 'out' }),
        signal('G1', 'in', lowPulses(12, { period: 0.02, width: 1e-4, delay: 1e-3 })),
      ],
      0.1,
    );
    const widths = setTimes(trace);
    expect(widths).toHaveLength(5);
    for (const width of widths) expect(errorOf(width, (1e-6 * 8) / current)).toBeLessThanOrEqual(1e-12);
  });

  test('an emitter follower: the emitter stands a forward voltage below the base, and lends it its gain', () => {
    const trace = storedRun(
      [
        supply(9),
        signal('G1', 'in', { shape: 'constant', level: 5 }, { resistance: 0 }),
        resistor('R1', 'in', 'b', 100e3),
        resistor('R2', 'e', 'ground', 1e3),
        transistor({ base: 'b', collector: 'rail', emitter: 'e' }),
      ],
      1e-3,
    );
    const base = (5 - FORWARD) / (100e3 + SLOPE + (GAIN + 1) * 1e3);
    expect(errorOf(trace.at({ net: 'e' }, 5e-4), (GAIN + 1) * base * 1e3)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ net: 'b' }, 5e-4), 5 - 100e3 * base)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'T1' }, 5e-4), GAIN * base)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'R1' }, 5e-4), base)).toBeLessThanOrEqual(1e-11);
  });

  test('a common emitter with a capacitor on either side: two time constants, one of which drives the other', () => {
    const [volts, input, series, load, below, above] = [9, 0.85, 10e3, 2.2e3, 10e-9, 22e-9];
    const trace = storedRun(
      [
        supply(volts),
        signal('G1', 'in', { shape: 'constant', level: input }, { resistance: 0 }),
        resistor('R1', 'in', 'b', series),
        resistor('R2', 'rail', 'c', load),
        capacitor('C1', 'b', 'ground', below, { initial: 0.651 }),
        capacitor('C2', 'c', 'ground', above, { initial: volts }),
        transistor({ base: 'b', collector: 'c', emitter: 'ground' }),
      ],
      1e-3,
    );
    const fast = (1 / series + 1 / SLOPE) / below;
    const slow = 1 / (load * above);
    // i = base current: i = end + (start - end) exp(-fast t); C v' = (V - v) / R - gain i.
    const end = (input - FORWARD) / (series + SLOPE);
    const start = 0.001 / SLOPE;
    const settled = volts - load * GAIN * end;
    const forced = (-GAIN * (start - end)) / (above * (slow - fast));
    for (const time of [1e-9, 3e-8, 1e-7, 1e-5, 5e-5, 3e-4]) {
      const collector = settled + forced * Math.exp(-fast * time) + (volts - settled - forced) * Math.exp(-slow * time);
      expect(errorOf(trace.at({ net: 'c' }, time), collector, { scale: volts })).toBeLessThanOrEqual(1e-12);
      const base = FORWARD + SLOPE * (end + (start - end) * Math.exp(-fast * time));
      expect(errorOf(trace.at({ net: 'b' }, time), base)).toBeLessThanOrEqual(1e-12);
    }
  });

  test('it saturates where the collector cannot draw gain times the base current, and comes back', () => {
    const wave = upAndDown(5);
    const trace = storedRun(
      [
        supply(9),
        signal('G1', 'in', wave, { resistance: 0 }),
        resistor('R1', 'in', 'b', 100e3),
        resistor('R2', 'rail', 'c', 2e3),
        transistor({ base: 'b', collector: 'c', emitter: 'ground' }),
      ],
      2,
    );
    const collectorAt = (level: number): number => {
      const active = 9 - (2e3 * GAIN * Math.max(0, level - FORWARD)) / (100e3 + SLOPE);
      return Math.max(active, SATURATION + (SLOPE * (9 - SATURATION)) / (2e3 + SLOPE));
    };
    for (const time of [0.1, 0.2, 0.5, 0.56, 0.57, 0.58, 0.7, 1, 1.4, 1.43, 1.44, 1.5, 1.8, 1.9]) {
      const level = 5 * (time < 1 ? time : 2 - time);
      expect(errorOf(trace.at({ net: 'c' }, time), collectorAt(level), { scale: 9 })).toBeLessThanOrEqual(1e-12);
    }
  });

  test('it carries nothing from emitter to collector', () => {
    const trace = storedRun(
      [
        supply(-9),
        signal('G1', 'b', { shape: 'constant', level: 5 }, { resistance: 1e3 }),
        resistor('R2', 'rail', 'c', 1e3),
        transistor({ base: 'b', collector: 'c', emitter: 'ground' }),
      ],
      1e-3,
    );
    expect(trace.at({ current: 'T1' }, 5e-4)).toBe(0);
    expect(trace.at({ net: 'c' }, 5e-4)).toBe(-9);
  });

  test('a current mirror: the second collector draws what the first is given, but for two base currents', () => {
    const pair = (name: string, collector: string): FilePart =>
      transistor({ base: 'b', collector, emitter: 'ground' }, { name });
    const trace = storedRun(
      [
        supply(9),
        resistor('R1', 'rail', 'b', 10e3),
        resistor('R2', 'rail', 'c', 1e3),
        pair('T1', 'b'),
        pair('T2', 'c'),
      ],
      1e-3,
    );
    // Given: 9 V less the base over R1, shared by the first collector and two bases.
    const base = (9 - FORWARD) / (10e3 * (GAIN + 2) + SLOPE);
    // How two bases in parallel share what they are given hangs on their 5 ohm beside gain times 10 kohm.
    const rounding = ((GAIN * 10e3) / SLOPE) * Number.EPSILON;
    expect(errorOf(trace.at({ current: 'T2' }, 5e-4), GAIN * base)).toBeLessThanOrEqual(rounding);
    expect(errorOf(trace.at({ current: 'T1' }, 5e-4), GAIN * base)).toBeLessThanOrEqual(rounding);
    expect(errorOf(trace.at({ net: 'c' }, 5e-4), 9 - 1e3 * GAIN * base)).toBeLessThanOrEqual(rounding);
  });

  test('two stacked followers lend their gains to each other', () => {
    const trace = storedRun(
      [
        supply(9),
        signal('G1', 'in', { shape: 'constant', level: 5 }, { resistance: 0 }),
        resistor('R1', 'in', 'b', 1e6),
        resistor('R2', 'e', 'ground', 100),
        transistor({ base: 'b', collector: 'rail', emitter: 'm' }, { name: 'T1' }),
        transistor({ base: 'm', collector: 'rail', emitter: 'e' }, { name: 'T2' }),
      ],
      1e-3,
    );
    const base = (5 - 2 * FORWARD) / (1e6 + SLOPE + (GAIN + 1) * (SLOPE + (GAIN + 1) * 100));
    // The second base is read as a difference of two voltages near 4 V over 5 ohm.
    expect(errorOf(trace.at({ net: 'e' }, 5e-4), (GAIN + 1) ** 2 * base * 100)).toBeLessThanOrEqual(1e-11);
  });
});
