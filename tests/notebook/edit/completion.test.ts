import { complete } from '#notebook/edit/completion.ts';
import { boardNames, readingWords, signalNames } from '#notebook/edit/board-names.ts';
import { describe, expect, test } from 'vitest';

const names = ['rail', 'timing', 'out', 'width', 'widths'];

describe('complete(text, caret, names)', () => {
  test('offers names that begin with the word at the caret, then those that contain it', () => {
    expect(complete('width(ti', 8, names)).toEqual({ start: 6, end: 8, names: ['timing'] });
    expect(complete('i', 1, names)?.names).toEqual(['rail', 'timing', 'width', 'widths']);
    expect(complete('WID', 3, names)?.names).toEqual(['width', 'widths']);
  });

  test('takes in the rest of the word behind the caret', () => {
    expect(complete('in, tim, out', 6, names)).toEqual({ start: 4, end: 7, names: ['timing'] });
  });

  test('offers nothing without a word, without a fit, or when the word is whole', () => {
    expect(complete('', 0, names)).toBeUndefined();
    expect(complete('in, ', 4, names)).toBeUndefined();
    expect(complete('xyz', 3, names)).toBeUndefined();
    expect(complete('timing', 6, names)).toBeUndefined();
  });
});

describe('the names on a board', () => {
  const document = { boards: { lamp: { ready: 'monostable' } } };

  test('boardNames finds nets of parts and of timer pins, without the board being computed', () => {
    const { nets, timers, currents } = boardNames(document, 'lamp');
    expect(nets).toEqual(expect.arrayContaining(['rail', 'ground', 'timing', 'button', 'out', 'lamp', 'control']));
    expect(timers).toEqual(['U1']);
    expect(currents).not.toContain('U1');
    expect(boardNames(document, 'nobody').nets).toEqual([]);
  });

  test('signalNames and readingWords hold what may be written', () => {
    expect(signalNames(document, 'lamp')).toContain('current(D1)');
    expect(readingWords(document, 'lamp')).toEqual(expect.arrayContaining(['width', 'out', 'D1']));
  });
});
