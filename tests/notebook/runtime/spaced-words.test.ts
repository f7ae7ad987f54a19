import { SpacedWords } from '#notebook/runtime/spaced-words.ts';
import { expect, test } from 'vitest';

test('sentences come with a pause between them, and of those that wait only the newest', () => {
  const words = new SpacedWords(1);
  words.say('first');
  expect(words.due(10)).toBe('first');
  expect(words.due(10.1)).toBeUndefined();
  words.say('second');
  words.say('third');
  expect(words.due(10.9)).toBeUndefined();
  expect(words.due(11)).toBe('third');
  words.say('fourth');
  words.clear();
  expect(words.due(20)).toBeUndefined();
});
