import { openHistory, record, settle } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { arrived, type CellStates } from '#notebook/runtime/cell-state.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { staleCells } from '#notebook/runtime/dependence.ts';
import { nextTurns } from '#notebook/runtime/next-turns.ts';
import { trayKnobs } from '#notebook/runtime/tray-knobs.ts';
import { computeCell, parseDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const R1 = ['boards', 'counter', 'values', 'R1'];
const opened: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { counter: { ready: 'frequency divider', values: { R1: '100 kΩ', C1: '4.7 µF' } } },
  page: [{ id: 'board', kind: 'board', board: 'counter', knobs: ['R1', 'C1'] }],
};

/** The knobs of a document, with the results that the library computes for its board. */
function knobsOf(document: Json) {
  const states = [opened, document].reduce((before: CellStates, each) => {
    const read = parseDocument(JSON.stringify(each)).document;
    if (read === undefined) throw new Error('the document must be usable');
    return arrived(before, 'board', computeCell(read, 'board'), true);
  }, {});
  return trayKnobs(document, opened, cellsOf(document), states, 'counter');
}

/** The document once the knob of R1 was turned to a value. */
function turned(text: string, history = openHistory(opened)) {
  const [knob] = knobsOf(history.document);
  const edit = knob?.edit(text, true);
  if (edit === undefined) throw new Error('R1 must have a knob');
  return record(history, edit);
}
const next = (history: ReturnType<typeof turned>, before = knobsOf(opened)): unknown[] =>
  nextTurns(history, knobsOf(history.document), before).map((document) => valueAt(document, R1));

describe('nextTurns', () => {
  test('gives the neighbours of a turned knob along its series, all else as it is', () => {
    // 110, 120 and 130 follow each other in E24 (IEC 60063).
    const history = turned('120 kΩ');
    expect(next(history)).toEqual(['130 kΩ', '110 kΩ']);
    const [document = null] = nextTurns(history, knobsOf(history.document), knobsOf(opened));
    expect(document).toEqual(withValue(history.document, R1, '130 kΩ'));
  });

  test('gives the values a little beside where a knob stands that does not rest', () => {
    // By one hundredth, in four digits, as the knob is turned by its keys.
    expect(next(turned('123 kΩ'))).toEqual(['124.2 kΩ', '121.8 kΩ']);
  });

  test('goes on as far as the knob was turned by one key, freely or along its series', () => {
    // From 123 kΩ by a tenth, in four digits, and a tenth of what that is.
    const free = turned('123 kΩ');
    const further = turned('135.3 kΩ', free);
    expect(next(further, knobsOf(free.document))).toEqual(['148.8 kΩ', '121.8 kΩ']);
    // Ten values of E24 from 100 to 270, and from there to 680, or back (IEC 60063).
    expect(next(turned('270 kΩ'))).toEqual(['680 kΩ', '100 kΩ']);
  });

  test('gives nothing beyond the end of the tape', () => {
    // A knob that turns by ratio goes three decades to either side of where it began.
    expect(next(turned('100 MΩ'))).toEqual(['91 MΩ']);
  });

  test('gives nothing where no knob is being turned, or its value cannot be read', () => {
    expect(next(settle(turned('120 kΩ')))).toEqual([]);
    expect(next(openHistory(opened))).toEqual([]);
    expect(next(record(openHistory(opened), { path: R1, value: '120 kΩ', label: 'R1 to 120 kΩ' }))).toEqual([]);
    expect(next(turned('about 5'))).toEqual([]);
  });

  test('gives the neighbours of a number of a cell, which make that cell alone stale, and stops before the other end', () => {
    const look = { id: 'look', kind: 'trace', board: 'counter', from: '1 s', until: '2 s', show: ['out'] };
    const board = { id: 'board', kind: 'board', board: 'counter', knobs: ['#look.until', '#look.from'] };
    const page: Json = withValue(opened, ['page'], [board, look, { ...look, id: 'other' }]);
    const knobs = (document: Json) => trayKnobs(document, page, cellsOf(document), {}, 'counter');
    const until = ['page', 1, 'until'];
    const turn = (name: string, text: string, history = openHistory(page)) => {
      const edit = knobs(history.document)
        .find((each) => each.name === name)
        ?.edit(text, true);
      if (edit === undefined) throw new Error(`${name} must have a knob`);
      return record(history, edit);
    };
    const history = turn('#look.until', '2.5 s');
    const turns = nextTurns(history, knobs(history.document), knobs(page));
    expect(turns.map((document) => valueAt(document, until))).toEqual(['3 s', '2 s']);
    for (const document of turns) expect(staleCells(history.document, document)).toEqual(['look']);
    const early = turn('#look.from', '1.2 s');
    const late = turn('#look.from', '1.5 s', early);
    const from = nextTurns(late, knobs(late.document), knobs(early.document)).map((document) =>
      valueAt(document, ['page', 1, 'from']),
    );
    // Nothing is between 1.5 s and the end at 2 s; the end itself leaves no window.
    expect(from).toEqual(['1.2 s']);
  });
});
