import { knobReach } from '#notebook/edit/knob-reach.ts';
import { knobScale } from '#notebook/edit/knob-scale.ts';
import { describe, expect, test } from 'vitest';

describe('knobReach', () => {
  test('reaches three decades to either side of where the knob began, on resting values', () => {
    // 100 kΩ: from 100 Ω to 100 MΩ.
    expect(knobReach(knobScale('Ω', 100e3), 100e3, 220e3)).toEqual({ least: 100, greatest: 100e6 });
  });

  test('does not change while the knob is turned', () => {
    const scale = knobScale('V', 12);
    const reach = knobReach(scale, 12, 12);
    expect(reach).toEqual({ least: 0, greatest: 48 });
    expect(knobReach(scale, 12, 30)).toEqual(reach);
  });

  test('includes a value that was typed beyond it', () => {
    expect(knobReach(knobScale('Ω', 100e3), 100e3, 5e12).greatest).toBe(5e12);
    expect(knobReach(knobScale('Ω', 100e3), 100e3, 0).least).toBe(0);
  });

  test('is all of a share, and has room on both sides of a value of 0', () => {
    expect(knobReach(knobScale('share', 0.5), 0.5, 0.5)).toEqual({ least: 0, greatest: 1 });
    const { least, greatest } = knobReach(knobScale('V', 0), 0, 0);
    expect([least, greatest]).toEqual([0, 12]);
  });
});
