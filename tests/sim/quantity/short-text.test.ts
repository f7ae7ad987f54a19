import { shortText } from '#sim/quantity/index.ts';
import { expect, test } from 'vitest';

// The thin space between number and unit and the true minus are this project's own way of writing.
test.each([
  [68_000, 'Ω', undefined, '68 kΩ'],
  [18_181.8, 'Ω', undefined, '18.18 kΩ'],
  [18_181.8, 'Ω', 2, '18 kΩ'],
  [-0.25, null, undefined, '−0.25'],
  [3, null, undefined, '3'],
] as const)('shortText(%f, %s, %s) holds no digit that says nothing: %s', (value, unit, digits, text) => {
  expect(shortText(value, unit, digits).replace(/\s/gu, ' ')).toBe(text);
});
