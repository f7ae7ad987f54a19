import { askedOfBoards } from '#notebook/edit/asked-of-boards.ts';
import { type Edit, type History, openHistory, record, redo, undo } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { keepBeside } from '#notebook/edit/what-if-beside.ts';
import { ask, takeBack, takenBack, type WhatIf } from '#notebook/edit/what-if.ts';
import { usualNet, whatIfs } from '#notebook/edit/what-ifs.ts';
import { computeDocument, parseDocument } from '#sim/document/index.ts';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const page = (board: Json): Json => ({
  format: 'two-thirds',
  version: 1,
  boards: { lamp: board },
  page: [
    { id: 'board', kind: 'board', board: 'lamp' },
    { id: 'numbers', kind: 'reading', board: 'lamp', until: '6 s', take: { width: 'width(out)' }, hold_back: true },
    { id: 'after', kind: 'note', text: '' },
  ],
});
const ready = page({ ready: 'monostable', values: { R1: '390 kΩ' } });

function offersOf(document: Json, board = 'lamp', net?: string): WhatIf[] {
  return whatIfs(document, board, net).flatMap(({ offers }) => offers);
}

function offer(document: Json, key: string, board = 'lamp'): WhatIf {
  const found = offersOf(document, board).find((each) => each.key === key);
  if (found === undefined) throw new Error(`${key} must be offered`);
  return found;
}

function press(history: History, key: string): History {
  return record(history, made(ask(history.document, 'lamp', offer(history.document, key), askedOfBoards(history))));
}

function made(edit: Edit | undefined): Edit {
  if (edit === undefined) throw new Error('there must be an edit');
  return edit;
}

function results(document: Json): ReturnType<typeof computeDocument>['results'] {
  const parsed = parseDocument(JSON.stringify(document));
  if (parsed.document === undefined) throw new Error(parsed.unusable?.message);
  return computeDocument(parsed.document).results;
}

const keys = (history: History): string[] => askedOfBoards(history).map(({ key }) => key);

const examples = readdirSync('worked-examples').flatMap((folder) =>
  readdirSync(join('worked-examples', folder))
    .filter((file) => file.endsWith('.tt.json'))
    .map((file) => ({
      file,
      document: JSON.parse(readFileSync(join('worked-examples', folder, file), 'utf8')) as Json,
    })),
);

test.each(examples)('on every board of $file, whatever is asked can be taken back without a trace', ({ document }) => {
  let count = 0;
  for (const board of Object.keys(valueAt(document, ['boards']) as object)) {
    for (const each of offersOf(document, board)) {
      count += 1;
      const history = record(openHistory(document), made(ask(document, board, each, [])));
      expect(history.document, each.key).not.toEqual(document);
      expect(takenBack(history.document, askedOfBoards(history)), `${board}: ${each.key}`).toEqual(document);
    }
  }
  expect(count).toBeGreaterThan(8);
});

test('every question about every ready board gives a board that can be computed', () => {
  for (const name of ['monostable', 'astable', 'frequency divider', 'touch switch']) {
    const document = page({ ready: name });
    for (const each of offersOf(document)) {
      const { value, path } = made(ask(document, 'lamp', each, []));
      const { board } = results(withValue(document, path, value));
      expect(board, `${name}: ${each.key}`).toMatchObject({ ok: true });
    }
  }
});

test('supplies are offered within the limits of the timer', () => {
  const volts = (family: string): string[] =>
    offersOf(page({ ready: 'monostable', values: { 'U1.family': family } }))
      .filter(({ key }) => key.startsWith('supply'))
      .map(({ key }) => key);
  expect(volts('bipolar')).not.toContain('supply 3.3 V');
  expect(volts('cmos')).toContain('supply 3.3 V');
});

test('levels of a signal that are as high as the supply follow it', () => {
  const document = page({ ready: 'frequency divider' });
  const { path, value } = made(ask(document, 'lamp', offer(document, 'supply 9 V'), []));
  expect(valueAt(withValue(document, path, value), ['boards', 'lamp', 'values'])).toEqual({
    'BT1.voltage': '9 V',
    'G1.wave.rest': '9 V',
  });
});

test('a meter on the timing net takes the parts of a ready board in hand, and leaves it a ready board again', () => {
  let history = openHistory(ready);
  expect(usualNet(ready, 'lamp')).toBe('timing');
  history = press(history, 'meter timing');
  expect(valueAt(history.document, ['boards', 'lamp', 'parts'])).toContainEqual({
    name: 'P1',
    kind: 'probe',
    a: 'timing',
    b: 'ground',
    resistance: '10 MΩ',
    capacitance: '100 pF',
  });
  history = record(history, made(takeBack(history.document, 'lamp', askedOfBoards(history))));
  expect(history.document).toEqual(ready);
  expect(keys(history)).toEqual([]);
});

test('a meter that is taken off leaves what was changed meanwhile', () => {
  let history = press(openHistory(ready), 'meter timing');
  const parts = valueAt(history.document, ['boards', 'lamp', 'parts']) as { name: string }[];
  const index = parts.findIndex(({ name }) => name === 'R1');
  history = record(history, { path: ['boards', 'lamp', 'parts', index, 'resistance'], value: '1 MΩ', label: 'R1' });
  const after = takenBack(history.document, askedOfBoards(history));
  expect(valueAt(after, ['boards', 'lamp', 'parts', index])).toMatchObject({ name: 'R1', resistance: '1 MΩ' });
  expect(JSON.stringify(after)).not.toContain('probe');
});

test('undo and redo take along what is asked, and a value changed by hand ends it', () => {
  const asked = press(press(openHistory(ready), 'family cmos'), 'tired battery');
  expect(keys(asked)).toEqual(['family cmos', 'tired battery']);
  expect(keys(undo(asked))).toEqual(['family cmos']);
  expect(keys(redo(undo(asked)))).toEqual(['family cmos', 'tired battery']);
  const byHand = { path: ['boards', 'lamp', 'values', 'U1.family'], value: 'ideal', label: 'U1.family to ideal' };
  expect(keys(record(asked, byHand))).toEqual(['tired battery']);
  expect(keys(structuredClone(asked))).toEqual(['family cmos', 'tired battery']);
});

test('what stands at the same places cannot be asked together, and both are taken back to the board as it was', () => {
  const asked = press(press(openHistory(ready), 'family cmos'), 'family ideal');
  expect(keys(asked)).toEqual(['family ideal']);
  expect(takenBack(asked.document, askedOfBoards(asked))).toEqual(ready);
});

test('a supply that comes up slowly counts as high what did before: a later press makes the same pulse', () => {
  // Half of its own voltage, not half of nothing: then the low output, 20 mV above ground, would count as high for ever.
  const width = (document: Json): number => {
    const { numbers } = results(document);
    if (numbers?.kind !== 'reading' || !numbers.ok) throw new Error('it must be read');
    return numbers.values['width'] as number;
  };
  const [was, is] = [width(ready), width(press(openHistory(ready), 'slow supply').document)];
  expect(Math.abs(is / was - 1)).toBeLessThan(1e-6);
});

test('an electrolytic leaks in 100 s and has the loss factor 0.15 at 120 Hz: 10 µF, 10 MΩ and 20 Ω', () => {
  // By hand: 100 s / 10 µF = 10 MΩ; 0.15 / (2 π 120 Hz 10 µF) = 19.89 Ω, two digits.
  const document = page({ ready: 'monostable', values: { C1: '10 µF' } });
  const { values } = offer(document, 'electrolytic as marked');
  expect(values).toContainEqual({ part: 'C1', steps: ['leakage'], value: '10 MΩ' });
  expect(values).toContainEqual({ part: 'C1', steps: ['series'], value: '20 Ω' });
});

test('what is asked is kept as a board of its own beside the board as it was, with a trace and its readings', () => {
  const asked = press(openHistory(ready), 'family cmos');
  const edit = made(keepBeside(asked.document, 'lamp', askedOfBoards(asked)));
  const kept = record(asked, edit);
  expect(edit.label).toBe('keep U1 of the family cmos as lamp2');
  expect(keys(kept)).toEqual([]);
  expect(kept.document).toMatchObject({
    boards: {
      lamp: { ready: 'monostable', values: { R1: '390 kΩ' } },
      lamp2: { ready: 'monostable', values: { R1: '390 kΩ', 'U1.family': 'cmos' } },
    },
    page: [
      { id: 'board' },
      { id: 'numbers' },
      { kind: 'board', board: 'lamp2' },
      { kind: 'trace', board: 'lamp2', until: '6 s' },
      { kind: 'reading', board: 'lamp2', until: '6 s', take: { width: 'width(out)' } },
      { id: 'after' },
    ],
  });
  expect(results(kept.document)['reading']).toMatchObject({ ok: true });
});
