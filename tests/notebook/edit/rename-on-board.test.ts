import type { Edit } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { renameNet, renamePart } from '#notebook/edit/rename-on-board.ts';
import { describe, expect, test } from 'vitest';

const parts: Json = [
  { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V' },
  { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '47 kΩ' },
  { name: 'R10', kind: 'resistor', a: 'rail', b: 'out', resistance: '1 kΩ' },
  {
    name: 'U1',
    kind: 'timer',
    pins: { supply: 'rail', ground: 'ground', trigger: 'timing', output: 'out', threshold: 'timing' },
  },
];
const page: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { lamp: { parts }, bell: { ready: 'monostable' } },
  links: [{ a: 'lamp.out', b: 'bell.control' }],
  page: [
    { id: 'board', kind: 'board', board: 'lamp', knobs: ['R1', 'R10', 'R1.tolerance'] },
    { id: 'look', kind: 'trace', board: 'lamp', until: '2 s', show: ['out', 'current(R1)', 'timing'] },
    {
      id: 'numbers',
      kind: 'reading',
      board: 'lamp',
      until: '2 s',
      take: { out: 'width(out)', R1: 'mean(timing)', loss: 'power(R1)' },
    },
    { id: 'rule', kind: 'formula', text: '1.1 * lamp.R1 * bell.C1 + numbers.R1 * bell.R1 / lamp.R10' },
    {
      id: 'holds',
      kind: 'claim',
      board: 'lamp',
      says: 'width(out) = 1.1 * R1 * C1 within 1 %',
      over: { R1: ['1 kΩ', '2 kΩ'] },
      until: '20 * R1 * C1',
    },
    {
      id: 'swept',
      kind: 'sweep',
      board: 'lamp',
      until: '2 s',
      vary: { value: 'R1.resistance', series: 'E12' },
      take: { w: 'width(out)' },
      against: { w: '1.1 * R1 * R10' },
    },
    {
      id: 'other',
      kind: 'reading',
      board: 'bell',
      until: '2 s',
      take: { w: 'width(out)', l: 'width(lamp.out)', p: 'power(R1)' },
    },
    { id: 'words', kind: 'note', text: 'R1 and [out](#numbers.out)' },
    {
      id: 'kit',
      kind: 'swaps',
      board: 'lamp',
      until: '2 s',
      parts: { R1: ['1 kΩ'], R10: ['2 kΩ'] },
      take: { w: 'width(out)' },
    },
    {
      id: 'measured',
      kind: 'capture',
      board: 'lamp',
      until: '2 s',
      data: 'lamp.csv',
      columns: { time: 't', out: 'CH1' },
      adjust: ['R1'],
      align: 'first(out)',
    },
  ],
};
const applied = ({ path, value }: Edit): Json => withValue(page, path, value);

describe('renaming on a board', () => {
  test('renamePart is followed by knobs, signals, readings, formulas, claims and studies; names alike stay', () => {
    const edit = renamePart(page, 'lamp', 'R1', 'RT');
    const document = applied(edit);
    const cell = (index: number, ...steps: string[]) => valueAt(document, ['page', index, ...steps]);
    expect(edit.label).toBe('name R1 RT');
    expect(valueAt(document, ['boards', 'lamp', 'parts', 1, 'name'])).toBe('RT');
    expect(cell(0, 'knobs')).toEqual(['RT', 'R10', 'RT.tolerance']);
    expect(cell(1, 'show')).toEqual(['out', 'current(RT)', 'timing']);
    expect(cell(2, 'take')).toEqual({ out: 'width(out)', R1: 'mean(timing)', loss: 'power(RT)' });
    expect(cell(3, 'text')).toBe('1.1 * lamp.RT * bell.C1 + numbers.R1 * bell.R1 / lamp.R10');
    expect(cell(4, 'says')).toBe('width(out) = 1.1 * RT * C1 within 1 %');
    expect(cell(4, 'over')).toEqual({ RT: ['1 kΩ', '2 kΩ'] });
    expect(cell(4, 'until')).toBe('20 * RT * C1');
    expect(cell(5, 'vary', 'value')).toBe('RT.resistance');
    expect(cell(8, 'parts')).toEqual({ RT: ['1 kΩ'], R10: ['2 kΩ'] });
    expect(cell(9, 'adjust')).toEqual(['RT']);
    for (const index of [6, 7]) expect(cell(index)).toBe(valueAt(page, ['page', index]));
  });

  test('renameNet is followed by every part on it, readings, claims, captures and links', () => {
    const document = applied(renameNet(page, 'lamp', 'out', 'lit'));
    const cell = (index: number, ...steps: string[]) => valueAt(document, ['page', index, ...steps]);
    expect(valueAt(document, ['boards', 'lamp', 'parts', 2, 'b'])).toBe('lit');
    expect(valueAt(document, ['boards', 'lamp', 'parts', 3, 'pins', 'output'])).toBe('lit');
    expect(valueAt(document, ['links', 0])).toEqual({ a: 'lamp.lit', b: 'bell.control' });
    expect(cell(1, 'show')).toEqual(['lit', 'current(R1)', 'timing']);
    expect(cell(2, 'take')).toEqual({ out: 'width(lit)', R1: 'mean(timing)', loss: 'power(R1)' });
    expect(cell(4, 'says')).toBe('width(lit) = 1.1 * R1 * C1 within 1 %');
    expect(cell(6, 'take')).toEqual({ w: 'width(out)', l: 'width(lamp.lit)', p: 'power(R1)' });
    expect(cell(9, 'columns')).toEqual({ time: 't', lit: 'CH1' });
    expect(cell(9, 'align')).toBe('first(lit)');
    expect(cell(3)).toBe(valueAt(page, ['page', 3]));
  });

  test('a part and a net of one name are told apart by where they stand', () => {
    const same = withValue(page, ['boards', 'lamp', 'parts', 1, 'name'], 'out');
    const asked = withValue(same, ['page', 1, 'show'], ['out', 'current(out)']);
    const said = withValue(asked, ['page', 4, 'says'], 'width(out) = 1.1 * out * (C1 + 1 F)');
    const { path, value } = renamePart(said, 'lamp', 'out', 'RT');
    const document = withValue(said, path, value);
    expect(valueAt(document, ['page', 1, 'show'])).toEqual(['out', 'current(RT)']);
    expect(valueAt(document, ['page', 4, 'says'])).toBe('width(out) = 1.1 * RT * (C1 + 1 F)');
    expect(valueAt(document, ['boards', 'lamp', 'parts', 2, 'b'])).toBe('out');
  });
});

test('renamePart takes the contacts of a trace along, also where a net has the same name', () => {
  const relay = { name: 'K1', kind: 'relay', a: 'K1', b: 'ground', common: 'rail', normallyOpen: 'up' };
  const look = {
    id: 'look',
    kind: 'trace',
    board: 'lamp',
    until: '2 s',
    show: ['contact(K1)', 'contact(K1.normallyOpen)', 'K1'],
  };
  const document: Json = { boards: { lamp: { parts: [relay] } }, page: [look] };
  const { path, value } = renamePart(document, 'lamp', 'K1', 'K7');
  const show = valueAt(withValue(document, path, value), ['page', 0, 'show']);
  expect(show).toEqual(['contact(K7)', 'contact(K7.normallyOpen)', 'K1']);
});
