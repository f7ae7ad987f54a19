import { knobReach } from '#notebook/edit/knob-reach.ts';
import { knobScale } from '#notebook/edit/knob-scale.ts';
import { knobTicks } from '#notebook/edit/knob-ticks.ts';
import { describe, expect, test } from 'vitest';

describe('a knob that begins at none', () => {
  const scale = knobScale('Ω', 0);

  test('goes from 0 to the least value and back, and no further down', () => {
    expect(scale.step(0, 1)).toBe(0.1);
    expect(scale.step(0, 3)).toBe(scale.step(0.1, 2));
    expect(scale.step(0.1, -1)).toBe(0);
    expect(scale.step(0, -1)).toBe(0);
    // Ten down from 0.2 ohm stop at the last value first, so that none is not passed over by a slip.
    expect(scale.step(0.2, -10)).toBe(0.1);
  });

  test('has 0 at the left end of its tape, with a label', () => {
    expect(scale.position(0)).toBeLessThan(scale.position(0.1));
    expect(scale.at(scale.position(0))).toBe(0);
    expect(scale.at(scale.position(0.1))).toBeCloseTo(0.1, 12);
    const [first] = knobTicks(scale, 'Ω', 0, 1, 'none');
    expect(first).toEqual({ value: 0, label: '0\u202fΩ' });
    expect(knobReach(scale, 0, 0)).toEqual({ least: 0, greatest: 1e6 });
  });
});

describe('a knob that begins without a limit', () => {
  test('a leakage goes from none down to what leaks', () => {
    const scale = knobScale('Ω', Infinity);
    expect(scale.step(Infinity, -1)).toBe(1e10);
    expect(scale.step(1e10, 1)).toBe(Infinity);
    expect(scale.step(Infinity, 1)).toBe(Infinity);
    expect(scale.snap(Infinity)).toBe(Infinity);
    expect(scale.at(scale.position(Infinity))).toBe(Infinity);
    expect(knobReach(scale, Infinity, Infinity)).toEqual({ least: 1e3, greatest: Infinity });
    expect(knobTicks(scale, 'Ω', 9e9, Infinity, 'none').at(-1)).toEqual({ value: Infinity, label: 'none' });
  });

  test('endless pulses become so many, whole ones', () => {
    const scale = knobScale('count', Infinity);
    expect(scale.step(Infinity, -1)).toBe(24);
    expect(scale.step(24, -1)).toBe(23);
    expect(scale.step(0, -1)).toBe(0);
    expect(scale.snap(2.6)).toBe(3);
  });
});

test('tolerances rest on those that parts are sold with (IEC 60062:2016, section 5, from memory)', () => {
  const scale = knobScale('tolerance', 0.05);
  expect(scale.step(0.05, 1)).toBe(0.1);
  expect(scale.step(0.05, -2)).toBe(0.02);
  expect(scale.step(0.3, 1)).toBe(0.3);
  expect(scale.step(0.04, 1)).toBe(0.05);
  expect(scale.step(0.04, -1)).toBe(0.03);
  expect(scale.snap(0.12)).toBe(0.1);
  expect(scale.rests(0.01, 0.05)).toEqual([0.01, 0.02, 0.03, 0.05]);
});

test('gains and currents turn by ratio along round numbers', () => {
  expect(knobScale('number', 150).step(150, 1)).toBe(200);
  expect(knobScale('A', 0.02).step(0.02, -1)).toBe(0.015);
});
