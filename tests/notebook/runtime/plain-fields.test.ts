import { cellsOf } from '#notebook/runtime/cells.ts';
import { cellSummary } from '#notebook/runtime/cell-summary.ts';
import { plainFields } from '#notebook/runtime/plain-fields.ts';
import { describe, expect, test } from 'vitest';

const [note, trace, ask] = cellsOf({
  page: [
    { id: 'words', kind: 'note', text: '# Lamp\n\nLit for [so long](#numbers.lit), *on request*.' },
    { id: 'look', kind: 'trace', board: 'lamp', until: '8 s', show: ['button', 'out'] },
    { id: 'guess', kind: 'ask', question: 'How long?', answer: 'numbers.lit' },
  ],
});

describe('plainFields(cell)', () => {
  test('gives every field that no element shows', () => {
    if (ask === undefined) throw new Error('there must be a question');
    expect(plainFields(ask)).toMatchObject([
      { name: 'question', text: 'How long?' },
      { name: 'answer', text: 'numbers.lit' },
      { name: 'within', text: '' },
    ]);
  });

  test('gives none where the page shows all fields itself', () => {
    if (trace === undefined) throw new Error('there must be a trace');
    expect(plainFields(trace)).toEqual([]);
  });
});

describe('cellSummary(cell)', () => {
  test('is the first words of a note without its marks, and what another cell is about', () => {
    if (note === undefined || trace === undefined || ask === undefined) throw new Error('there must be cells');
    expect(cellSummary(note)).toBe('Lamp Lit for so long, on request.');
    expect(cellSummary(trace)).toBe('trace of lamp: button, out until 8 s');
    expect(cellSummary(ask)).toBe('ask: How long?');
    expect(cellSummary({ ...note, data: { text: '' } })).toBe('note');
    expect(cellSummary({ ...note, data: { text: 'word '.repeat(50) } }).length).toBeLessThan(95);
  });
});
