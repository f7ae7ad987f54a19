import { cellsOf } from '#notebook/runtime/cells.ts';
import { heldCells, madePrediction } from '#notebook/runtime/predictions.ts';
import { marginWords } from '#notebook/runtime/sections.ts';
import { describe, expect, test } from 'vitest';

const cells = cellsOf({
  page: [
    { id: 'question', kind: 'note', section: 'ask' },
    { id: 'look', kind: 'trace', hold_back: true },
    { id: 'why', kind: 'fates' },
    { id: 'answer', kind: 'note', section: 'explain' },
    { id: 'next', kind: 'note', section: 'ask' },
    { id: 'free', kind: 'trace' },
  ],
});

describe('heldCells', () => {
  test('what follows a result that is held back waits with it, up to the next question', () => {
    expect([...heldCells(cells, {})]).toEqual([
      ['look', 'look'],
      ['why', 'look'],
      ['answer', 'look'],
    ]);
  });

  test('a prediction that is only being written holds on; asking for the result lets go', () => {
    expect(heldCells(cells, { look: { text: 'four', revealed: false } }).size).toBe(3);
    expect(heldCells(cells, { look: { text: '', revealed: true } }).size).toBe(0);
  });

  test('a question holds back itself and what follows, in its own section as well', () => {
    const page = [
      { id: 'intro', kind: 'note', section: 'check' },
      { id: 'quiz', kind: 'ask', section: 'check' },
      { id: 'numbers', kind: 'reading', section: 'check' },
      { id: 'next', kind: 'note', section: 'ask' },
    ];
    expect([...heldCells(cellsOf({ page }), {})]).toEqual([
      ['quiz', 'quiz'],
      ['numbers', 'quiz'],
    ]);
    expect(heldCells(cellsOf({ page }), { quiz: { text: '5 s', revealed: true } }).size).toBe(0);
  });

  test('a board in between does not wait', () => {
    const page = [
      { id: 'look', kind: 'trace', hold_back: true },
      { id: 'circuit', kind: 'board' },
    ];
    expect([...heldCells(cellsOf({ page }), {}).keys()]).toEqual(['look']);
  });
});

test('madePrediction gives what was written, once the result is shown', () => {
  expect(madePrediction({ look: { text: ' four ', revealed: true } }, 'look')).toBe('four');
  expect(madePrediction({ look: { text: 'four', revealed: false } }, 'look')).toBeUndefined();
  expect(madePrediction({ look: { text: '  ', revealed: true } }, 'look')).toBeUndefined();
});

test('marginWords names a section once, where it begins, and follows what a cell says of itself', () => {
  expect(marginWords(cells)).toEqual(['ask', 'observe', 'explain', undefined, 'ask', 'observe']);
});
