import type { Json } from '#notebook/edit/json.ts';
import { withValue } from '#notebook/edit/path.ts';
import { staleCells } from '#notebook/runtime/dependence.ts';
import { describe, expect, test } from 'vitest';

const document: Json = {
  boards: { lamp: { parts: [{ name: 'R1' }] }, bell: { parts: [{ name: 'R1' }] } },
  page: [
    { id: 'intro', kind: 'note', text: 'The lamp burns for [width](#numbers.width).' },
    { id: 'circuit', kind: 'board', board: 'lamp' },
    { id: 'look', kind: 'trace', board: 'lamp' },
    { id: 'numbers', kind: 'reading', board: 'lamp' },
    { id: 'ring', kind: 'reading', board: 'bell' },
  ],
};

describe('staleCells', () => {
  test('every cell is to be computed at first', () => {
    expect(staleCells(undefined, document)).toEqual(['intro', 'circuit', 'look', 'numbers', 'ring']);
  });

  test('nothing is to be computed again when nothing changed', () => {
    expect(staleCells(document, document)).toEqual([]);
  });

  test('a value of a board concerns the cells of that board and the notes that quote them', () => {
    const after = withValue(document, ['boards', 'lamp', 'parts', 0, 'resistance'], '1k');
    expect(staleCells(document, after)).toEqual(['intro', 'circuit', 'look', 'numbers']);
  });

  test('a field of a cell concerns that cell and the notes that quote it', () => {
    expect(staleCells(document, withValue(document, ['page', 3, 'until'], '2 s'))).toEqual(['intro', 'numbers']);
    expect(staleCells(document, withValue(document, ['page', 2, 'until'], '2 s'))).toEqual(['look']);
  });

  test('a formula and a question depend on the boards and cells they name, in turn', () => {
    const page = (document as { page: readonly Json[] }).page;
    const more: Json = withValue(
      document,
      ['page'],
      [
        ...page,
        { id: 'rule', kind: 'formula', text: '1.1 * bell.R1 * 2 µF' },
        { id: 'off', kind: 'formula', text: 'rule - numbers.width' },
        { id: 'quiz', kind: 'ask', question: 'How far off?', answer: 'off' },
      ],
    );
    const ofBell = withValue(more, ['boards', 'bell', 'parts', 0, 'resistance'], '1k');
    expect(staleCells(more, ofBell)).toEqual(['ring', 'rule', 'off', 'quiz']);
    const ofLamp = withValue(more, ['boards', 'lamp', 'parts', 0, 'resistance'], '1k');
    expect(staleCells(more, ofLamp)).toEqual(['intro', 'circuit', 'look', 'numbers', 'off', 'quiz']);
  });

  test('a number that a knob of a board turns concerns its cell alone, as long as it is there', () => {
    const turned = withValue(document, ['page', 1, 'knobs'], ['#numbers.until']);
    const stated = withValue(turned, ['page', 3, 'until'], '1 s');
    expect(staleCells(stated, withValue(stated, ['page', 3, 'until'], '2 s'))).toEqual(['intro', 'numbers']);
    // Whether it is there decides whether the knob is right.
    expect(staleCells(turned, stated)).toEqual(['intro', 'circuit', 'numbers']);
    expect(staleCells(stated, withValue(stated, ['page', 3, 'board'], 'bell'))).toEqual([
      'intro',
      'circuit',
      'numbers',
    ]);
  });

  test('the title concerns no cell', () => {
    expect(staleCells(document, withValue(document, ['title'], 'Lamp'))).toEqual([]);
  });

  test('with links, every board concerns every cell that has one', () => {
    const linked = withValue(document, ['links'], [{ a: 'lamp.out', b: 'bell.in' }]);
    const after = withValue(linked, ['boards', 'bell', 'parts', 0, 'resistance'], '1k');
    expect(staleCells(linked, after)).toEqual(['intro', 'circuit', 'look', 'numbers', 'ring']);
  });

  test('notes that quote each other do not hang', () => {
    const circle: Json = {
      page: [
        { id: 'a', kind: 'note', text: '[x](#b.x)' },
        { id: 'b', kind: 'note', text: '[x](#a.x)' },
      ],
    };
    expect(staleCells(circle, withValue(circle, ['page', 0, 'text'], '[y](#b.y)'))).toEqual(['a', 'b']);
  });
});
