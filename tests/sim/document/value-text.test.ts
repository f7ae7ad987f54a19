import { numberText, valueText } from '#sim/document/value-text.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';

describe('valueText(value, unit)', () => {
  test.each([
    [0.3512, 's', '351 ms'],
    [3, null, '3'],
    [3.5, null, '3.50'],
    [1234567, null, '1234567'],
    [1234.56, null, '1234.6'],
    [0.5342, 'share', '53.4 %'],
    [null, 's', 'no value'],
    [[], 's', 'none'],
    [[1, 2], 's', '1.00 s, 2.00 s'],
    [[1, 2, 3, 4, 5, 6, 7], null, '1, 2, 3, 4, 5 and 2 more'],
    [[{ time: 0.1, to: 'high' }], null, '100 ms to high'],
  ] as const)('writes %j with unit %s as %s', (value, unit, text) => {
    expect(plain(valueText(value, unit))).toBe(text);
  });
});

describe('numberText(value, unit)', () => {
  test('writes what is no number without failing', () => {
    expect([numberText(NaN, null), numberText(Infinity, null)]).toEqual(['NaN', 'Infinity']);
  });
});
