import { contrast, inkOn, lightness, RAMP_STEPS, rampColours, rampStep } from '#sim/chart/ramp.ts';
import { describe, expect, test } from 'vitest';

/** What the colour looks like to people without one kind of cone, linear light to linear light; from memory (Machado and others, 2009, severity 1). */
const seenWithout = {
  long: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  middle: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  short: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

function seen(colour: string, matrix: readonly (readonly number[])[]): string {
  const linear = [1, 3, 5].map((at) => {
    const value = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  });
  const mixed = matrix.map((row) => row.reduce((sum, weight, index) => sum + weight * (linear[index] ?? 0), 0));
  const encoded = mixed.map((value) => {
    const kept = Math.min(1, Math.max(0, value));
    return kept <= 0.0031308 ? 12.92 * kept : 1.055 * kept ** (1 / 2.4) - 0.055;
  });
  return `#${encoded
    .map((value) =>
      Math.round(value * 255)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;
}

describe.each([
  ['light', -1],
  ['dark', 1],
] as const)('rampColours of the %s theme', (theme, direction) => {
  const colours = rampColours(theme);

  test('has as many colours as it says', () => {
    expect(colours).toHaveLength(RAMP_STEPS);
    for (const colour of colours) expect(colour).toMatch(/^#[0-9a-f]{6}$/);
  });

  test('lightness runs one way from step to step', () => {
    for (let step = 1; step < RAMP_STEPS; step++) {
      const change = lightness(colours[step] ?? '') - lightness(colours[step - 1] ?? '');
      expect(change * direction, `step ${step}`).toBeGreaterThan(0.008);
    }
  });

  test.each(Object.entries(seenWithout))('and does so for people without %s cones', (_, matrix) => {
    const looks = colours.map((colour) => lightness(seen(colour, matrix)));
    for (let step = 1; step < RAMP_STEPS; step++) {
      // Every second step, since eight bits a channel leave some neighbours nearly alike.
      const before = looks[Math.max(0, step - 2)] ?? 0;
      expect(((looks[step] ?? 0) - before) * direction, `step ${step}`).toBeGreaterThan(0);
    }
  });

  test('eight regions side by side are told apart by lightness alone', () => {
    const steps = Array.from({ length: 8 }, (_, index) => colours[rampStep(index, 8)] ?? '');
    for (let index = 1; index < 8; index++) {
      // 0.04 of the range is about twice what can just be seen side by side (common practice, no source).
      expect(Math.abs(lightness(steps[index] ?? '') - lightness(steps[index - 1] ?? ''))).toBeGreaterThan(0.04);
    }
  });

  test('the ink on every colour can be read (WCAG 2.2, 1.4.3: 4.5 to 1)', () => {
    for (const colour of colours) expect(contrast(inkOn(colour), colour)).toBeGreaterThanOrEqual(4.5);
  });
});

describe('rampStep', () => {
  test('spreads things over the whole ramp, one alone stands inside it', () => {
    expect([0, 1, 2].map((index) => rampStep(index, 3))).toEqual([0, 12, 23]);
    expect(rampStep(0, 1)).toBe(8);
  });
});

describe('contrast', () => {
  test('is 21 for black on white and 1 for equal colours (WCAG 2.2, contrast ratio)', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(contrast('#3a7694', '#3a7694')).toBe(1);
  });
});
