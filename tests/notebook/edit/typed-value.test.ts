import { typedValue } from '#notebook/edit/typed-value.ts';
import type { Json } from '#notebook/edit/json.ts';
import { expect, test } from 'vitest';

test.each<[string, string, Json | undefined, string, Json]>([
  ['a quantity stays text', '4k7', '68 kΩ', '68 kΩ', '4k7'],
  ['a quantity that stood as a number may be typed with its unit', '150 ms', 0.2, '200 ms', '150 ms'],
  ['a plain number stays a number', '5', 4, '4', 5],
  ['a truth stays a truth', 'false', true, 'true', false],
  ['a truth may be typed over a default shown in words', 'yes', undefined, 'no', true],
  ['a name that reads like a truth stays a name', 'yes', 'rail', 'rail', 'yes'],
  ['a list is typed as JSON', '[{"at":"1 s","for":"1 s"}]', undefined, 'none', [{ at: '1 s', for: '1 s' }]],
  ['broken JSON is kept as it was typed', '[{"at":', undefined, 'none', '[{"at":'],
  ['no name of an object is taken for a truth', 'constructor', true, 'true', 'constructor'],
])('typedValue: %s', (_, text, before, shown, expected) => {
  expect(typedValue(text, before, shown)).toEqual(expected);
});
