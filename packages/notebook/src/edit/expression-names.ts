import { fates } from '@two-thirds/sim/chart';
import { readyBoards } from '@two-thirds/sim/board';
import { formulaFunctions, mainFields, readingNames } from '@two-thirds/sim/document';
import { boardNames } from './board-names.ts';
import { boardParts } from './board-values.ts';
import { isRecord, type Json, type JsonRecord } from './json.ts';
import { pageOf } from './page.ts';
import { valueAt } from './path.ts';

/** A name that may be written at some place, and what it is in a few words. */
export interface OfferedName {
  readonly name: string;
  readonly what: string;
}

const functions: readonly OfferedName[] = [
  ...[...formulaFunctions].map(([name, { title }]) => ({ name, what: title })),
  { name: 'pi', what: 'constant' },
];
const readings: readonly OfferedName[] = readingNames.map((name) => ({ name, what: 'reading' }));
const edgeWords: readonly OfferedName[] = ['rise', 'fall'].map((name) => ({ name, what: 'edge' }));

/** Names by document and use: a page asks for them at every step of a computation. */
const known = new WeakMap<object, Map<string, readonly OfferedName[]>>();

function remembered(document: Json, use: string, find: () => readonly OfferedName[]): readonly OfferedName[] {
  if (!isRecord(document)) return find();
  const uses = known.get(document) ?? new Map<string, readonly OfferedName[]>();
  known.set(document, uses);
  const names = uses.get(use) ?? find();
  uses.set(use, names);
  return names;
}

/** The numbers that a formula, a question or a note of a page can use: of cells first, then values of boards. */
export function numberNames(document: Json): readonly OfferedName[] {
  return remembered(document, 'numbers', () => [...cellNumbers(document), ...boardValues(document)]);
}

/** What the expression of a formula cell is made of. */
export function formulaNames(document: Json): readonly OfferedName[] {
  return remembered(document, 'formula', () => [...numberNames(document), ...functions]);
}

/** What a note can link to: numbers of cells, and cells. */
export function linkNames(document: Json): readonly OfferedName[] {
  return remembered(document, 'links', () => {
    const numbers = cellNumbers(document);
    const taken = new Set(numbers.map(({ name }) => name));
    const cells = cellsWithId(document).map(({ id, kind }) => ({ name: id, what: `leads to the ${kind}` }));
    return [...numbers, ...cells.filter(({ name }) => !taken.has(name))];
  });
}

/** What a reading of a board is made of: what can be read, nets, parts, edges. */
export function readingParts(document: Json, board = ''): readonly OfferedName[] {
  return remembered(document, `reading ${board}`, () => {
    const { nets, parts } = boardNames(document, board);
    return [...nets.map(net), ...parts.map(part), ...readings, ...edgeWords];
  });
}

/** What a claim about a board is made of: readings of it, values of its parts, functions. */
export function claimNames(document: Json, board = ''): readonly OfferedName[] {
  return remembered(document, `claim ${board}`, () => {
    const { nets } = boardNames(document, board);
    const values = valuesOf(boardParts(document, board), '');
    const words = [...functions, ...edgeWords, { name: 'within', what: 'tolerance' }];
    return [...readings, ...nets.map(net), ...values, ...words];
  });
}

function net(name: string): OfferedName {
  return { name, what: 'net' };
}

function part(name: string): OfferedName {
  return { name, what: 'part' };
}

function cellsWithId(document: Json): { id: string; kind: string; data: JsonRecord }[] {
  return pageOf(document)
    .filter(isRecord)
    .flatMap((data) => {
      const { id, kind } = data;
      return typeof id === 'string' ? [{ id, kind: typeof kind === 'string' ? kind : 'cell', data }] : [];
    });
}

function cellNumbers(document: Json): OfferedName[] {
  return cellsWithId(document).flatMap(({ id, kind, data }) => {
    if (kind === 'formula') return [{ name: id, what: 'formula' }];
    return namesIn(document, kind, data).map((name) => ({ name: `${id}.${name}`, what: whatItIs[kind] ?? kind }));
  });
}

const whatItIs: Readonly<Record<string, string>> = {
  reading: 'reading',
  fates: 'number of pulses',
  board: 'rule of thumb',
};

function namesIn(document: Json, kind: string, data: JsonRecord): readonly string[] {
  if (kind === 'fates') return fates;
  if (kind === 'reading') return isRecord(data['take']) ? Object.keys(data['take']) : [];
  if (kind !== 'board' || typeof data['board'] !== 'string') return [];
  const ready = valueAt(document, ['boards', data['board'], 'ready']);
  const found = typeof ready === 'string' ? readyBoards.get(ready) : undefined;
  return (found?.textbook ?? []).map(({ name }) => name);
}

function boardValues(document: Json): OfferedName[] {
  const boards = valueAt(document, ['boards']);
  return Object.keys(isRecord(boards) ? boards : {}).flatMap((board) =>
    valuesOf(boardParts(document, board), `${board}.`),
  );
}

/** The values that a part is most often asked for: those that its name alone stands for, as far as they are numbers. */
function valuesOf(parts: readonly JsonRecord[], prefix: string): OfferedName[] {
  return parts.flatMap(({ name, kind }) => {
    const field = typeof kind === 'string' ? mainFields.get(kind) : undefined;
    if (typeof name !== 'string' || field === undefined || noNumbers.includes(field)) return [];
    return [{ name: `${prefix}${name}`, what: field }];
  });
}

/** Main values of parts that are no numbers. */
const noNumbers = ['presses', 'closed', 'touches', 'family'];
