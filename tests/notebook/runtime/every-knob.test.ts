import { addPart } from '#notebook/edit/circuit-edits.ts';
import { isRecord, type Json } from '#notebook/edit/json.ts';
import { knobComplaint } from '#notebook/edit/knob-toggle.ts';
import { partStarts } from '#notebook/edit/part-starts.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { knobNames } from '#notebook/edit/value-names.ts';
import { partViews } from '#notebook/runtime/board-view.ts';
import { arrived, type CellStates } from '#notebook/runtime/cell-state.ts';
import { cellsOf } from '#notebook/runtime/cells.ts';
import { trayKnobs } from '#notebook/runtime/tray-knobs.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { type BoardResult, computeCell, parseDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

/** Values that fields without a default are stated with, and lists that are given an entry. */
const stated: Readonly<Record<string, Json>> = {
  gain: 150,
  tolerance: '5 %',
  longest: '2 s',
  presses: [{ at: '1 s', for: '200 ms' }],
  touches: [{ at: '1 s', for: '200 ms' }],
  changes: [{ at: '1 s', voltage: '5 V', over: '10 ms' }],
  bounce: { for: '2 ms', seed: 1 },
};
const ratings: Readonly<Record<string, string>> = { resistor: '0.25 W', capacitor: '25 V' };

/** A board with one part of every kind that the page offers, and everything stated that has no default. */
function everyKind(): Json {
  let document: Json = {
    format: 'two-thirds',
    version: 1,
    boards: { bench: { parts: [] } },
    page: [{ id: 'bench', kind: 'board', board: 'bench' }],
  };
  for (const { kind } of partStarts) {
    const added = addPart(document, 'bench', kind);
    if (added === undefined) throw new Error(`${kind} must be added`);
    document = withValue(document, added.edit.path, added.edit.value);
    const index = partStarts.findIndex((each) => each.kind === kind);
    const path = ['boards', 'bench', 'parts', index];
    for (const { name } of standardKinds.get(kind)?.fields ?? []) {
      const value = name === 'rating' ? ratings[kind] : stated[name];
      if (value !== undefined && name !== 'drive') document = withValue(document, [...path, name], value);
    }
  }
  return document;
}

const document = everyKind();

function knobsOf(page: Json) {
  const parsed = parseDocument(JSON.stringify(page)).document;
  if (parsed === undefined) throw new Error('the document must be usable');
  const result = computeCell(parsed, 'bench');
  if (!result.ok) throw new Error(JSON.stringify(result));
  const states: CellStates = arrived({}, 'bench', result, true);
  return { knobs: trayKnobs(page, page, cellsOf(page), states, 'bench'), result: result as BoardResult };
}

describe('any numeric field can be made a knob', () => {
  test('every field with a unit of every kind of part, given or not, is a number that can be turned', () => {
    const { result } = knobsOf(document);
    const still = partViews(document, 'bench', result).flatMap(({ kind, values }) =>
      values
        .filter(({ unit, measure, value }) => unit !== undefined && (measure === undefined || value === undefined))
        .map(({ place }) => `${kind} ${place.steps.join('.')}`),
    );
    // A transistor has either a gain or a drive.
    expect(still).toEqual(['transistor drive']);
  });

  test('every name that is offered as a knob is taken by the document check and turns', () => {
    const names = knobNames(document, 'bench').filter((name) => !/^Q\d+$/.test(name));
    const page = withValue(document, ['page', 0, 'knobs'], names);
    expect(knobComplaint(page, 'bench', names)).toBeUndefined();
    const { knobs } = knobsOf(page);
    expect(knobs.map(({ name }) => name)).toEqual(names);
    expect(names.length).toBeGreaterThan(100);
    expect(names).toEqual(
      expect.arrayContaining([
        'C1.leakage',
        'C1.tolerance',
        'U1.with.outputHighDrop',
        'S1.presses[0].for',
        'G1.wave.count',
      ]),
    );
    for (const knob of knobs) {
      const edit = knob.edit(knob.text === '' ? '1' : knob.text, true);
      if (edit === undefined) throw new Error(`${knob.name} must be an edit`);
      // What stands there, turned to itself, is still a good document.
      const after = withValue(page, edit.path, edit.value);
      const issues = parseDocument(JSON.stringify(after)).issues.filter(({ severity }) => severity === 'fault');
      expect(issues, knob.name).toEqual([]);
    }
  });

  test('what is no number is not offered: words, flags, and the seed of a bounce', () => {
    const { result } = knobsOf(document);
    const turned = partViews(document, 'bench', result).flatMap(({ values }) =>
      values.filter(({ measure }) => measure !== undefined).map(({ place }) => place.steps.join('.')),
    );
    for (const field of ['family', 'polarity', 'closed', 'bounce.seed', 'wave.shape', 'with.outputOneWay']) {
      expect(turned).not.toContain(field);
    }
  });

  test('a gain that is turned stays a plain number in the document', () => {
    const transistor = partStarts.findIndex(({ kind }) => kind === 'transistor');
    const page = withValue(document, ['page', 0, 'knobs'], ['Q1.gain']);
    const [knob] = knobsOf(page).knobs;
    expect(knob).toMatchObject({ measure: 'number', value: 150, short: 'Q1 gain' });
    const edit = knob?.edit('200', true);
    if (edit === undefined) throw new Error('there must be an edit');
    const after = withValue(page, edit.path, edit.value);
    const part = valueAt(after, ['boards', 'bench', 'parts', transistor]);
    expect(isRecord(part) ? part['gain'] : undefined).toBe(200);
  });
});
