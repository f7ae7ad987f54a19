import type { Json } from '#notebook/edit/json.ts';
import { partViews, valueView } from '#notebook/runtime/board-view.ts';
import { type BoardResult, computeCell, parseDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const document: Json = {
  format: 'two-thirds',
  version: 1,
  boards: {
    lamp: {
      ready: 'monostable',
      values: {
        R1: '100 kΩ',
        'S1.presses': [
          { at: '1 s', for: '0.2 s' },
          { at: 3, for: 1 },
        ],
      },
    },
    steps: {
      parts: [
        { name: 'R1', kind: 'resistor', a: 'in', b: 'ground', resistance: 4700 },
        {
          name: 'G1',
          kind: 'signal',
          plus: 'in',
          minus: 'ground',
          wave: {
            shape: 'points',
            points: [
              [0, 5],
              [0.4, 0],
            ],
            between: 'steps',
          },
        },
      ],
    },
  },
  page: [
    { id: 'lamp', kind: 'board', board: 'lamp' },
    { id: 'steps', kind: 'board', board: 'steps' },
  ],
};

function result(board: string): BoardResult {
  const parsed = parseDocument(JSON.stringify(document)).document;
  if (parsed === undefined) throw new Error('the document must be usable');
  const computed = computeCell(parsed, board);
  if (computed.kind !== 'board' || !computed.ok) throw new Error(JSON.stringify(computed));
  return computed;
}

const valuesOf = (board: string, part: string) =>
  partViews(document, board, result(board))
    .find((each) => each.name === part)
    ?.values.filter((value) => value.given);

describe('partViews', () => {
  test('lists every part with what was given, and with its defaults and their source', () => {
    const parts = partViews(document, 'lamp', result('lamp'));
    expect(parts.map((part) => part.name)).toContain('C1');
    const tolerance = parts.find((part) => part.name === 'R1')?.values.find((value) => value.name === 'R1.tolerance');
    expect(tolerance?.given).toBe(false);
  });

  test('shows what is typed, not what it is read as', () => {
    expect(valuesOf('lamp', 'R1')?.[0]).toMatchObject({ name: 'R1.resistance', text: '100 kΩ', unit: 'Ω', value: 1e5 });
    expect(valuesOf('steps', 'R1')?.[0]).toMatchObject({ text: '4.7 kΩ', value: 4700 });
  });

  test('takes lists apart into their values, each with a word before it', () => {
    expect(valuesOf('lamp', 'S1')?.map(({ name, word, text }) => [name, word, text])).toEqual([
      ['S1.presses[0].at', '1. at', '1 s'],
      ['S1.presses[0].for', 'for', '0.2 s'],
      ['S1.presses[1].at', '2. at', '3 s'],
      ['S1.presses[1].for', 'for', '1 s'],
    ]);
  });

  test('shows a wave given by points as times and voltages', () => {
    expect(valuesOf('steps', 'G1')?.map(({ word, title, text }) => `${word} ${text} (${title})`)).toEqual([
      'shape points (shape)',
      'between steps (between)',
      '1. 0 s (point 1 time)',
      '→ 5 V (point 1 voltage)',
      '2. 400 ms (point 2 time)',
      '→ 0 V (point 2 voltage)',
    ]);
  });

  test('stays complete without any result', () => {
    const parts = partViews(document, 'steps', undefined);
    expect(parts.map((part) => part.name)).toEqual(['R1', 'G1']);
    expect(parts[0]?.values.map((value) => value.name)).toEqual(['R1.resistance']);
  });

  test('a board that does not exist has no parts', () => {
    expect(partViews(document, 'nothing', undefined)).toEqual([]);
  });
});

describe('valueView', () => {
  test('finds a value by the short name a knob uses', () => {
    expect(valueView(document, 'lamp', 'R1', result('lamp'))?.name).toBe('R1.resistance');
    expect(valueView(document, 'lamp', 'R9', result('lamp'))).toBeUndefined();
  });
});
