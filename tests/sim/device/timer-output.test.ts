import { describe, expect, test } from 'vitest';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

const oneWay = {
  outputHighDrop: 1.3,
  outputHighResistance: 4,
  outputLowSaturation: 0.02,
  outputLowResistance: 8,
  outputOneWay: true,
};
const twoWay = { outputHighResistance: 200, outputLowResistance: 26, outputOneWay: false };

/** A timer that stays high (trigger held low) or low, with something at its output. */
function standing(state: 'high' | 'low', parameters: Record<string, unknown>, ...more: FilePart[]): FilePart[] {
  const pins = { trigger: state === 'high' ? 'ground' : 'rail', threshold: 'ground', output: 'out' };
  return [supply(9), timer('U1', pins, { start: state === 'high' ? 'set' : 'cleared', with: parameters }), ...more];
}

function outOf(parts: readonly FilePart[]): number {
  return storedRun(parts, 1e-3).at({ net: 'out' }, 1e-3);
}

describe('timer output', () => {
  test('high and loaded: the supply less drop and resistance', () => {
    const load = resistor('RL', 'out', 'ground', 96);
    expect(errorOf(outOf(standing('high', oneWay, load)), (9 - 1.3) * 0.96)).toBeLessThanOrEqual(1e-12);
    const other = resistor('RL', 'out', 'ground', 1800);
    expect(errorOf(outOf(standing('high', twoWay, other)), 9 * 0.9)).toBeLessThanOrEqual(1e-12);
  });

  test('low and loaded: the saturation voltage and the resistance', () => {
    const load = resistor('RL', 'rail', 'out', 92);
    expect(errorOf(outOf(standing('low', oneWay, load)), 0.02 + 8.98 * 0.08)).toBeLessThanOrEqual(1e-12);
    const other = resistor('RL', 'rail', 'out', 874);
    expect(errorOf(outOf(standing('low', twoWay, other)), 9 * (26 / 900))).toBeLessThanOrEqual(1e-12);
  });

  test('one way: a pull-up lifts the high output above what it gives itself, to the supply', () => {
    expect(outOf(standing('high', oneWay, resistor('RL', 'rail', 'out', 1e3)))).toBe(9);
    // With a load as well, below the drop both give current: (9 - v) / 1k + (7.7 - v) / 4 = v / 100.
    const both = [resistor('RU', 'rail', 'out', 1e3), resistor('RL', 'out', 'ground', 100)];
    const expected = (9 / 1e3 + 7.7 / 4) / (1 / 1e3 + 1 / 4 + 1 / 100);
    expect(errorOf(outOf(standing('high', oneWay, ...both)), expected)).toBeLessThanOrEqual(1e-12);
  });

  test('one way: the low output takes current and gives none', () => {
    const below: FilePart[] = [
      { name: 'BT2', kind: 'supply', plus: 'ground', minus: 'under', voltage: 5, origin: 'isolated' },
      resistor('RL', 'out', 'under', 1e3),
    ];
    expect(outOf(standing('low', oneWay, ...below))).toBe(-5);
    // A stage that conducts both ways holds it: 5 V over 1026 ohm.
    expect(errorOf(outOf(standing('low', twoWay, ...below)), (-5 * 26) / 1026)).toBeLessThanOrEqual(1e-12);
  });

  test('two ways: what pushes the high output above the supply is taken up by its resistance', () => {
    const above: FilePart[] = [
      { name: 'BT2', kind: 'supply', plus: 'over', minus: 'ground', voltage: 12, origin: 'isolated' },
      resistor('RL', 'over', 'out', 800),
    ];
    expect(errorOf(outOf(standing('high', twoWay, ...above)), 9 + 3 * 0.2)).toBeLessThanOrEqual(1e-12);
    expect(outOf(standing('high', oneWay, ...above))).toBe(12);
  });

  test('without load the one-way stage leaves the pin between drop and supply, where nothing flows', () => {
    // Only that nothing flows is asked for: the voltage of an open pin may lie anywhere between.
    const trace = storedRun(standing('high', oneWay, resistor('RL', 'out', 'ground', 1e9)), 1e-3);
    expect(errorOf(trace.at({ net: 'out' }, 1e-3), (7.7 * 1e9) / (1e9 + 4))).toBeLessThanOrEqual(1e-12);
  });
});

describe('timer supply current', () => {
  const drawn = { supplyCurrentLow: 3e-3, supplyCurrentHigh: 2e-3, dividerResistance: 1e6 };

  test('is supplyCurrentLow while the output is low, supplyCurrentHigh while it is high', () => {
    for (const [state, current] of [
      ['low', 3e-3],
      ['high', 2e-3],
    ] as const) {
      const trace = storedRun(standing(state, drawn), 1e-3);
      expect(errorOf(trace.at({ current: 'BT1' }, 5e-4), -(current + 3e-6))).toBeLessThanOrEqual(1e-12);
    }
  });

  test('changes with the output', () => {
    const wave = { shape: 'pulses', period: 1, width: 1e-4, delay: 1e-3, rest: 9, pulse: 0, count: 1 };
    const pins = { trigger: 'in', threshold: 'ground', output: 'out' };
    const parts = [supply(9), timer('U1', pins, { with: drawn }), signal('G1', 'in', wave)];
    const trace = storedRun(parts, 3e-3);
    // Nothing but the timer's own current and its divider's, 9 V over 3 Mohm.
    expect(errorOf(trace.at({ current: 'BT1' }, 0.5e-3), -(3e-3 + 3e-6))).toBeLessThanOrEqual(1e-12);
    expect(errorOf(trace.at({ current: 'BT1' }, 2e-3), -(2e-3 + 3e-6))).toBeLessThanOrEqual(1e-12);
  });

  test('fades over the last volt of a failing supply', () => {
    const parts = standing('low', drawn).map((part) => (part.kind === 'supply' ? { ...part, voltage: 0.5 } : part));
    const trace = storedRun(parts, 1e-3);
    expect(errorOf(trace.at({ current: 'BT1' }, 5e-4), -(1.5e-3 + 0.5 / 3e6))).toBeLessThanOrEqual(1e-12);
  });
});
