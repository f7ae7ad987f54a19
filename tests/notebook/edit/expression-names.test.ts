import {
  claimNames,
  formulaNames,
  linkNames,
  numberNames,
  readingParts,
  type OfferedName,
} from '#notebook/edit/expression-names.ts';
import { describe, expect, test } from 'vitest';

/** The axle counter of Fernhollow Junction, with a cell of every kind that gives numbers. */
const page = {
  boards: {
    coaches: { ready: 'frequency divider' },
    lamp: {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V' },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'out', resistance: '68 kΩ' },
        { name: 'S1', kind: 'button', a: 'rail', b: 'out' },
      ],
    },
  },
  page: [
    { id: 'intro', kind: 'note', text: '' },
    { id: 'board', kind: 'board', board: 'coaches' },
    { id: 'numbers', kind: 'reading', board: 'coaches', until: '6 s', take: { width: 'width(out)' } },
    { id: 'why', kind: 'fates', board: 'coaches', until: '6 s' },
    { id: 'rule', kind: 'formula', text: '1.1 * coaches.R1 * coaches.C1' },
  ],
};

function names(offered: readonly OfferedName[]): string[] {
  return offered.map(({ name }) => name);
}

describe('numberNames(document)', () => {
  test('holds the numbers of readings, fates, formulas and rules of thumb, then the values of boards', () => {
    const found = names(numberNames(page));
    expect(found.slice(0, 2)).toEqual(['board.interval', 'board.ratio']);
    expect(found).toEqual(
      expect.arrayContaining(['numbers.width', 'why.started', 'rule', 'coaches.R1', 'lamp.R1', 'lamp.BT1']),
    );
    // What is pressed or says a family has no number.
    expect(found).not.toContain('lamp.S1');
    expect(found).not.toContain('coaches.U1');
    expect(found).not.toContain('intro');
  });

  test('is empty for what is no page', () => {
    expect(numberNames(null)).toEqual([]);
    expect(numberNames({ page: [{ id: 'numbers', kind: 'reading', take: 'width(out)' }], boards: [] })).toEqual([]);
  });
});

test('formulaNames(document) adds the functions, and says what each of them gives', () => {
  expect(formulaNames(page)).toContainEqual({ name: 'sqrt', what: 'square root' });
  expect(names(formulaNames(page))).toContain('numbers.width');
});

test('linkNames(document) holds every cell once, formulas by their value', () => {
  const found = names(linkNames(page));
  expect(found).toEqual(expect.arrayContaining(['numbers.width', 'intro', 'rule']));
  expect(found.filter((name) => name === 'rule')).toHaveLength(1);
  expect(found).not.toContain('coaches.R1');
});

test('readingParts(document, board) holds nets, parts, readings and edges of that board alone', () => {
  expect(names(readingParts(page, 'lamp'))).toEqual(expect.arrayContaining(['rail', 'out', 'R1', 'width', 'fall']));
  expect(names(readingParts(page, 'lamp'))).not.toContain('timing');
  expect(names(readingParts(page, 'nobody'))).not.toContain('R1');
});

test('claimNames(document, board) holds values of its parts by their bare names', () => {
  expect(names(claimNames(page, 'lamp'))).toEqual(expect.arrayContaining(['width', 'out', 'R1', 'sqrt', 'within']));
});
