import {
  boardOfKnobs,
  cellKnobNames,
  hasCellKnob,
  toggleCellKnob,
  withKnobsFollowing,
} from '#notebook/edit/cell-knobs.ts';
import { openHistory, record, redo, undo } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { deleteCell, duplicateCell } from '#notebook/edit/page-edits.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { renameCell } from '#notebook/edit/rename.ts';
import { renamePart } from '#notebook/edit/rename-on-board.ts';
import { checkDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const document: Json = {
  format: 'two-thirds',
  version: 1,
  boards: {
    counter: { ready: 'frequency divider' },
    lamp: {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', origin: 'battery' },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'ground', resistance: '1 kΩ' },
      ],
    },
  },
  page: [
    { id: 'intro', kind: 'note', text: 'Axles are counted.' },
    { id: 'circuit', kind: 'board', board: 'counter', knobs: ['R1', '#look.until', '#look.from'] },
    { id: 'look', kind: 'trace', board: 'counter', until: '2 s', show: ['out'] },
    { id: 'bench', kind: 'board', board: 'lamp' },
    { id: 'kits', kind: 'spread', board: 'lamp', until: '1 s', parts: { R1: '5 %' }, take: { low: 'trough(rail)' } },
    { id: 'guess', kind: 'ask', question: 'How low?', answer: 'lamp.R1' },
  ],
};
const knobsOf = (of: Json, index: number) => valueAt(of, ['page', index, 'knobs']);
/** The document after an edit, as a history has it. */
const after = (edit: Parameters<typeof record>[1] | undefined, before: Json = document): Json => {
  if (edit === undefined) throw new Error('there must be an edit');
  return record(openHistory(before), edit).document;
};
/** What the document check says of knobs. */
const faults = (of: Json) => checkDocument(of).issues.filter(({ where }) => where.includes('knobs'));

describe('toggleCellKnob', () => {
  test('gives the first cell that shows the board a knob, and takes it from all of them', () => {
    const on = toggleCellKnob(document, 'lamp', '#kits.parts.R1');
    expect(on).toEqual({ path: ['page', 3, 'knobs'], value: ['#kits.parts.R1'], label: 'knob for kits.parts.R1' });
    const once = toggleCellKnob(document, 'counter', '#look.until');
    expect(once).toEqual({ path: ['page', 1, 'knobs'], value: ['R1', '#look.from'], label: 'no knob for look.until' });
    const twice = withValue(
      document,
      ['page'],
      [
        ...(valueAt(document, ['page']) as Json[]),
        { id: 'again', kind: 'board', board: 'counter', knobs: ['#look.until'] },
      ],
    );
    expect(hasCellKnob(twice, 'counter', '#look.until')).toBe(true);
    expect(hasCellKnob(twice, 'lamp', '#look.until')).toBe(false);
    const off = toggleCellKnob(twice, 'counter', '#look.until');
    expect(off.label).toBe('no knob for look.until');
    const left = after(off, twice);
    expect([knobsOf(left, 1), knobsOf(left, 6)]).toEqual([['R1', '#look.from'], []]);
  });
});

describe('boardOfKnobs', () => {
  test('is the board of the cell, for a question that of the page above it, as long as a cell shows it', () => {
    expect(boardOfKnobs(document, 'look')).toBe('counter');
    expect(boardOfKnobs(document, 'guess')).toBe('lamp');
    expect(boardOfKnobs(withValue(document, ['page', 3], undefined), 'kits')).toBeUndefined();
    const first = withValue(document, ['page'], [...(valueAt(document, ['page']) as Json[])].reverse());
    expect(boardOfKnobs(first, 'guess')).toBe('lamp');
    expect(boardOfKnobs({ page: [] }, 'guess')).toBeUndefined();
  });
});

test('cellKnobNames has the numbers of all cells that belong to the board', () => {
  expect(cellKnobNames(document, 'counter')).toEqual(['#look.from', '#look.until', '#guess.within']);
  expect(cellKnobNames(document, 'lamp')).toContain('#kits.parts.R1');
});

describe('knobs of cells', () => {
  test('follow their cell under another name, as one step of undo and redo', () => {
    const history = record(openHistory(document), renameCell(document, 'look', 'first_look'));
    expect(knobsOf(history.document, 1)).toEqual(['R1', '#first_look.until', '#first_look.from']);
    expect(faults(history.document)).toEqual([]);
    const back = undo(history);
    expect(back.document).toBe(document);
    expect(redo(back).document).toBe(history.document);
    // Only names are meant, not beginnings of names.
    expect(knobsOf(after(renameCell(document, 'circuit', 'loo')), 1)).toEqual(['R1', '#look.until', '#look.from']);
  });

  test('go with their cell, and come back with it', () => {
    const history = record(openHistory(document), deleteCell(document, 'look')!.edit);
    expect(knobsOf(history.document, 1)).toEqual(['R1']);
    expect(faults(history.document)).toEqual([]);
    expect(undo(history).document).toBe(document);
  });

  test('stay with the cell that was duplicated', () => {
    const copied = after(duplicateCell(document, 'look')!.edit);
    expect(knobsOf(copied, 1)).toEqual(['R1', '#look.until', '#look.from']);
    expect(faults(copied)).toEqual([]);
  });

  test('go with a field that is taken away, unless something holds while it is left out', () => {
    const gone = after({ path: ['page', 2, 'until'], value: undefined, label: 'until' });
    expect(knobsOf(gone, 1)).toEqual(['R1', '#look.from']);
    const usual = after({ path: ['page', 2, 'from'], value: undefined, label: 'from' });
    expect(knobsOf(usual, 1)).toEqual(['R1', '#look.until', '#look.from']);
    // What cannot be read stays, to be corrected.
    const wrong = after({ path: ['page', 2, 'until'], value: 'soon', label: 'until to soon' });
    expect(knobsOf(wrong, 1)).toEqual(['R1', '#look.until', '#look.from']);
  });

  test('go to the tray of the board that their cell looks at now', () => {
    const moved = after({ path: ['page', 2, 'board'], value: 'lamp', label: 'board of look' });
    expect([knobsOf(moved, 1), knobsOf(moved, 3)]).toEqual([['R1'], ['#look.until', '#look.from']]);
    expect(faults(moved)).toEqual([]);
    const alone = withValue(document, ['page', 3], undefined);
    const lost = after({ path: ['page', 2, 'board'], value: 'lamp', label: 'board of look' }, alone);
    expect(knobsOf(lost, 1)).toEqual(['R1']);
  });

  test('follow a part whose name they hold', () => {
    const names = ['#kits.parts.R1', '#look.until'];
    const given = withValue(document, ['page', 3, 'knobs'], names);
    const renamed = after(renamePart(given, 'lamp', 'R1', 'R7'), given);
    expect(knobsOf(renamed, 3)).toEqual(['#kits.parts.R7', '#look.until']);
    expect(valueAt(renamed, ['page', 4, 'parts'])).toEqual({ R7: '5 %' });
  });

  test('stay where somebody typed a name that turns nothing', () => {
    const typed = after({ path: ['page', 1, 'knobs'], value: ['#lok.until', '#look.until'], label: 'knobs' });
    expect(knobsOf(typed, 1)).toEqual(['#lok.until', '#look.until']);
    expect(faults(typed)).toHaveLength(1);
    const next = after({ path: ['page', 2, 'until'], value: '3 s', label: 'until to 3 s' }, typed);
    expect(knobsOf(next, 1)).toEqual(['#lok.until', '#look.until']);
  });

  test('cost nothing where the page is as it was', () => {
    const turned = withValue(document, ['boards', 'counter', 'values'], { R1: '1 kΩ' });
    expect(withKnobsFollowing(document, turned)).toBe(turned);
    const longer = withValue(document, ['page', 2, 'until'], '3 s');
    expect(withKnobsFollowing(document, longer)).toBe(longer);
  });
});
