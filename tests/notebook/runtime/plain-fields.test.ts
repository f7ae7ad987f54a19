import { cellsOf } from '#notebook/runtime/cells.ts';
import { cellSummary } from '#notebook/runtime/cell-summary.ts';
import { plainFields, plainValue } from '#notebook/runtime/plain-fields.ts';
import { describe, expect, test } from 'vitest';

const [sweep, note, trace, ask] = cellsOf({
  page: [
    {
      id: 'swept',
      kind: 'sweep',
      board: 'lamp',
      until: '20 s',
      vary: { value: 'R1', from: '100 kΩ', to: '1 MΩ', steps: 20 },
      take: { lit: 'width(out)' },
    },
    { id: 'words', kind: 'note', text: '# Lamp\n\nLit for [so long](#numbers.lit), *on request*.' },
    { id: 'look', kind: 'trace', board: 'lamp', until: '8 s', show: ['button', 'out'] },
    { id: 'guess', kind: 'ask', question: 'How long?', answer: 'numbers.lit' },
  ],
});

describe('plainFields(cell)', () => {
  test('gives every field that no element shows, inner ones by their place', () => {
    if (sweep === undefined || ask === undefined) throw new Error('there must be cells');
    const fields = plainFields(sweep);
    expect(fields.find(({ name }) => name === 'vary.from')).toMatchObject({ text: '100 kΩ', path: ['vary', 'from'] });
    expect(fields.find(({ name }) => name === 'take.lit')).toMatchObject({ text: 'width(out)' });
    expect(fields.find(({ name }) => name === 'vary.values')).toMatchObject({ text: '', raw: undefined });
    expect(fields.find(({ name }) => name === 'against')).toMatchObject({ text: '', path: ['against'] });
    const ruled = { ...sweep, data: { ...sweep.data, against: { lit: '1.1 * R1 * C1' } } };
    expect(plainFields(ruled).find(({ name }) => name === 'against.lit')).toMatchObject({
      text: '1.1 * R1 * C1',
      path: ['against', 'lit'],
      words: 'lit against the rule of thumb',
    });
    expect(plainFields(ask).map(({ name }) => name)).toEqual(['question', 'answer', 'within']);
  });

  test('gives none where the page shows all fields itself', () => {
    if (trace === undefined) throw new Error('there must be a trace');
    expect(plainFields(trace)).toEqual([]);
  });
});

describe('plainValue(field, typed)', () => {
  const field = (name: string, raw?: string | number) => ({ name, path: [name], words: '', text: '', raw });

  test('keeps quantities as text, counts as numbers, and makes lists where lists are meant', () => {
    expect(plainValue(field('vary.from', '1 kΩ'), '2 kΩ')).toBe('2 kΩ');
    expect(plainValue(field('vary.steps', 20), '30')).toBe(30);
    expect(plainValue(field('vary.values'), '1 kΩ, 22000')).toEqual(['1 kΩ', 22000]);
    expect(plainValue(field('timer', 'U1'), '')).toBeUndefined();
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
