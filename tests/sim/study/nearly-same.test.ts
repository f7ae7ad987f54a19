import type { Axis } from '#sim/study/axis.ts';
import { nearlySameText } from '#sim/study/nearly-same.ts';
import { sweepWords } from '#sim/study/sweep-words.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';

describe('nearlySameText(least, greatest)', () => {
  test('tells within what values lie, rounded up to two digits', () => {
    // (5 - 4.99) / 5 = 0.2 %; 1 - 0.99877 = 0.123 %, up to 0.13 %; a third of 1e-6 up to 3.4e-5 %.
    expect(plain(nearlySameText(4.99, 5))).toBe('throughout, within 0.2 %');
    expect(plain(nearlySameText(0.99877, 1))).toBe('throughout, within 0.13 %');
    expect(plain(nearlySameText(-1, -1 + 1e-6 / 3))).toBe('throughout, within 0.000034 %');
  });

  test('leaves rounding alone', () => {
    expect([nearlySameText(0, 0), nearlySameText(4, 4 + 1e-15)]).toEqual(['throughout', 'throughout']);
  });
});

describe('sweepWords(axis, names, outcome)', () => {
  const axis = { name: 'BT1.voltage', unit: 'V', points: [4.5, 9, 12], scale: 'linear' } as Axis;
  const said = (...values: number[]): string => {
    const points = values.map((value, index) => ({
      x: axis.points[index]!,
      measured: [{ value }],
      units: ['s' as const],
      steps: [null],
      fates: null,
      failed: null,
    }));
    return plain(sweepWords(axis, ['width'], { points, marks: [], share: 1 }));
  };

  test('says of values that read the same that they stay, and within what', () => {
    expect(said(4.2902, 4.289, 4.2889)).toBe(
      'Over BT1 voltage from 4.50 V to 12.0 V (3 points): width is 4.29 s throughout, within 0.031 %.',
    );
    expect(said(4.289, 4.2902, 4.2889)).toContain('width is 4.29 s throughout, within 0.031 %.');
    expect(said(4, 4, 4)).toContain('width is 4.00 s throughout.');
  });

  test('says of others how they go', () => {
    expect(said(4.21, 4.25, 4.29)).toContain('width rises from 4.21 s to 4.29 s.');
  });
});
