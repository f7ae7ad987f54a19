import { withMinus } from '#sim/quantity/index.ts';
import { expect, test } from 'vitest';

test('withMinus(text) writes the sign of a number as people read it, and leaves that of its power of ten', () => {
  expect(withMinus('-3.5')).toBe('\u22123.5');
  expect(withMinus('-1e-9')).toBe('\u22121e-9');
  expect(withMinus('12')).toBe('12');
});
