import { labelPlace, quantityAxis, valueWords } from '#sim/chart/quantity-axis.ts';
import { describe, expect, test } from 'vitest';

const plan = {
  what: 'resistance of R1',
  unit: 'Ω',
  from: 1e3,
  until: 10e3,
  isLogarithmic: false,
  start: 0,
  end: 500,
} as const;
test('labelPlace(tick, right) keeps a label clear of its neighbour and inside the chart', () => {
  // Labels of two digits, 14 pixels wide, 29 pixels apart: the last at the very end of the chart, the one before clear of it.
  expect(labelPlace({ at: 319, label: '14' }, 348)).toBe(319);
  const last = labelPlace({ at: 348, label: '15' }, 348);
  expect(last - 319).toBeGreaterThan(20);
  // However long it is, it goes over the end by no more than a few pixels: half of 7.2 for each of its characters.
  expect(labelPlace({ at: 348, label: '100 µF' }, 348) + 6 * 3.6).toBeLessThanOrEqual(352);
});

const labels = (axis: ReturnType<typeof quantityAxis>): string[] => axis.ticks.map(({ label }) => label);

describe('valueWords', () => {
  test.each([
    ['R1', 'Ω', 'resistance of R1'],
    ['C1', 'F', 'capacitance of C1'],
    ['G1.wave.period', 's', 'period of G1'],
    ['U1.with.output_drop', 'V', 'output drop of U1'],
    ['X', null, 'X'],
  ] as const)('%s in %s is the %s', (name, unit, words) => {
    expect(valueWords(name, unit)).toBe(words);
  });
});

describe('quantityAxis', () => {
  test('names quantity and unit in words, and counts in the prefix that fits', () => {
    const axis = quantityAxis(plan);
    expect(axis.title).toBe('resistance of R1 in kilohms');
    expect(labels(axis)).toEqual(['1', '2', '3', '4', '5', '6', '7', '8', '9', '10']);
    expect(axis.scale(5.5e3)).toBeCloseTo(250, 9);
    expect(axis.scale.invert(250)).toBeCloseTo(5.5e3, 6);
  });

  test('by ratio, equal steps multiply', () => {
    const axis = quantityAxis({ ...plan, isLogarithmic: true });
    expect(axis.scale(Math.sqrt(1e3 * 10e3))).toBeCloseTo(250, 9);
    expect(axis.scale.invert(250)).toBeCloseTo(Math.sqrt(1e7), 6);
    expect(labels(axis)).toEqual(['1', '2', '3', '5', '7', '10']);
  });

  test('over many decades every label has its own prefix', () => {
    const axis = quantityAxis({ ...plan, from: 10, until: 1e6, isLogarithmic: true });
    expect(axis.title).toBe('resistance of R1');
    expect(labels(axis)[0]).toBe('10\u202fΩ');
    expect(labels(axis).at(-1)).toBe('1\u202fMΩ');
  });

  test('marks the points themselves where all of them fit', () => {
    const points = [1e3, 1.5e3, 2.2e3, 3.3e3, 4.7e3, 6.8e3, 10e3];
    expect(labels(quantityAxis({ ...plan, isLogarithmic: true, points }))).toEqual([
      '1',
      '1.5',
      '2.2',
      '3.3',
      '4.7',
      '6.8',
      '10',
    ]);
    expect(labels(quantityAxis({ ...plan, isLogarithmic: true, points, end: 120 }))).not.toContain('1.5');
  });

  test('even points in steps that people count in are marked with equally many decimals, others give way to round places', () => {
    const even = [1e3, 1.5e3, 2e3, 2.5e3];
    expect(labels(quantityAxis({ ...plan, until: 2.5e3, points: even }))).toEqual(['1.0', '1.5', '2.0', '2.5']);
    const odd = [130, 142, 154, 166, 178, 190];
    const axis = quantityAxis({ ...plan, from: 130, until: 190, points: odd });
    expect(labels(axis)).toEqual([
      '130',
      '135',
      '140',
      '145',
      '150',
      '155',
      '160',
      '165',
      '170',
      '175',
      '180',
      '185',
      '190',
    ]);
    // Values that were chosen one by one are marked as they are.
    expect(labels(quantityAxis({ ...plan, from: 130, until: 190, points: [130, 142, 190] }))).toEqual([
      '130',
      '142',
      '190',
    ]);
  });

  test('labels never run into each other', () => {
    for (const end of [60, 120, 240, 480, 960]) {
      const { ticks } = quantityAxis({ ...plan, from: 1234, until: 1239, end });
      for (const [index, { at }] of ticks.entries()) {
        if (index > 0) expect(at - (ticks[index - 1]?.at ?? 0)).toBeGreaterThan(25);
      }
    }
  });

  test('shares are per cent', () => {
    const axis = quantityAxis({ ...plan, what: 'duty', unit: 'share', from: 0, until: 1 });
    expect(axis.title).toBe('duty in per cent');
    expect(labels(axis).at(-1)).toBe('100');
  });
});
