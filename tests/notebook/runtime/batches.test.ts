import type { Json } from '#notebook/edit/json.ts';
import { batches } from '#notebook/runtime/batches.ts';
import { describe, expect, test } from 'vitest';

const document: Json = {
  page: [
    { id: 'intro', kind: 'note', text: 'It lasts [width](#numbers.width); the rule says [T](#circuit.interval).' },
    { id: 'circuit', kind: 'board', board: 'lamp' },
    { id: 'look', kind: 'trace', board: 'lamp', until: '2 s' },
    { id: 'numbers', kind: 'reading', board: 'lamp', until: '6 s' },
    { id: 'why', kind: 'fates', board: 'lamp', until: '6 s' },
    { id: 'ring', kind: 'reading', board: 'bell', until: '6 s' },
    { id: 'words', kind: 'note', text: 'Nothing to compute.' },
  ],
};
const all = ['intro', 'circuit', 'look', 'numbers', 'why', 'ring', 'words'];

describe('batches', () => {
  test('cells that share a run go together, notes with what they quote, and what needs no run goes first', () => {
    expect(batches(document, all)).toEqual([['circuit', 'words'], ['intro', 'numbers', 'why'], ['look'], ['ring']]);
  });

  test('what is in sight goes before the rest, a trace before all', () => {
    const inSight = (...ids: string[]): string[][] => batches(document, all, (id) => ids.includes(id));
    expect(inSight('ring')).toEqual([['circuit', 'words'], ['ring'], ['intro', 'numbers', 'why'], ['look']]);
    expect(inSight('why', 'look')).toEqual([['circuit', 'words'], ['look'], ['intro', 'numbers', 'why'], ['ring']]);
  });

  test('where runs are quick, traces in sight go before what needs no run', () => {
    const inSight = (...ids: string[]): string[][] => batches(document, all, (id) => ids.includes(id), true);
    expect(inSight('why', 'look')).toEqual([['look'], ['circuit', 'words'], ['intro', 'numbers', 'why'], ['ring']]);
    expect(inSight('why')).toEqual([['circuit', 'words'], ['intro', 'numbers', 'why'], ['look'], ['ring']]);
  });

  test('only the cells asked for are in them', () => {
    expect(batches(document, ['why', 'look'])).toEqual([['look'], ['why']]);
    expect(batches(document, [])).toEqual([]);
  });

  test('a note that quotes two runs brings their cells together', () => {
    const page = [
      { id: 'look', kind: 'trace', board: 'lamp', until: '2 s' },
      { id: 'a', kind: 'reading', board: 'lamp', until: '6 s' },
      { id: 'b', kind: 'reading', board: 'bell', until: '6 s' },
      { id: 'both', kind: 'note', text: '[x](#a.x) and [y](#b.y)' },
    ];
    expect(batches({ page }, ['look', 'a', 'b', 'both'])).toEqual([['look'], ['a', 'b', 'both']]);
  });

  test('a formula and a question go with the runs behind the cells they name, however far back', () => {
    const page = [
      { id: 'a', kind: 'reading', board: 'lamp', until: '6 s' },
      { id: 'rule', kind: 'formula', text: '1.1 * lamp.R1' },
      { id: 'off', kind: 'formula', text: 'rule - a.width' },
      { id: 'quiz', kind: 'ask', answer: 'off' },
      { id: 'round', kind: 'formula', text: 'round' },
    ];
    expect(batches({ page }, ['a', 'rule', 'off', 'quiz', 'round'])).toEqual([
      ['rule', 'round'],
      ['a', 'off', 'quiz'],
    ]);
  });

  test('a note that quotes a cell that is not there needs no run', () => {
    expect(batches({ page: [{ id: 'n', kind: 'note', text: '[x](#gone.x)' }] }, ['n'])).toEqual([['n']]);
  });
});
