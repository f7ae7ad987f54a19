import { openHistory, record, undo } from '#notebook/edit/history.ts';
import { loadPoint, pointText } from '#notebook/edit/load-point.ts';
import { describe, expect, test } from 'vitest';

const document = {
  boards: {
    drawer: { ready: 'frequency divider', values: { R1: '2 kΩ', C1: '220 µF' } },
    lamp: { parts: [{ name: 'R1', kind: 'resistor', resistance: '1 kΩ', nets: { a: 'x', b: 'y' } }] },
  },
};
const r1 = { name: 'R1', unit: 'Ω', value: 1.65e3 } as const;
const period = { name: 'G1.wave.period', unit: 's', value: 0.16 } as const;

describe('loadPoint', () => {
  test('gives a ready board both values in one edit', () => {
    const edit = loadPoint(document, 'drawer', [r1, period]);
    expect(edit).toEqual({
      path: ['boards', 'drawer'],
      value: {
        ready: 'frequency divider',
        values: { R1: '1.65 kΩ', C1: '220 µF', 'G1.wave.period': '160 ms' },
      },
      label: 'R1 to 1.65\u202fkΩ and G1 period to 160\u202fms',
    });
  });

  test('is one step of undo', () => {
    const before = openHistory(document);
    const edit = loadPoint(document, 'drawer', [r1, period]);
    if (edit === undefined) throw new Error('the point must be loaded');
    const after = record(before, edit);
    expect(after.past).toHaveLength(1);
    expect(undo(after).document).toEqual(document);
  });

  test('changes a part of a board that has its own parts in place', () => {
    const edit = loadPoint(document, 'lamp', [r1]);
    expect(edit?.value).toMatchObject({ parts: [{ name: 'R1', resistance: '1.65 kΩ' }] });
  });

  test('writes every digit that the point has', () => {
    const edit = loadPoint(document, 'drawer', [{ ...r1, value: 1234.567891 }]);
    expect(edit?.value).toMatchObject({ values: { R1: '1.234567891 kΩ' } });
  });

  test('gives nothing where a name means no value of the board', () => {
    expect(loadPoint(document, 'drawer', [r1, { ...period, name: 'R9' }])).toBeUndefined();
  });
});

describe('pointText', () => {
  test.each([
    [0.16, 's', '160\u202fms'],
    [0.51523648, 's', '515.24\u202fms'],
    [2.6666666, null, '2.6667'],
    [3, null, '3'],
  ] as const)('%d %s is %s', (value, unit, text) => {
    expect(pointText(value, unit)).toBe(text);
  });
});
