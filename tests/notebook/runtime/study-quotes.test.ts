import type { CellStates } from '#notebook/runtime/cell-state.ts';
import { withStudyQuotes } from '#notebook/runtime/study-quotes.ts';
import { describe, expect, test } from 'vitest';
import { sweep } from '../../support/example-studies.ts';

const document = {
  page: [
    {
      id: 'words',
      kind: 'note',
      text: 'From [jump](#speeds.first_jump) on, of [so many](#speeds.jumps), [width](#numbers.width).',
    },
    { id: 'other', kind: 'note', text: 'See [there](#speeds).' },
    { id: 'speeds', kind: 'sweep', board: 'drawer' },
    { id: 'numbers', kind: 'reading', board: 'drawer' },
  ],
};
const current = { fault: undefined, phase: 'current' } as const;
const note = { kind: 'note', ok: true, quotes: { 'speeds.jumps': 'no value', 'numbers.width': '0.5 s' } } as const;
const states: CellStates = {
  words: { ...current, shown: note },
  other: { ...current, shown: { kind: 'note', ok: true, quotes: {} } },
  speeds: { ...current, shown: sweep },
};

describe('withStudyQuotes(document, states)', () => {
  const changed = withStudyQuotes(document, states);

  test('puts what a study has given into the notes that quote it, and leaves other numbers alone', () => {
    expect(changed['words']?.shown).toEqual({
      ...note,
      quotes: { 'speeds.first_jump': '165\u202fms', 'speeds.jumps': '1', 'numbers.width': '0.5 s' },
    });
  });

  test('leaves everything else the very same', () => {
    expect(changed['other']).toBe(states['other']);
    expect(changed['speeds']).toBe(states['speeds']);
    expect(withStudyQuotes(document, changed)).toBe(changed);
    expect(withStudyQuotes({ page: [] }, states)).toBe(states);
  });

  test('shows no value while there is none', () => {
    const waiting: CellStates = { ...states, speeds: { shown: undefined, fault: undefined, phase: 'waiting' } };
    const shown = withStudyQuotes(document, waiting)['words']?.shown;
    expect(shown?.kind === 'note' && shown.quotes['speeds.jumps']).toBe('no value');
  });
});
