import { fieldWords } from '#sim/quantity/field-words.ts';
import { expect, test } from 'vitest';

test.each([
  ['releaseTime', 'release time'],
  ['normallyOpen', 'normally open'],
  ['peak', 'peak'],
  ['', ''],
])('fieldWords makes words of the name %s', (name, words) => {
  expect(fieldWords(name)).toBe(words);
});
