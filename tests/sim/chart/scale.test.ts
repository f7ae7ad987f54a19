import { pixel, pixelText } from '#sim/chart/scale.ts';
import { expect, test } from 'vitest';

test('pixel() rounds to hundredths, and the same way whatever rounding a value has come with', () => {
  expect(pixel(12.344)).toBe(12.34);
  expect(pixel(12.346)).toBe(12.35);
  // 83.275 is not a double: sums that should give it lie on both sides.
  const near = [83.275 * (1 - 4 * Number.EPSILON), 83.275, 83.275 * (1 + 4 * Number.EPSILON)];
  expect(near.map(pixel)).toEqual([83.28, 83.28, 83.28]);
});

test('pixelText() writes what a pixel is as a number is written, near and far', () => {
  const near = Array.from({ length: 4001 }, (_, step) => (step - 2000) / 100);
  const others = [
    1234.567,
    -0.004,
    0.996,
    -0.996,
    1e7 + 0.01,
    123_456_789.126,
    -4.2e15,
    Infinity,
    -Infinity,
    Number.NaN,
  ];
  for (const value of [...near, ...others]) expect(pixelText(value)).toBe(`${pixel(value)}`);
});
