import { record, openHistory } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { valueAt } from '#notebook/edit/path.ts';
import { partViews } from '#notebook/runtime/board-view.ts';
import { valueEdit } from '#notebook/runtime/value-edit.ts';
import { computed, documentOf, resultOf } from '../../support/documents.ts';
import { expect, test } from 'vitest';

const parts = [
  { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V' },
  { name: 'R1', kind: 'resistor', a: 'rail', b: 'base', resistance: '1 MΩ' },
  { name: 'R2', kind: 'resistor', a: 'rail', b: 'collector', resistance: '1 kΩ' },
  { name: 'Q1', kind: 'transistor', base: 'base', collector: 'collector', emitter: 'ground' },
];
const cells = [{ id: 'board', kind: 'board', board: 'bell' }];
const page = documentOf({ bell: { parts } }, cells) as Json;

/** The document with a value of a part typed, found as the parts list shows it. */
function typed(document: Json, name: string, text: string): Json {
  const board = resultOf(computed(document), 'board', 'board');
  const views = partViews(document, 'bell', board).flatMap(({ values }) => values);
  const view = views.find((each) => each.name === name);
  if (view === undefined) throw new Error(`${name} must be shown`);
  const edit = valueEdit(document, 'bell', view, text);
  if (edit === undefined) throw new Error(`${name} must take ${text}`);
  return record(openHistory(document), edit).document;
}

const gainOf = (document: Json): Json | undefined => valueAt(document, ['boards', 'bell', 'parts', 3, 'gain']);

test('a gain that was not stated is typed as a plain number, computed with, and taken back', () => {
  const after = typed(page, 'Q1.gain', '150');
  expect(gainOf(after)).toBe(150);
  const row = resultOf(computed(after), 'board', 'board').parts.find(({ name }) => name === 'Q1');
  expect(row?.fields.find(({ name }) => name === 'gain')).toMatchObject({ value: 150, given: true });
  expect(gainOf(typed(after, 'Q1.gain', ''))).toBeUndefined();
});

test('what is no number stays text, and quantities stay as typed', () => {
  expect(gainOf(typed(page, 'Q1.gain', 'much'))).toBe('much');
  const resistance = valueAt(typed(page, 'R1.resistance', '4700'), ['boards', 'bell', 'parts', 1, 'resistance']);
  expect(resistance).toBe('4700');
});
