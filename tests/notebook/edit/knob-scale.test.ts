import { knobScale } from '#notebook/edit/knob-scale.ts';
import { knobTicks } from '#notebook/edit/knob-ticks.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

describe('knobScale', () => {
  test('resistances rest on E24, capacitances on E12 (IEC 60063)', () => {
    expect(knobScale('Ω', 68_000).step(68_000, 1)).toBe(75_000);
    expect(knobScale('Ω', 68_000).snap(70_000)).toBe(68_000);
    expect(knobScale('F', 4.7e-6).step(4.7e-6, 1)).toBe(5.6e-6);
    expect(knobScale('F', 4.7e-6).step(4.7e-6, -1)).toBe(3.9e-6);
  });

  test('times rest on round numbers, without the dust of binary arithmetic', () => {
    const scale = knobScale('s', 0.15);
    expect(scale.step(0.15, 1)).toBe(0.2);
    expect(scale.step(0.15, -1)).toBe(0.12);
    expect(scale.step(0.1, -1)).toBe(0.08);
    expect(scale.step(0.1636, 1)).toBe(0.2);
    expect(scale.step(0.1636, -1)).toBe(0.15);
  });

  test('voltages move in even steps that fit their size', () => {
    expect(knobScale('V', 12).step(12, 1)).toBe(12.5);
    expect(knobScale('V', 5).step(5, -1)).toBe(4.8);
    expect(knobScale('V', 12).step(0.2, -1)).toBe(0);
    expect(knobScale('V', 12).step(0, -1)).toBe(0);
  });

  test('shares stay between 0 and 1', () => {
    const scale = knobScale('share', 0.5);
    expect(scale.step(1, 1)).toBe(1);
    expect(scale.step(0, -1)).toBe(0);
    expect(scale.step(0.5, 1)).toBe(0.55);
  });

  test('an even step away from a value between two rests leads to the next of them', () => {
    expect(knobScale('V', 12).step(12.3, 1)).toBe(12.5);
    expect(knobScale('V', 12).step(12.3, -1)).toBe(12);
  });

  test('at undoes position, and positions rise with the value', () => {
    const scale = knobScale('Ω', 1000);
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1e7, noNaN: true }), (value) => {
        // A logarithm and a power: a few roundings of 1e-16, enlarged by ln 10 times the exponent.
        expect(Math.abs(scale.at(scale.position(value)) / value - 1)).toBeLessThan(1e-14);
        expect(scale.position(value * 1.01)).toBeGreaterThan(scale.position(value));
      }),
    );
  });

  test.each(['Ω', 'F', 's', 'Hz', 'V', 'share'] as const)(
    'one step up in %s and one down lead back to a rest',
    (unit) => {
      fc.assert(
        fc.property(fc.double({ min: 0.06, max: 0.9, noNaN: true }), (value) => {
          const scale = knobScale(unit, 0.5);
          const rest = scale.snap(value);
          expect(scale.step(scale.step(rest, 1), -1)).toBe(rest);
        }),
      );
    },
  );

  test('a range ends where nothing can be bought or waited for', () => {
    const scale = knobScale('F', 1e-6);
    expect(scale.step(scale.greatest, 1)).toBe(scale.greatest);
    expect(scale.at(100)).toBe(scale.greatest);
  });
});

describe('knobTicks', () => {
  test('one decade of E24 has 25 ticks with both ends, three of each decade labelled', () => {
    const ticks = knobTicks(knobScale('Ω', 1000), 'Ω', 1000, 10_000, 'none');
    expect(ticks).toHaveLength(25);
    const labels = ticks.flatMap((tick) => tick.label?.replace('\u202f', ' ') ?? []);
    expect(labels).toEqual(['1 kΩ', '2.2 kΩ', '4.7 kΩ', '10 kΩ']);
  });
});

describe('knobScale with bounds', () => {
  test('stops at the least and the greatest, and before what a value must lie above or below', () => {
    const until = knobScale('s', 2, { above: 1 });
    expect(until.step(1.2, -1)).toBe(1.2);
    expect(until.snap(0.1)).toBe(1.2);
    expect(until.rests(0.5, 2)).toEqual([1.2, 1.5, 2]);
    const from = knobScale('s', 0, { below: 2 });
    expect(from.greatest).toBe(1.5);
    expect(from.step(1.5, 1)).toBe(1.5);
    expect(from.step(from.least, -1)).toBe(0);
    // What was typed beyond is turned back to where it may lie.
    expect(until.step(0.5, 1)).toBe(1.2);
  });

  test('does not stop where bounds leave no room', () => {
    expect(knobScale('s', 2, { above: 5, below: 1 }).step(2, 1)).toBe(2.5);
  });
});

test('large counts are turned by ratio along round whole numbers, small ones by one', () => {
  const samples = knobScale('count', 10_000, { least: 1, greatest: 1e6 });
  expect(samples.law).toBe('ratio');
  expect([samples.step(10_000, 1), samples.step(10_000, -1)]).toEqual([12_000, 8000]);
  expect(samples.rests(1, 30)).toEqual([1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30]);
  expect(samples.step(1e6, 1)).toBe(1e6);
  expect(samples.step(10_500, 1)).toBe(12_000);
  const steps = knobScale('count', 12, { least: 1, greatest: 10_000 });
  expect([steps.step(12, 1), steps.step(1, -1)]).toEqual([13, 1]);
});
