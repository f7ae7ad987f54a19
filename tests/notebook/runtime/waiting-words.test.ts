import { cellsOf } from '#notebook/runtime/cells.ts';
import { type Awaited, waitingWords } from '#notebook/runtime/waiting-words.ts';
import { describe, expect, test } from 'vitest';

const cells = cellsOf({
  page: [
    { id: 'why', kind: 'note', text: 'It lasts [width](#numbers.width).' },
    { id: 'look', kind: 'trace', board: 'counter', until: '6 s', show: ['out'] },
    { id: 'numbers', kind: 'reading', board: 'counter', until: '6 s', take: { width: 'width(out)' } },
    { id: 'speeds', kind: 'sweep', board: 'counter', until: '6 s' },
    { id: 'kits', kind: 'swaps', board: 'counter', until: '6 s' },
  ],
});

/** What a cell says while all of these wait. */
function words(id: string, awaited: Awaited | 'measurement', waiting: readonly string[]): string {
  const cell = cells.find((each) => each.id === id);
  if (cell === undefined) throw new Error('no such cell');
  return waitingWords(cell, cells, awaited, (each) => waiting.includes(each));
}

describe('waitingWords', () => {
  test('names the engine while no worker is there', () => {
    expect(words('look', 'engine', ['look'])).toBe('waits until the engine has started');
  });

  test('names the file of a measurement', () => {
    expect(words('look', 'measurement', ['look'])).toBe('waits until the file of its measurement is read');
  });

  test('names the cells whose numbers are used before anything else', () => {
    expect(words('why', ['why', 'numbers'], ['why', 'numbers'])).toBe(
      'waits for the reading numbers, whose result it uses',
    );
  });

  test('names cells that are computed first, by what their kind is called, as many as wait', () => {
    expect(words('kits', ['speeds'], ['speeds', 'kits'])).toBe('waits for the sweep speeds, which is computed first');
    expect(words('speeds', ['kits'], ['speeds', 'kits'])).toBe('waits for the kit kits, which is computed first');
    expect(words('speeds', ['look', 'numbers'], ['look', 'numbers', 'speeds'])).toBe(
      'waits for the trace look and the reading numbers, which are computed first',
    );
    expect(words('kits', ['why', 'look', 'numbers', 'speeds'], ['why', 'look', 'numbers', 'speeds', 'kits'])).toBe(
      'waits for the note why, the trace look and 2 more, which are computed first',
    );
  });

  test('leaves out what has come already or is not on the page', () => {
    expect(words('kits', ['look', 'numbers'], ['numbers', 'kits'])).toBe(
      'waits for the reading numbers, which is computed first',
    );
    expect(words('kits', ['gone'], ['gone', 'kits'])).toBe('is next to be computed');
  });

  test('says that it is being computed once it is its turn, and what it waits for while values before are', () => {
    expect(words('look', ['look', 'numbers'], ['look', 'numbers'])).toBe('is being computed');
    expect(words('look', 'run before', ['look'])).toBe('waits until the run of the values before has ended');
  });
});
