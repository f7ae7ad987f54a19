import { arrived, type CellStates, outdated, stopped } from '#notebook/runtime/cell-state.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { boardInHand, cursorPlace, timeInTrace, whyUndrawn } from '#notebook/runtime/page-view.ts';
import { describe, expect, test } from 'vitest';
import { trace } from '../../support/example-trace.ts';

const cells = cellsOf({
  page: [
    { id: 'words', kind: 'note', text: '' },
    { id: 'first', kind: 'board', board: 'counter' },
    { id: 'look', kind: 'trace', board: 'counter' },
    { id: 'closer', kind: 'trace', board: 'counter' },
    { id: 'second', kind: 'board', board: 'lamp' },
  ],
});
let states: CellStates = arrived({}, 'look', trace, true);
states = arrived(states, 'closer', { ...trace, from: 1, until: 2 }, true);
const [, , look, closer] = cells;

test('boardInHand is the board last touched, else the first on the page', () => {
  expect(boardInHand(cells, undefined)).toBe('counter');
  expect(boardInHand(cells, 'lamp')).toBe('lamp');
  expect(boardInHand(cells, 'a board that was removed')).toBe('counter');
  expect(boardInHand([], undefined)).toBeUndefined();
});

describe('cursorPlace', () => {
  test('stands where it was put', () => {
    expect(cursorPlace(cells, states, 'counter', { cell: 'closer', time: 1.5 })).toMatchObject({
      time: 1.5,
      trace: { from: 1 },
    });
  });

  test('stands in the first trace of the board before anybody has moved it', () => {
    // 80 % into the interval from 1 s to 3 s.
    expect(cursorPlace(cells, states, 'counter', undefined)?.time).toBeCloseTo(2.6, 12);
  });

  test('a board without a trace has no cursor', () => {
    expect(cursorPlace(cells, states, 'lamp', { cell: 'look', time: 1 })).toBeUndefined();
  });
});

test('timeInTrace gives a time only to traces whose window holds it', () => {
  if (look === undefined || closer === undefined) throw new Error('the page must have two traces');
  expect(timeInTrace(look, states, 2.6)).toBe(2.6);
  expect(timeInTrace(closer, states, 2.6)).toBeUndefined();
});

test('whyUndrawn says whether a board has no list of parts, cannot be used, was stopped or comes', () => {
  const ids = cells.map(({ id }) => id);
  const waits = outdated({}, ids, ids);
  expect(whyUndrawn(cells, waits, 'counter')).toBe('The drawing comes once the board is computed.');
  expect(whyUndrawn(cells, stopped(waits), 'counter')).toBe('Nothing to draw yet: computing was stopped.');
  const fault = { kind: 'board', ok: false, error: { message: 'R1: ...', where: 'R1' } } as const;
  expect(whyUndrawn(cells, arrived(waits, 'first', fault, true), 'counter')).toContain('cannot be used');
  expect(whyUndrawn(cells.slice(2), waits, 'counter')).toContain('no list of parts');
});
