import type { Json } from '#notebook/edit/json.ts';
import { openHistory, record, undo } from '#notebook/edit/history.ts';
import { withValue } from '#notebook/edit/path.ts';
import { arrived, type CellStates } from '#notebook/runtime/cell-state.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { KeptKnobs, trayKnobs } from '#notebook/runtime/tray-knobs.ts';
import { computeCell, parseDocument } from '#sim/document/index.ts';
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
