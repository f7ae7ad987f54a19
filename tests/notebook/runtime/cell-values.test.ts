import type { Json, JsonRecord } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { cellValueEdit, cellValues, valuesByField } from '#notebook/runtime/cell-values.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { describe, expect, test } from 'vitest';

/** The cell of a page of one cell, on the axle counter. */
function only(cell: JsonRecord) {
  const document: Json = {
    boards: { counter: { ready: 'frequency divider' } },
    page: [{ id: 'cell', board: 'counter', until: '6 s', ...cell }],
  };
  const [found] = cellsOf(document);
  if (found === undefined) throw new Error('there must be a cell');
  return { document, cell: found, values: cellValues(document, found) };
}
/** What the numbers of a cell are called, with what they are and where they stand. */
const told = (cell: JsonRecord) => only(cell).values.map(({ title, measure, text }) => [title, measure, text]);

describe('cellValues', () => {
  test('tells times by their fields, what holds while one is left out included', () => {
    expect(told({ kind: 'trace' })).toEqual([
      ['cell from', 's', '0 s'],
      ['cell until', 's', '6 s'],
    ]);
    expect(only({ kind: 'trace' }).values.map(({ value }) => value)).toEqual([0, 6]);
    expect(only({ kind: 'trace', until: 'soon' }).values[1]).toMatchObject({ text: 'soon', value: undefined });
  });

  test('takes the unit of a range from its value, and tells the two of a map apart', () => {
    const x = { value: 'R1', from: '47k', to: 470e3 };
    const y = { value: 'G1.wave.period', values: ['100 ms', '150 ms'] };
    expect(told({ kind: 'map', x, y, levels: [1.5] }).slice(0, -2)).toEqual([
      ['cell x from', 'Ω', '47k'],
      ['cell x to', 'Ω', '470 kΩ'],
      ['cell x steps', 'count', '50'],
      ['cell y value 1', 's', '100 ms'],
      ['cell y value 2', 's', '150 ms'],
      ['cell line 1', 'number', '1.5'],
    ]);
  });

  test('tells what each number of a spread, a choice and a claim is about', () => {
    const take = { width: 'width(out)' };
    const parts = { R1: '5 %', BT1: ['10 V', '14 V'] };
    expect(told({ kind: 'spread', take, parts, limits: { width: ['0.4 s', null] } }).slice(0, -2)).toEqual([
      ['cell R1 within', 'tolerance', '5 %'],
      ['cell BT1 from', 'V', '10 V'],
      ['cell BT1 to', 'V', '14 V'],
      ['cell width at least', 's', '0.4 s'],
      ['cell samples', 'count', '10000'],
    ]);
    const want = { value: { reading: 'width(out)', value: '500 ms', within: '20 ms' } };
    const adjust = { C1: ['2.2 µF', '4.7 µF'], R1: { series: 'E12', from: '1 kΩ', to: '1 MΩ' } };
    expect(told({ kind: 'choose', want, adjust, stock: ['10 kΩ', '4n7', '100'] }).slice(0, -2)).toEqual([
      ['cell value wanted', 's', '500 ms'],
      ['cell value within', 's', '20 ms'],
      ['cell C1 value 1', 'F', '2.2 µF'],
      ['cell C1 value 2', 'F', '4.7 µF'],
      ['cell R1 from', 'Ω', '1 kΩ'],
      ['cell R1 to', 'Ω', '1 MΩ'],
      ['cell stock 1', 'Ω', '10 kΩ'],
      // A letter code says of what it is (IEC 60062), a number alone does not.
      ['cell stock 2', 'F', '4n7'],
    ]);
    const swaps = { kind: 'swaps', parts: { R1: ['47 kΩ', 'none'] }, take };
    expect(told(swaps)[0]).toEqual(['cell R1 value 1', 'Ω', '47 kΩ']);
    expect(told({ kind: 'symptoms', take, seen: { width: '0.2 s' } })[0]).toEqual(['cell width seen', 's', '0.2 s']);
    expect(told({ kind: 'ask', answer: 'x' })).toEqual([['cell within', 'tolerance', '5 %']]);
  });

  test('knows what each number must lie above or below', () => {
    const bounds = (cell: JsonRecord) => Object.fromEntries(only(cell).values.map((each) => [each.place, each.bounds]));
    expect(bounds({ kind: 'trace', from: '1 s' })).toEqual({ from: { below: 6 }, until: { above: 1 } });
    const spread = { kind: 'spread', take: { width: 'width(out)' }, limits: { width: ['400 ms', '600 ms'] } };
    expect(bounds(spread)).toMatchObject({
      'limits.width[0]': { below: 0.6 },
      'limits.width[1]': { above: 0.4 },
      samples: { least: 1, greatest: 1e6 },
    });
  });
});

describe('cellValueEdit', () => {
  test('writes plain numbers where they are plain, and text with its unit elsewhere', () => {
    const { document, cell, values } = only({ kind: 'spread', take: { width: 'width(out)' }, parts: { R1: '5 %' } });
    const write = (place: string, text: string) => {
      const value = values.find((each) => each.place === place);
      const edit = value === undefined ? undefined : cellValueEdit(cell, value, text);
      return edit === undefined ? undefined : withValue(document, edit.path, edit.value);
    };
    expect(valueAt(write('samples', '500'), ['page', 0, 'samples'])).toBe(500);
    expect(valueAt(write('samples', 'many'), ['page', 0, 'samples'])).toBe('many');
    expect(valueAt(write('until', '8 s'), ['page', 0, 'until'])).toBe('8 s');
    expect(valueAt(write('parts.R1', '10 %'), ['page', 0, 'parts', 'R1'])).toBe('10 %');
    // Nothing is left out that must be there.
    expect(write('until', '')).toBeUndefined();
    expect(valueAt(write('from', ''), ['page', 0])).not.toHaveProperty('from');
    const [until] = values.filter(({ place }) => place === 'until');
    expect(until && cellValueEdit(cell, until, '8 s')?.label).toBe('cell.until to 8 s');
  });
});

test('valuesByField puts every number at the innermost field that it stands in', () => {
  const parts = { R1: '5 %', 'G1.wave.period': ['100 ms', '200 ms'] };
  const { values } = only({ kind: 'spread', take: { width: 'width(out)' }, parts });
  const found = valuesByField(values, ['parts.R1', 'parts["G1.wave.period"]', 'parts', 'samples', 'until', 'fro']);
  const words = [...found].map(([field, each]) => [field, each.map(({ word }) => word)]);
  expect(words).toEqual([
    ['parts.R1', ['R1']],
    ['parts["G1.wave.period"]', ['from', 'to']],
    ['samples', ['samples']],
    ['until', ['until']],
  ]);
});
