import { roundTicks, timeAxis, valueAxis } from '#sim/chart/ticks.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

const labels = (ticks: readonly { label: string }[]): string[] => ticks.map((tick) => tick.label);

describe('roundTicks', () => {
  test('counts in steps of 1, 2 or 5 with the digits the step needs', () => {
    expect(labels(roundTicks(0, 2, 5))).toEqual(['0.0', '0.5', '1.0', '1.5', '2.0']);
    expect(labels(roundTicks(0, 12, 7))).toEqual(['0', '2', '4', '6', '8', '10', '12']);
    expect(labels(roundTicks(-1, 1, 4))).toEqual(['−1.0', '−0.5', '0.0', '0.5', '1.0']);
  });

  test('gives nothing for an empty, reversed or endless stretch', () => {
    expect(roundTicks(1, 1, 5)).toEqual([]);
    expect(roundTicks(2, 1, 5)).toEqual([]);
    expect(roundTicks(0, Infinity, 5)).toEqual([]);
  });

  test('never gives many more ticks than asked for, all inside, ascending', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e3, max: 1e3, noNaN: true }),
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        fc.integer({ min: 1, max: 20 }),
        (from, span, most) => {
          const ticks = roundTicks(from, from + span, most);
          // One tick more than steps, and a step may be a twentieth too small.
          expect(ticks.length).toBeLessThanOrEqual(most * 1.06 + 1);
          // Ends are let in if they miss a tick by a millionth of a step.
          for (const { at } of ticks) expect(at).toBeGreaterThanOrEqual(from - span * 1e-5);
          for (const { at } of ticks) expect(at).toBeLessThanOrEqual(from + span * (1 + 1e-5));
          expect(ticks.every((tick, index) => index === 0 || tick.at > (ticks[index - 1]?.at ?? 0))).toBe(true);
        },
      ),
    );
  });
});

describe('timeAxis', () => {
  test.each<[number, string]>([
    [5e-9, 'time in nanoseconds'],
    [0.02, 'time in milliseconds'],
    [6, 'time in seconds'],
    [1800, 'time in minutes'],
    [20_000, 'time in hours'],
    [604_800, 'time in days'],
  ])('a window of %d s is counted in the unit people would use', (until, title) => {
    expect(timeAxis(0, until, 800).title).toBe(title);
  });

  test('a week has its ticks at whole days', () => {
    expect(timeAxis(0, 604_800, 800).ticks.map((tick) => tick.at / 86_400)).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
  });
});

test('valueAxis counts small currents in milliamperes', () => {
  const axis = valueAxis(0, 0.0152, 'A', 132);
  expect(axis.title).toBe('milliamperes');
  expect(labels(axis.ticks)).toEqual(['0', '5', '10', '15']);
});
