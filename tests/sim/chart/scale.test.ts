import { pixel } from '#sim/chart/scale.ts';
import { expect, test } from 'vitest';

test('pixel() rounds to hundredths, and the same way whatever rounding a value has come with', () => {
  expect(pixel(12.344)).toBe(12.34);
  expect(pixel(12.346)).toBe(12.35);
  // 83.275 is not a double: sums that should give it lie on both sides.
  const near = [83.275 * (1 - 4 * Number.EPSILON), 83.275, 83.275 * (1 + 4 * Number.EPSILON)];
  expect(near.map(pixel)).toEqual([83.28, 83.28, 83.28]);
});
