import type { Json } from '#notebook/edit/json.ts';
import { openHistory, record, undo } from '#notebook/edit/history.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { arrived, type CellStates } from '#notebook/runtime/cell-state.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { KeptKnobs, trayKnobs } from '#notebook/runtime/tray-knobs.ts';
import { type CellResult, computeCell, parseDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const opened: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { lamp: { ready: 'frequency divider', values: { R1: '100 kΩ' } } },
  page: [
    { id: 'one', kind: 'board', board: 'lamp', knobs: ['R1', 'G1.wave.period', 'BT1', 'U1.family'] },
    { id: 'two', kind: 'board', board: 'lamp', knobs: ['C1', 'R1'] },
  ],
};

/** The knobs for a document, with the results that the library computes for it. */
function knobs(document: Json) {
  const good = parseDocument(JSON.stringify(opened)).document;
  const now = parseDocument(JSON.stringify(document)).document;
  if (good === undefined || now === undefined) throw new Error('the document must be usable');
  let states: CellStates = arrived({}, 'one', computeCell(good, 'one'), true);
  states = arrived(states, 'one', computeCell(now, 'one'), true);
  return trayKnobs(document, opened, cellsOf(document), states, 'lamp');
}

describe('trayKnobs', () => {
  test('has one knob for every quantity that the cells of the board name, in their order', () => {
    expect(knobs(opened).map(({ name, measure, text }) => [name, measure, text])).toEqual([
      ['R1', 'Ω', '100 kΩ'],
      ['G1.wave.period', 's', '150 ms'],
      ['BT1', 'V', '12 V'],
      ['C1', 'F', '4.7 µF'],
    ]);
  });

  test('keeps the value the document was opened with, to go back to', () => {
    const [knob] = knobs(withValue(opened, ['boards', 'lamp', 'values', 'R1'], '220 kΩ'));
    expect(knob).toMatchObject({ value: 220_000, nominal: 100_000, complaint: undefined });
  });

  test('a value that cannot be read carries its complaint and no value', () => {
    const [knob, other] = knobs(withValue(opened, ['boards', 'lamp', 'values', 'R1'], 'about 5'));
    expect(knob).toMatchObject({ text: 'about 5', value: undefined, nominal: 100_000 });
    expect(knob?.complaint).toContain('must be a resistance');
    expect(other?.complaint).toBeUndefined();
  });

  test('a whole turn is one step of undo', () => {
    let history = openHistory(opened);
    for (const text of ['110 kΩ', '120 kΩ']) {
      const edit = knobs(history.document)[0]?.edit(text, true);
      if (edit !== undefined) history = record(history, edit);
    }
    expect(knobs(history.document)[0]?.text).toBe('120 kΩ');
    expect(undo(history).document).toBe(opened);
  });
});

describe('KeptKnobs', () => {
  test('gives the very same knobs until something changes that they tell', () => {
    const kept = new KeptKnobs();
    const { document: good } = parseDocument(JSON.stringify(opened));
    if (good === undefined) throw new Error('the document must be usable');
    const cells = cellsOf(opened);
    const computed = arrived({}, 'one', computeCell(good, 'one'), true);
    const first = kept.of(opened, opened, cells, computed, 'lamp');
    expect(first.map(({ name }) => name)).toEqual(['R1', 'G1.wave.period', 'BT1', 'C1']);
    // A result of a cell that is no board of this name tells nothing of a knob.
    const other = arrived(computed, 'elsewhere', computeCell(good, 'two'), true);
    expect(kept.of(opened, opened, cells, other, 'lamp')).toBe(first);
    const turned = withValue(opened, ['boards', 'lamp', 'values', 'R1'], '220 kΩ');
    const second = kept.of(turned, opened, cells, other, 'lamp');
    expect(second[0]).toMatchObject({ text: '220 kΩ', value: 220e3, nominal: 100e3 });
    const anew = arrived(other, 'one', computeCell(good, 'one'), true);
    expect(kept.of(turned, opened, cells, anew, 'lamp')).not.toBe(second);
    expect(kept.of(turned, opened, cells, anew, undefined)).toEqual([]);
  });
});

describe('knobs of cells', () => {
  const page: Json = {
    format: 'two-thirds',
    version: 1,
    boards: {
      lamp: { ready: 'frequency divider' },
      points: {
        parts: [
          { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'battery' },
          {
            name: 'K1',
            kind: 'relay',
            a: 'rail',
            b: 'ground',
            voltage: '12 V',
            resistance: '400 Ω',
            releaseTime: '8 ms',
          },
        ],
      },
    },
    page: [
      {
        id: 'one',
        kind: 'board',
        board: 'lamp',
        knobs: ['R1', '#look.until', '#look.from', '#other.until', '#none.until'],
      },
      { id: 'look', kind: 'trace', board: 'lamp', until: '2 s', show: ['out'] },
      { id: 'other', kind: 'trace', board: 'points', until: '2 s', show: ['rail'] },
      { id: 'two', kind: 'board', board: 'points', knobs: ['K1.releaseTime'] },
    ],
  };
  const until = ['page', 1, 'until'];
  /** The knobs of the lamp; `fault` is what is wrong with `look`. */
  function lampKnobs(document: Json, fault?: CellResult) {
    const states = fault === undefined ? {} : arrived({}, 'look', fault, true);
    return trayKnobs(document, page, cellsOf(document), states, 'lamp');
  }

  test('stand in their place among those of the board, and turn what they name', () => {
    const all = lampKnobs(withValue(page, until, '3 s'));
    // What looks at another board stands in its tray.
    expect(all.map(({ name }) => name).filter((name) => name.startsWith('#'))).toEqual(['#look.until', '#look.from']);
    const [knob] = all.filter(({ name }) => name === '#look.until');
    expect(knob).toMatchObject({
      short: 'look until',
      label: 'look until',
      measure: 's',
      value: 3,
      nominal: 2,
      text: '3 s',
    });
    expect(knob).not.toHaveProperty('part');
    expect(knob?.edit('4 s', false)).toEqual({ path: until, value: '4 s', label: 'look.until to 4 s' });
  });

  test('a whole turn is one step of undo', () => {
    let history = openHistory(page);
    for (const text of ['2.5 s', '3 s']) {
      const edit = lampKnobs(history.document)
        .find(({ name }) => name === '#look.until')
        ?.edit(text, true);
      if (edit !== undefined) history = record(history, edit);
    }
    expect(valueAt(history.document, until)).toBe('3 s');
    expect(undo(history).document).toBe(page);
  });

  test('carry what is wrong with their field', () => {
    const document = withValue(page, until, 'soon');
    const parsed = parseDocument(JSON.stringify(document)).document;
    if (parsed === undefined) throw new Error('the document must be usable');
    const knob = lampKnobs(document, computeCell(parsed, 'look')).find(({ name }) => name === '#look.until');
    expect(knob).toMatchObject({ text: 'soon', value: undefined, nominal: 2 });
    expect(knob?.complaint).toContain('must be a time');
  });

  test('are made anew once their cell is found at fault, and not before', () => {
    const kept = new KeptKnobs();
    const cells = cellsOf(page);
    const first = kept.of(page, page, cells, {}, 'lamp');
    const faulty = parseDocument(JSON.stringify(withValue(page, until, 'soon'))).document;
    if (faulty === undefined) throw new Error('the document must be usable');
    const fault = computeCell(faulty, 'look');
    expect(kept.of(page, page, cells, arrived({}, 'two', fault, true), 'lamp')).toBe(first);
    expect(kept.of(page, page, cells, arrived({}, 'look', fault, true), 'lamp')).not.toBe(first);
  });

  test('fields of parts are called as people say them', () => {
    const parsed = parseDocument(JSON.stringify(page)).document;
    if (parsed === undefined) throw new Error('the document must be usable');
    const states = arrived({}, 'two', computeCell(parsed, 'two'), true);
    expect(trayKnobs(page, page, cellsOf(page), states, 'points').map(({ short }) => short)).toEqual([
      'K1 release time',
    ]);
  });
});
