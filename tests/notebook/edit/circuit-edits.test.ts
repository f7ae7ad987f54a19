import { addPart, askingCells, joinEnd, partEnds, removePart, takeInHand } from '#notebook/edit/circuit-edits.ts';
import { boardParts, valueChange } from '#notebook/edit/board-values.ts';
import type { Edit } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { partStarts } from '#notebook/edit/part-starts.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { checkDocument, computeDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const bare: Json = {
  format: 'two-thirds',
  version: 1,
  title: 'Platform 2',
  boards: {
    lamp: {
      parts: [{ name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', origin: 'battery' }],
    },
  },
  page: [
    { id: 'board', kind: 'board', board: 'lamp', knobs: ['BT1'] },
    { id: 'look', kind: 'trace', board: 'lamp', until: '2 s', show: ['rail', 'current(BT1)'] },
  ],
};
const ready: Json = withValue(bare, ['boards', 'lamp'], { ready: 'monostable', values: { R1: '470 kΩ' } });

function applied(document: Json, edit: Edit | undefined): Json {
  if (edit === undefined) throw new Error('edit: there must be one; got none.');
  return withValue(document, edit.path, edit.value);
}

function computed(json: Json) {
  const { document } = checkDocument(json);
  if (document === undefined) throw new Error('document: it must be usable; got one that is not.');
  return computeDocument(document).results;
}

describe('kinds of parts that can be added', () => {
  test('are all that the format knows, with all their terminals', () => {
    expect([...partStarts].map(({ kind }) => kind).sort()).toEqual([...standardKinds.keys()].sort());
    for (const { kind, terminals, netsUnder } of partStarts) {
      const known = standardKinds.get(kind);
      expect(terminals.map(({ name, isOptional }) => [name, isOptional !== true])).toEqual(
        known?.terminals.map(({ name, required }) => [name, required]),
      );
      expect(netsUnder).toBe(known?.netsUnder);
    }
  });

  test.each(partStarts.map(({ kind }) => kind))('a new %s can be computed at once', (kind) => {
    const { edit, part } = addPart(bare, 'lamp', kind) ?? {};
    const document = applied(bare, edit);
    expect(boardParts(document, 'lamp').map((each) => each['name'])).toEqual(['BT1', part]);
    const results = computed(document);
    expect(results['board']).toMatchObject({ ok: true });
    expect(results['look']).toMatchObject({ ok: true });
  });

  test('get the next free name, and nets of their own that lie beside nothing', () => {
    const once = applied(bare, addPart(bare, 'lamp', 'resistor')?.edit);
    const twice = applied(once, addPart(once, 'lamp', 'resistor')?.edit);
    expect(boardParts(twice, 'lamp').slice(1)).toMatchObject([
      { name: 'R1', a: 'rail', b: 'node1', resistance: '10 kΩ' },
      { name: 'R2', a: 'rail', b: 'node2' },
    ]);
    const more = applied(bare, addPart(bare, 'lamp', 'supply')?.edit);
    expect(boardParts(more, 'lamp').at(-1)).toMatchObject({ name: 'BT2', plus: 'rail2', minus: 'ground' });
  });

  test('do not go onto a ready board, whose parts are not its own', () => {
    expect(addPart(ready, 'lamp', 'resistor')).toBeUndefined();
    expect(removePart(ready, 'lamp', 'R1')).toBeUndefined();
    expect(addPart(bare, 'lamp', 'teapot')).toBeUndefined();
  });
});

describe('parts of one’s own', () => {
  test('takeInHand keeps the name of a ready board and the values it was given', () => {
    const edit = takeInHand(ready, 'lamp');
    const document = applied(ready, edit);
    expect(edit?.label).toBe('parts of lamp in own hands');
    expect(boardParts(document, 'lamp')).toEqual(boardParts(ready, 'lamp'));
    expect(boardParts(document, 'lamp').find((part) => part['name'] === 'R1')).toMatchObject({ resistance: '470 kΩ' });
    const board = (from: Json) => computed(from)['board'];
    const [before, after] = [board(ready), board(document)];
    expect((after as { parts: unknown }).parts).toEqual((before as { parts: unknown }).parts);
    expect(takeInHand(document, 'lamp')).toBeUndefined();
  });

  test('a removed part takes its knobs along; what asks about it stays and complains at its place', () => {
    const document = applied(ready, takeInHand(ready, 'lamp'));
    const asking = withValue(
      withValue(document, ['page', 0, 'knobs'], ['R1', 'R3', 'R1.tolerance', 'S1.presses']),
      ['page', 1, 'show'],
      ['out', 'current(R1)'],
    );
    const { edit } = removePart(asking, 'lamp', 'R1') ?? {};
    const without = applied(asking, edit);
    expect(edit?.label).toBe('take out R1');
    expect(valueAt(without, ['page', 0, 'knobs'])).toEqual(['R3', 'S1.presses']);
    expect(valueAt(without, ['page', 1, 'show'])).toEqual(['out', 'current(R1)']);
    expect(askingCells(without, 'lamp', 'R1')).toEqual(['look']);
    expect(askingCells(without, 'lamp', 'R3')).toEqual([]);
    expect(checkDocument(without).issues.map(({ where }) => where)).toEqual(['page[1].show[1]']);
  });

  test('a field that is emptied goes back to its default; the main value stays to be corrected', () => {
    const document = applied(ready, takeInHand(ready, 'lamp'));
    const rating = valueChange(document, 'lamp', { part: 'C1', steps: ['rating'] }, '');
    expect(rating).toEqual({ path: ['boards', 'lamp', 'parts', 3, 'rating'], value: undefined });
    expect(valueChange(document, 'lamp', { part: 'C1', steps: ['capacitance'] }, '')?.value).toBe('');
  });

  test('ends are joined to nets, and left open where that is allowed', () => {
    const document = applied(ready, takeInHand(ready, 'lamp'));
    const timer = boardParts(document, 'lamp').find((part) => part['name'] === 'U1') ?? {};
    const reset = partEnds(timer).find(({ terminal }) => terminal === 'reset');
    expect(reset).toEqual({ terminal: 'reset', steps: ['pins', 'reset'], net: 'rail', isOptional: true });
    if (reset === undefined) return;
    const open = joinEnd(document, 'lamp', 'U1', reset, '');
    expect(open?.label).toBe('leave U1 reset open');
    const pins = valueAt(boardParts(applied(document, open), 'lamp')[1], ['pins']);
    expect(pins).not.toHaveProperty('reset');
    const led = joinEnd(document, 'lamp', 'U1', reset, 'button');
    expect(valueAt(applied(document, led), ['boards', 'lamp', 'parts', 1, 'pins', 'reset'])).toBe('button');
  });
});
