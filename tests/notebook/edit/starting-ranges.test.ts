import { readFileSync, readdirSync } from 'node:fs';
import { addCell, addReadyBoard } from '#notebook/edit/page-edits.ts';
import { cellStarts } from '#notebook/edit/starting-cells.ts';
import { isList, isRecord, type Json, type JsonRecord } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { timingRule } from '#notebook/edit/timing-rule.ts';
import { readyBoards } from '#sim/board/index.ts';
import { claimTrialsFor, computeDocument, type LoadedDocument, loadDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { processorTime } from '../../support/processor-time.ts';

const KINDS = ['sweep', 'map', 'spread', 'choose', 'claim'];
const examples = new URL('../../../worked-examples/', import.meta.url);

/** Every board of the ready ones and of the worked examples, with the document it stands in. */
const boards: readonly [name: string, document: Json, board: string][] = [
  ...[...readyBoards.keys()].map((ready): [string, Json, string] => {
    const empty: Json = { format: 'two-thirds', version: 1, boards: {}, page: [] };
    const { edit } = addReadyBoard(empty, 0, ready);
    return [ready, withValue(empty, edit.path, edit.value), ready.replace(/\W+/g, '_')];
  }),
  ...readdirSync(examples).flatMap((folder) => {
    const name = `${folder}/${folder.replace(/^\d+-/, '')}.tt.json`;
    const document = JSON.parse(readFileSync(new URL(name, examples), 'utf8')) as JsonRecord;
    const own = document['boards'];
    return Object.keys(isRecord(own) ? own : {}).map((board): [string, Json, string] => [
      `${folder} ${board}`,
      { ...document, page: [] },
      board,
    ]);
  }),
];

/**
 * The kinds of cells that are not begun on a circuit: those that begin with a textbook's rule where none covers it, and all
 * that need a resistor or capacitor where there is but a winding.
 */
const NOT_BEGUN: Readonly<Record<string, readonly string[]>> = {
  '11-what-the-rule-leaves-out signal': ['choose', 'claim'],
  '12-points-motor saved': ['map', 'spread', 'choose', 'claim'],
  '13-around-the-timer halves': ['choose', 'claim'],
};

/** The kinds of cells that can be begun on a board. */
function kindsOn(name: string): string[] {
  return KINDS.filter((kind) => !NOT_BEGUN[name]?.includes(kind));
}

function startOf(document: Json, board: string, kind: string): JsonRecord {
  const content = cellStarts(document, board)
    .find((each) => each.kind === kind)
    ?.content(document, board);
  if (content === undefined) throw new Error(`${kind} must be offered`);
  return content;
}

/** The same parts, whatever their values: one of them is computed for all. */
function circuitOf(document: Json, board: string): string {
  const data = valueAt(document, ['boards', board]);
  if (!isRecord(data)) return '';
  const { parts, ready } = data;
  return JSON.stringify(ready ?? (isList(parts) ? parts.map((part) => valueAt(part, ['kind'])) : null));
}

const circuits = boards.filter(
  ([, document, board], index) =>
    boards.findIndex(([, other, name]) => circuitOf(other, name) === circuitOf(document, board)) === index,
);

async function begun(document: Json, board: string, kind: string): Promise<LoadedDocument> {
  const { edit } = addCell(document, 0, kind, startOf(document, board, kind));
  return loadDocument(JSON.stringify(withValue(document, edit.path, edit.value)));
}

describe.each(boards)('what is begun on %s', (of, document, board) => {
  test.each(kindsOn(of))('as %s has no fault', async (kind) => {
    const loaded = await begun(document, board, kind);
    expect(loaded.unusable).toBeUndefined();
    expect(loaded.issues.filter(({ severity }) => severity === 'fault')).toEqual([]);
  });
});

/**
 * Circuits whose interval no choice can make: a diode inside the second timer of one takes more than it may whatever is
 * chosen, another is reset in the middle of every interval, and the third begins its interval anew with every pulse. Their
 * choices say so.
 */
const WITHOUT_CHOICE = [
  '11-what-the-rule-leaves-out crossing',
  '11-what-the-rule-leaves-out brake',
  '13-around-the-timer watch',
];

describe.each(circuits)('what is begun on %s', (name, document, board) => {
  test.each(kindsOn(name))('as %s has something to show at once', async (kind) => {
    const { document: read, formulas } = await begun(document, board, kind);
    if (read === undefined) throw new Error('it must be readable');
    const claims = await claimTrialsFor(read);
    const started = processorTime();
    const { results } = computeDocument(read, {
      ...(formulas === undefined ? {} : { formulas }),
      ...(claims === undefined ? {} : { claims }),
    });
    const result = results[kind];
    expect(result).toMatchObject({ kind, ok: true });
    if (result === undefined || !result.ok) return;
    if (result.kind === 'sweep') {
      const [first] = result.series;
      expect(first?.values.filter((each) => each !== null).length).toBeGreaterThan(result.x.length / 2);
    }
    if (result.kind === 'map') expect(result.z.flat().some((each) => each !== null)).toBe(true);
    if (result.kind === 'spread') expect(result.readings[0]?.missing).toBe(0);
    if (result.kind === 'choose') {
      expect(result.counts.run).toBe(result.counts.there);
      expect(result.counts.granted > 0).toBe(!WITHOUT_CHOICE.includes(name));
    }
    if (result.kind === 'claim') expect(result.open).toBeLessThan(result.trials / 2);
    // A study of some hundred runs takes a second or two; a machine that is busy otherwise several times that.
    expect(processorTime() - started).toBeLessThan(20_000);
  });
});

test.each(Object.entries(NOT_BEGUN))('on %s nothing is begun that it has no values or rule for', (name, missing) => {
  const [, document, board] = boards.find(([each]) => each === name) ?? [];
  const kinds = cellStarts(document ?? null, board ?? '').map(({ kind }) => kind);
  expect(kinds.filter((kind) => missing.includes(kind))).toEqual([]);
});

describe('timingRule(document, board)', () => {
  const [, astable, name] = boards.find(([each]) => each === 'astable') ?? [];

  test('is the textbook rule of a ready board, with what it gives now', () => {
    if (astable === undefined || name === undefined) throw new Error('there must be an astable');
    // f = 1.44 / ((R1 + 2 R2) C1) (TI SLFS022I (Sept 2014), p. 11) of 10 kohm, 68 kohm and 10 uF.
    const rule = timingRule(astable, name);
    expect(rule).toMatchObject({ reading: 'frequency(out)', text: '1.44 / ((R1 + 2 * R2) * C1)', unit: 'Hz' });
    expect(rule?.value).toBeCloseTo(1.44 / (146e3 * 10e-6), 12);
    expect(rule?.parts).toEqual(['R1', 'R2', 'C1']);
  });

  test.each([
    ['11-what-the-rule-leaves-out even', '1.44 / ((R1 + R2) * C1)'],
    ['11-what-the-rule-leaves-out lean', '1.44 / (2 * R1 * C1)'],
    ['11-what-the-rule-leaves-out whistle', '1.44 / ((R1 + 2 * R2) * C1)'],
    ['07-what-people-believe gate', '1.1 * R1 * C1'],
  ])('follows the circuit of %s', (board, text) => {
    const [, document, own] = boards.find(([each]) => each === board) ?? [];
    expect(timingRule(document ?? null, own ?? '')?.text).toBe(text);
  });

  test('is none where nothing times', () => {
    const supply = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V' };
    const document: Json = { boards: { bare: { parts: [supply] } }, page: [] };
    expect(timingRule(document, 'bare')).toBeUndefined();
    expect(cellStarts(document, 'bare').map(({ kind }) => kind)).not.toContain('choose');
    expect(valueAt(startOf(document, 'bare', 'sweep'), ['vary'])).toMatchObject({ value: 'BT1', from: '4.5 V' });
  });
});
