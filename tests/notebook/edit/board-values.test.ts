import { boardParts, valueChange, valuePlace } from '#notebook/edit/board-values.ts';
import type { Json } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { describe, expect, test } from 'vitest';

const document: Json = {
  boards: {
    own: {
      parts: [
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '68 kΩ' },
        { name: 'S1', kind: 'button', a: 'in', b: 'ground', presses: [{ at: '1 s', for: '0.2 s' }] },
      ],
    },
    ready: { ready: 'monostable', values: { R1: '100 kΩ' } },
  },
};

/** The document after one value of a board was changed. */
function changed(board: string, name: string, value: Json): Json {
  const place = valuePlace(boardParts(document, board), name);
  const change = place === undefined ? undefined : valueChange(document, board, place, value);
  if (change === undefined) throw new Error(`${board} has no ${name}`);
  return withValue(document, change.path, change.value);
}

describe('valuePlace', () => {
  const parts = boardParts(document, 'own');

  test('a part alone means its main field', () => {
    expect(valuePlace(parts, 'R1')).toEqual({ part: 'R1', steps: ['resistance'] });
  });

  test('fields are followed as they are named', () => {
    expect(valuePlace(parts, 'R1.tolerance')).toEqual({ part: 'R1', steps: ['tolerance'] });
  });

  test('gives undefined for a part that is not there', () => {
    expect(valuePlace(parts, 'R9')).toBeUndefined();
  });
});

describe('boardParts', () => {
  test('a ready board has its own parts with the values that the document sets', () => {
    const parts = boardParts(document, 'ready');
    expect(parts.find((part) => part['name'] === 'R1')?.['resistance']).toBe('100 kΩ');
    expect(parts.some((part) => part['kind'] === 'timer')).toBe(true);
  });

  test('a board that does not exist has no parts', () => {
    expect(boardParts(document, 'nothing')).toEqual([]);
  });
});

describe('valueChange', () => {
  test('changes a part of a board in its place', () => {
    expect(valueAt(changed('own', 'R1', '47 kΩ'), ['boards', 'own', 'parts', 0, 'resistance'])).toBe('47 kΩ');
  });

  test('changes a place inside a list', () => {
    const change = valueChange(document, 'own', { part: 'S1', steps: ['presses', 0, 'for'] }, '0.5 s');
    expect(change).toEqual({ path: ['boards', 'own', 'parts', 1, 'presses', 0, 'for'], value: '0.5 s' });
  });

  test('on a ready board, writes under the name that sets the value already', () => {
    expect(valueAt(changed('ready', 'R1.resistance', '47 kΩ'), ['boards', 'ready', 'values'])).toEqual({ R1: '47 kΩ' });
  });

  test('on a ready board, gives a value that was not set a name of its own', () => {
    const values = valueAt(changed('ready', 'C1', '1 µF'), ['boards', 'ready', 'values']);
    expect(values).toEqual({ R1: '100 kΩ', 'C1.capacitance': '1 µF' });
  });

  test('on a ready board, writes the whole list when one place inside it changes, for names reach no positions', () => {
    const change = valueChange(document, 'ready', { part: 'S1', steps: ['presses', 0, 'for'] }, '0.5 s');
    expect(change?.path).toEqual(['boards', 'ready', 'values', 'S1.presses']);
    expect(valueAt(change?.value, [0, 'for'])).toBe('0.5 s');
    expect(valueAt(change?.value, [0, 'at'])).toBeDefined();
  });
});
