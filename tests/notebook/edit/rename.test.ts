import { nameComplaint, newReading, renameBoard, renameCell, renameReading } from '#notebook/edit/rename.ts';
import type { Edit } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { checkDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const page: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { lamp: { ready: 'monostable' }, other: { ready: 'astable' } },
  links: [{ a: 'lamp.out', b: 'other.control' }],
  page: [
    {
      id: 'words',
      kind: 'note',
      text: 'Lit for [so long](#numbers.lit); see [the numbers](#numbers), not [others](#numbers2.lit).',
    },
    {
      id: 'numbers',
      kind: 'reading',
      board: 'lamp',
      until: '8 s',
      take: { pressed: 'count(button)', lit: 'width(out)' },
    },
    { id: 'numbers2', kind: 'reading', board: 'other', until: '8 s', take: { lit: 'width(out)' } },
    'no cell at all',
  ],
};

const applied = ({ path, value }: Edit): Json => withValue(page, path, value);

describe('renaming', () => {
  test('renameCell takes links of notes along, those that look alike stay', () => {
    const document = applied(renameCell(page, 'numbers', 'measured'));
    expect(valueAt(document, ['page', 0, 'text'])).toBe(
      'Lit for [so long](#measured.lit); see [the numbers](#measured), not [others](#numbers2.lit).',
    );
    expect(valueAt(document, ['page', 1, 'id'])).toBe('measured');
    expect(valueAt(document, ['page', 2])).toBe(valueAt(page, ['page', 2]));
    expect(valueAt(document, ['page', 3])).toBe('no cell at all');
  });

  test('renameCell takes the expressions of formulas and questions along', () => {
    const asking = withValue(page, ['page', 0], {
      id: 'sum',
      kind: 'formula',
      text: '2 * numbers.lit + numbers2.lit / 3',
    });
    const { path, value } = renameCell(asking, 'numbers', 'measured');
    expect(valueAt(withValue(asking, path, value), ['page', 0, 'text'])).toBe('2 * measured.lit + numbers2.lit / 3');
  });

  test('renameReading keeps the order of the readings and takes quoted numbers along', () => {
    const document = applied(renameReading(page, 'numbers', 'lit', 'burns'));
    expect(Object.entries(valueAt(document, ['page', 1, 'take']) as object)).toEqual([
      ['pressed', 'count(button)'],
      ['burns', 'width(out)'],
    ]);
    expect(valueAt(document, ['page', 0, 'text'])).toContain('#numbers.burns');
    expect(valueAt(document, ['page', 0, 'text'])).toContain('#numbers2.lit');
  });

  test('renameBoard takes cells and links along', () => {
    const document = applied(renameBoard(page, 'lamp', 'platform'));
    expect(Object.keys(valueAt(document, ['boards']) as object)).toEqual(['platform', 'other']);
    expect(valueAt(document, ['page', 1, 'board'])).toBe('platform');
    expect(valueAt(document, ['links', 0])).toEqual({ a: 'platform.out', b: 'other.control' });
    expect(
      checkDocument(withValue(document, ['page', 3], { id: 'end', kind: 'note', text: '' })).unusable,
    ).toBeUndefined();
  });

  test('nameComplaint says what a name must be, and when it is taken', () => {
    expect(nameComplaint('look2', ['look'])).toBeUndefined();
    expect(nameComplaint('2nd look', [])).toContain('letter');
    expect(nameComplaint('__proto__', [])).toContain('letter');
    expect(nameComplaint('look', ['look'])).toContain('taken');
  });

  test('newReading names a reading after what it reads', () => {
    expect(newReading([], 'width(out)')).toBe('width');
    expect(newReading(['width', 'width2'], 'width(out)')).toBe('width3');
    expect(newReading([], '7')).toBe('reading');
  });
});
