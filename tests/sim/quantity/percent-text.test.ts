import { percentText } from '#sim/quantity/index.ts';
import { expect, test } from 'vitest';

test('percentText(percent) keeps number and sign on one line, and writes a minus as wide as a plus', () => {
  expect(percentText(12)).toBe('12\u202f%');
  expect(percentText(-3.5)).toBe('\u22123.5\u202f%');
  expect(percentText(0, { signed: true })).toBe('0\u202f%');
  expect(percentText(0.25, { signed: true })).toBe('+0.25\u202f%');
});
