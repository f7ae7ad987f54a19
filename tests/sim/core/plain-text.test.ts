import { expect, test } from 'vitest';
import { plainText } from '#sim/core/plain-text.ts';

test('plainText() tells apart what JSON does not: endless, nothing and not stated', () => {
  expect(plainText({ count: Infinity })).not.toBe(plainText({ count: null }));
  expect(plainText({ count: undefined })).not.toBe(plainText({}));
  expect(plainText({ count: Infinity, a: [1] })).toBe(plainText({ count: Infinity, a: [1] }));
});
