import { describe, expect, test } from 'vitest';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, signal, supply } from '../../support/timer-circuits.ts';

function pot(position: number, more: Record<string, unknown> = {}): FilePart {
  return { name: 'P1', kind: 'pot', a: 'rail', wiper: 'w', b: 'ground', resistance: 10e3, position, ...more };
}

function wiperOf(...parts: FilePart[]): number {
  return storedRun([supply(9), ...parts], 1e-3).at({ net: 'w' }, 5e-4);
}

describe('resistor', () => {
  test('obeys V = I R; 0 ohm joins its nets and carries what flows', () => {
    const parts = [supply(9), resistor('R1', 'rail', 'a', 0), resistor('R2', 'a', 'ground', 450)];
    const trace = storedRun(parts, 1e-3);
    expect(trace.at({ net: 'a' }, 0)).toBe(9);
    expect(errorOf(trace.at({ current: 'R1' }, 0), 0.02)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'R2' }, 0), 0.02)).toBeLessThanOrEqual(1e-12);
  });
});

describe('pot', () => {
  test('divides as its position says, 0 being at a', () => {
    expect(errorOf(wiperOf(pot(0.25)), 6.75)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(wiperOf(pot(0.5)), 4.5)).toBeLessThanOrEqual(1e-12);
  });

  test('at either end the wiper is joined to it', () => {
    expect(wiperOf(pot(0))).toBe(9);
    expect(wiperOf(pot(1))).toBe(0);
  });

  test('keeps its end resistance in both legs', () => {
    // 100 ohm left at either end: 9 V (10k + 100) / 10k2 at position 0, 9 V 100 / 10k2 at position 1.
    expect(errorOf(wiperOf(pot(0, { end: 100 })), (9 * 10100) / 10200)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(wiperOf(pot(1, { end: 100 })), (9 * 100) / 10200)).toBeLessThanOrEqual(1e-12);
  });

  test('a load on the wiper bends its scale', () => {
    // 5 kohm against 5 kohm beside 10 kohm: 9 V (10/3) / (5 + 10/3).
    expect(errorOf(wiperOf(pot(0.5), resistor('R1', 'w', 'ground', 10e3)), 3.6)).toBeLessThanOrEqual(1e-12);
  });

  test('its current is that from a to the wiper', () => {
    const trace = storedRun([supply(9), pot(0.5), resistor('R1', 'w', 'ground', 10e3)], 1e-3);
    expect(errorOf(trace.at({ current: 'P1' }, 0), 5.4 / 5e3)).toBeLessThanOrEqual(1e-12);
  });
});

describe('capacitor', () => {
  const dark = signal('G1', 'in', { shape: 'constant', level: 0 }, { resistance: 0 });

  test('starts at its initial voltage, a above b, either way round', () => {
    const trace = storedRun(
      [dark, resistor('R1', 'in', 'x', 1e4), capacitor('C1', 'x', 'ground', 1e-6, { initial: 5 })],
      0.02,
    );
    expect(errorOf(trace.at({ net: 'x' }, 0.01), 5 / Math.E)).toBeLessThanOrEqual(1e-12);
    const turned = storedRun(
      [dark, resistor('R1', 'in', 'x', 1e4), capacitor('C1', 'ground', 'x', 1e-6, { initial: 5 })],
      0.02,
    );
    expect(errorOf(turned.at({ net: 'x' }, 0.01), -5 / Math.E)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(turned.at({ current: 'C1' }, 0), -5e-4)).toBeLessThanOrEqual(1e-12);
  });

  test('leaks through its leakage resistance', () => {
    const parts = [
      dark,
      resistor('R1', 'in', 'y', 1),
      capacitor('C1', 'x', 'ground', 1e-6, { initial: 5, leakage: 1e6 }),
      resistor('R2', 'x', 'y', 1e15),
    ];
    expect(errorOf(storedRun(parts, 2).at({ net: 'x' }, 2), 5 * Math.exp(-2 * (1 + 1e-9)))).toBeLessThanOrEqual(1e-12);
  });

  test('its series resistance takes the first step: the pin jumps, the charge follows', () => {
    const step = signal('G1', 'in', { shape: 'constant', level: 8 }, { resistance: 0 });
    const parts = [step, resistor('R1', 'in', 'x', 900), capacitor('C1', 'x', 'ground', 1e-6, { series: 100 })];
    const trace = storedRun(parts, 0.01);
    expect(errorOf(trace.at({ net: 'x' }, 0), 0.8)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ net: 'x' }, 1e-3), 8 * (1 - 0.9 * Math.exp(-1)))).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'C1' }, 0), 8e-3)).toBeLessThanOrEqual(1e-12);
  });

  test('its current counts what leaks too', () => {
    const step = signal('G1', 'in', { shape: 'constant', level: 8 }, { resistance: 0 });
    const parts = [step, resistor('R1', 'in', 'x', 1e3), capacitor('C1', 'x', 'ground', 1e-6, { leakage: 3e3 })];
    const trace = storedRun(parts, 1);
    expect(errorOf(trace.at({ current: 'C1' }, 1), 2e-3)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'C1' }, 0), 8e-3)).toBeLessThanOrEqual(1e-12);
  });
});

describe('probe', () => {
  test('its resistance loads what it looks at: 10 Mohm beside 10 Mohm makes a half a third', () => {
    const parts = [supply(9), resistor('R1', 'rail', 'x', 10e6), resistor('R2', 'x', 'ground', 10e6)];
    expect(errorOf(storedRun(parts, 1).at({ net: 'x' }, 1), 4.5)).toBeLessThanOrEqual(1e-12);
    const probed = [...parts, { name: 'M1', kind: 'probe', a: 'x' }];
    expect(errorOf(storedRun(probed, 1).at({ net: 'x' }, 1), 3)).toBeLessThanOrEqual(1e-12);
  });

  test('its capacitance slows an edge: the time constant is (R // Rprobe) C', () => {
    const parts = [
      supply(9),
      resistor('R1', 'rail', 'x', 10e6),
      { name: 'M1', kind: 'probe', a: 'x', capacitance: 12e-12 },
    ];
    const trace = storedRun(parts, 1);
    expect(errorOf(trace.at({ net: 'x' }, 60e-6), 4.5 * (1 - Math.exp(-1)))).toBeLessThanOrEqual(1e-12);
    // The whole 9 V over 10 Mohm flow into its capacitance at first.
    expect(errorOf(trace.at({ current: 'M1' }, 0), 0.9e-6)).toBeLessThanOrEqual(1e-12);
  });

  test('without capacitance it only loads', () => {
    const parts = [supply(9), resistor('R1', 'rail', 'x', 10e6), { name: 'M1', kind: 'probe', a: 'x', capacitance: 0 }];
    expect(errorOf(storedRun(parts, 1).at({ net: 'x' }, 0), 4.5)).toBeLessThanOrEqual(1e-12);
  });
});
