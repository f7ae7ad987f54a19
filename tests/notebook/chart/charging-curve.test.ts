import { chargingCurve } from '#notebook/chart/charging-curve.ts';
import { expect, test } from 'vitest';

test('chargingCurve swings between one third and two thirds of its height, where the limits are drawn', () => {
  const { path, upper, lower, charging } = chargingCurve(300, 120, 4);
  const heights = [...path.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map((match) => Number(match[1]));
  expect([upper, lower]).toEqual([40, 80]);
  expect(Math.min(...heights)).toBe(upper);
  expect(Math.max(...heights)).toBe(lower);
  expect(charging).toHaveLength(4);
});
