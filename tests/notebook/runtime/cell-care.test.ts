import { type CellCare, cellCare, generalCautions } from '#notebook/runtime/cell-care.ts';
import { arrived, type CellStates } from '#notebook/runtime/cell-state.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import type { BoardResult, FaultRow } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { trace } from '../../support/example-trace.ts';

const cells = cellsOf({
  page: [
    { id: 'words', kind: 'note', text: '' },
    { id: 'first', kind: 'board', board: 'counter' },
    { id: 'look', kind: 'trace', board: 'counter' },
    { id: 'closer', kind: 'trace', board: 'counter' },
    { id: 'second', kind: 'board', board: 'lamp' },
    { id: 'again', kind: 'board', board: 'counter' },
  ],
});

const board = (dangers: readonly string[], cautions: readonly string[]): BoardResult => {
  return { kind: 'board', ok: true, board: '', parts: [], nets: [], issues: [], dangers, cautions, textbook: [] };
};
const fault = (part: string, sentence: string): FaultRow => {
  return { part, what: 'over-current', first: 0, count: 1, longest: 1, lasting: false, sentence };
};
const withFaults = (faults: readonly FaultRow[], cautions: readonly string[] = []) => ({ ...trace, faults, cautions });

const dangerous = board(['U1: the supply is reversed.'], ['Switch off first.', 'U1: the supply is reversed.']);
let states: CellStates = arrived({}, 'first', dangerous, true);
states = arrived(states, 'look', withFaults([fault('D1', 'D1, once.'), fault('D2', 'D2, once.')]), true);
states = arrived(
  states,
  'closer',
  withFaults([fault('D1', 'D1, twice.')], ['Lamps that flash.', 'D1 flashes 5 times a second.']),
  true,
);
states = arrived(states, 'second', dangerous, true);
states = arrived(states, 'again', dangerous, true);

function careAt(id: string, shown = cells, of = states): CellCare {
  const care = cellCare(shown, cells, of).get(id);
  if (care === undefined) throw new Error(`no care for ${id}`);
  return care;
}

describe('cellCare', () => {
  test('tells a board its dangers, whatever boards further up had', () => {
    for (const id of ['first', 'second', 'again']) expect(careAt(id).dangers).toEqual(['U1: the supply is reversed.']);
  });

  test('remembers the general cautions that were given, never a danger', () => {
    expect([...careAt('first').said]).toEqual([]);
    expect([...careAt('second').said]).toEqual(['Switch off first.']);
  });

  test('tells a run what parts did beyond their limits in it', () => {
    expect(careAt('look')).toMatchObject({ dangers: [], beyond: ['D1, once.', 'D2, once.'], flashing: [] });
    expect(careAt('closer')).toMatchObject({
      beyond: ['D1, twice.'],
      flashing: ['Lamps that flash.', 'D1 flashes 5 times a second.'],
    });
  });

  test('tells a board what its runs found, each fault once', () => {
    const found = {
      beyond: ['D1, once.', 'D2, once.'],
      flashing: ['Lamps that flash.', 'D1 flashes 5 times a second.'],
    };
    expect(careAt('first')).toMatchObject(found);
    expect(careAt('again')).toMatchObject(found);
    expect(careAt('second')).toMatchObject({ beyond: [], flashing: [] });
  });

  test('tells a board also what runs found that are not on the page yet', () => {
    const shown = cells.filter(({ kind }) => kind === 'board');
    expect(careAt('first', shown).beyond).toEqual(['D1, once.', 'D2, once.']);
  });

  test('tells what a run found that stopped early', () => {
    const partial = withFaults([fault('D3', 'D3, once.')]);
    const error = { message: 'stopped', where: 'page[2]' };
    const stopped = arrived(states, 'look', { kind: 'trace', ok: false, error, partial }, true);
    expect(careAt('look', cells, stopped).beyond).toContain('D3, once.');
  });

  test('has nothing for a cell without a board', () => {
    expect(cellCare(cells, cells, states).has('words')).toBe(false);
  });
});

test('generalCautions are all but the dangers', () => {
  expect(generalCautions(dangerous)).toEqual(['Switch off first.']);
});
