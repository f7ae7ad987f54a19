import { complete, completeLink } from '#notebook/edit/completion.ts';
import { boardNames, signalNames } from '#notebook/edit/board-names.ts';
import { describe, expect, test } from 'vitest';

const names = ['rail', 'timing', 'out', 'width', 'widths'];

describe('complete(text, caret, names)', () => {
  test('offers names that begin with the word at the caret, then those that contain it', () => {
    expect(complete('width(ti', 8, names)).toEqual({ start: 6, end: 8, names: ['timing'] });
    expect(complete('i', 1, names)?.names).toEqual(['rail', 'timing', 'width', 'widths']);
    expect(complete('WID', 3, names)?.names).toEqual(['width', 'widths']);
  });

  test('offers numbers of cells with and without their sign, and to the end of a quoted name', () => {
    const knobs = ['R1', '#look.until', '#look.from', '#kits.parts["G1.wave.period"]'];
    expect(complete('R1, #lo', 7, knobs)).toEqual({ start: 4, end: 7, names: ['#look.until', '#look.from'] });
    expect(complete('look.un', 7, knobs)).toEqual({ start: 0, end: 7, names: ['#look.until'] });
    expect(complete('#kits.parts["G1', 15, knobs)).toMatchObject({ start: 0, names: [knobs[3]] });
    expect(complete('#', 1, knobs)?.names).toHaveLength(3);
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

describe('names where no word is', () => {
  test('all are offered when somebody asks for them, and none otherwise', () => {
    expect(complete('1.1 * ', 6, names, true)).toEqual({ start: 6, end: 6, names });
    expect(complete('1.1 * ', 6, names)).toBeUndefined();
    expect(complete('', 0, [], true)).toBeUndefined();
  });
});

describe('completeLink(text, names)', () => {
  const targets = ['numbers.width', 'numbers.ratio', 'look'];

  test('offers names where the target of a link into the page is written, all of them at its beginning', () => {
    expect(completeLink('It lasts [so long](#', targets)).toEqual({ start: 20, end: 20, names: targets });
    expect(completeLink('It lasts [so long](#numbers.w', targets)?.names).toEqual(['numbers.width']);
  });

  test('leaves the words of a note alone', () => {
    expect(completeLink('numbers', targets)).toBeUndefined();
    expect(completeLink('[numbers', targets)).toBeUndefined();
    expect(completeLink('[so long](#numbers.width) numb', targets)).toBeUndefined();
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

  test('signalNames hold what may be written', () => {
    expect(signalNames(document, 'lamp')).toContain('current(D1)');
  });
});
