import type { Json } from '#notebook/edit/json.ts';
import { pathText, valueAt, withValue } from '#notebook/edit/path.ts';
import { describe, expect, test } from 'vitest';

const document: Json = { title: 'Lamp', boards: { lamp: { parts: [{ name: 'R1' }, { name: 'C1' }] } }, page: [] };

describe('valueAt', () => {
  test('finds fields and list positions', () => {
    expect(valueAt(document, ['boards', 'lamp', 'parts', 1, 'name'])).toBe('C1');
  });

  test('gives undefined where the path leads nowhere, and never an inherited property', () => {
    expect(valueAt(document, ['boards', 'bell', 'parts'])).toBeUndefined();
    expect(valueAt(document, ['title', 'length'])).toBeUndefined();
    expect(valueAt(document, ['boards', 'lamp', 'parts', 'length'])).toBeUndefined();
    expect(valueAt(document, ['constructor'])).toBeUndefined();
  });
});

describe('withValue', () => {
  test('changes one place and shares everything else', () => {
    const changed = withValue(document, ['boards', 'lamp', 'parts', 0, 'resistance'], '68 kΩ');
    expect(valueAt(changed, ['boards', 'lamp', 'parts', 0])).toEqual({ name: 'R1', resistance: '68 kΩ' });
    expect(valueAt(changed, ['boards', 'lamp', 'parts', 1])).toBe(valueAt(document, ['boards', 'lamp', 'parts', 1]));
    expect(valueAt(changed, ['page'])).toBe(valueAt(document, ['page']));
    expect(valueAt(document, ['boards', 'lamp', 'parts', 0])).toEqual({ name: 'R1' });
  });

  test('makes the objects that are missing on the way', () => {
    expect(withValue({}, ['values', 'R1'], '4k7')).toEqual({ values: { R1: '4k7' } });
  });

  test('removes a field or a list entry when the value is undefined', () => {
    expect(withValue({ a: 1, b: 2 }, ['a'], undefined)).toEqual({ b: 2 });
    expect(withValue({ list: [1, 2, 3] }, ['list', 1], undefined)).toEqual({ list: [1, 3] });
  });

  test.each<[Json, (string | number)[]]>([
    [{ list: [1] }, ['list', 1]],
    [{ text: 'x' }, ['text', 'y']],
    [{ text: 'x' }, ['text', 0]],
  ])('refuses a path that leads out of %j by %j', (json, path) => {
    expect(() => withValue(json, path, 1)).toThrow(/must lead to a place in the document/);
  });
});

test('pathText writes places as messages name them', () => {
  expect(pathText(['boards', 'lamp', 'parts', 2, 'resistance'])).toBe('boards.lamp.parts[2].resistance');
});
