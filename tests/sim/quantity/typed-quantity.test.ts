import { readQuantity, typedQuantity, type Unit } from '#sim/quantity/index.ts';
import { expect, test } from 'vitest';

test.each<[number, Unit, string]>([
  [68000, 'Ω', '68 kΩ'],
  [-5, 'V', '-5 V'],
  [-0.2, 'share', '-20 %'],
  [-1.6e-19, 'C', '-1.6e-19 C'],
  [0, 'V', '0 V'],
])('typedQuantity(%d, %s) is %s: an ordinary space, a hyphen for the minus, and reads back', (value, unit, text) => {
  expect(typedQuantity(value, unit)).toBe(text);
  expect(readQuantity(text, unit)).toEqual({ ok: true, value });
});
