import { readingNames } from '@two-thirds/sim/document';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { pageOf } from './page.ts';
import { valueAt } from './path.ts';

/** A name on a board: that of a part, or that of a net. */
export interface BoardName {
  readonly board: string;
  readonly what: 'part' | 'net';
  readonly name: string;
}

/** Readings and signals whose argument is a part; those of all others are nets. */
const OF_PARTS = ['current', 'peak_current', 'power', 'light', 'contact'];

/** Fields that hold readings and signals, in which a bare name is a net. */
const READINGS = ['show', 'take', 'want', 'align'];
/** Fields of a claim that calculate, in which a name that stands in no reading is a value of a part. */
const SUMS = ['says', 'from', 'until'];
/** Fields that hold an expression over numbers of cells and boards. */
const FORMULAS = ['text', 'answer', 'against'];

/** The cell with another name in the place of this one wherever it means this board's part or net; the very same cell where nothing changes. */
export function withName(document: Json, cell: JsonRecord, from: BoardName, to: string): JsonRecord {
  const own = cell['board'] === from.board;
  const changed: Record<string, Json | undefined> = {};
  const put = (field: string, change: (value: Json) => Json): void => {
    const before = cell[field];
    if (before === undefined) return;
    const after = change(before);
    if (JSON.stringify(after) !== JSON.stringify(before)) changed[field] = after;
  };
  const inText = (bare: BoardName['what'] | undefined) => (value: Json) =>
    mapTexts(value, (text) => renamed(document, text, from, to, bare));
  for (const field of READINGS) put(field, inText(own ? 'net' : undefined));
  for (const field of SUMS) put(field, inText(own && cell['kind'] === 'claim' ? 'part' : undefined));
  if (cell['kind'] !== 'note') for (const field of FORMULAS) put(field, inText(undefined));
  if (own) changeOwn(cell, from, to, put);
  return Object.keys(changed).length === 0 ? cell : { ...cell, ...changed };
}

/** Whether a cell asks about a part of a board. */
export function mentionsPart(document: Json, cell: JsonRecord, board: string, part: string): boolean {
  return withName(document, cell, { board, what: 'part', name: part }, `${part}_`) !== cell;
}

/** Changes the fields of a cell on the board itself that name a part, a value of one, or a net. */
function changeOwn(
  cell: JsonRecord,
  { what, name }: BoardName,
  to: string,
  put: (field: string, change: (value: Json) => Json) => void,
): void {
  const place = (text: string): string =>
    text === name ? to : text.startsWith(`${name}.`) ? to + text.slice(name.length) : text;
  if (what === 'net') {
    put('columns', (columns) => mapKeys(columns, (key) => (key === 'time' ? key : place(key))));
    return;
  }
  put('timer', (timer) => mapTexts(timer, place));
  put('knobs', (knobs) => mapTexts(knobs, (knob) => inKnob(place(knob), place)));
  for (const field of ['adjust', 'parts'])
    put(field, (value) => (isList(value) ? mapTexts(value, place) : mapKeys(value, place)));
  put('over', (over) => mapKeys(over, place));
  for (const field of ['vary', 'x', 'y']) {
    put(field, (vary) =>
      isRecord(vary) && typeof vary['value'] === 'string' ? { ...vary, value: place(vary['value']) } : vary,
    );
  }
}

/** A knob that turns a number of a cell which stands under the name of a value: `#kits.parts["U1.with.delay"]`. */
function inKnob(knob: string, place: (name: string) => string): string {
  const [, start, plain, quoted, rest] =
    /^(#\w+\.(?:parts|adjust|over))(?:\.(\w+)|\["([^"]+)"\])(.*)$/.exec(knob) ?? [];
  const name = plain ?? quoted;
  if (start === undefined || name === undefined) return knob;
  const after = place(name);
  return `${start}${/^\w+$/.test(after) ? `.${after}` : `[${JSON.stringify(after)}]`}${rest ?? ''}`;
}

/**
 * A text with a name replaced where it means this part or net: after the name of its board and a dot anywhere, and by
 * itself where a bare name means something of this board.
 *
 * @param bare what a name means that stands in no reading; `undefined` where only names with their board count.
 */
function renamed(
  document: Json,
  text: string,
  { board, what, name }: BoardName,
  to: string,
  bare: BoardName['what'] | undefined,
): string {
  return text.replace(
    /(?<![\w.])([A-Za-z]\w*)(\.[A-Za-z]\w*)?/g,
    (word: string, first: string, more: string | undefined, at: number) => {
      const isQualified = first === board && more === `.${name}` && !isNumberOfCell(document, first, name);
      if (!isQualified && (first !== name || bare === undefined)) return word;
      if (meaning(text.slice(0, at), isQualified ? (bare ?? 'part') : (bare ?? what)) !== what) return word;
      return isQualified ? `${first}.${to}` : to + (more ?? '');
    },
  );
}

/** What a name means by the bracket it stands in. */
function meaning(before: string, bare: BoardName['what']): BoardName['what'] {
  let depth = 0;
  for (let at = before.length - 1; at >= 0; at -= 1) {
    if (before[at] === ')') depth += 1;
    if (before[at] !== '(') continue;
    if (depth > 0) {
      depth -= 1;
      continue;
    }
    const word = /([A-Za-z]\w*)\s*$/.exec(before.slice(0, at))?.[1] ?? '';
    if (OF_PARTS.includes(word)) return 'part';
    if (readingNames.includes(word as (typeof readingNames)[number])) return 'net';
  }
  return bare;
}

/** Whether `cell.name` is a number of a cell: those come before values of boards. */
function isNumberOfCell(document: Json, id: string, name: string): boolean {
  const cell = pageOf(document)
    .filter(isRecord)
    .find((each) => each['id'] === id);
  return valueAt(cell, ['take', name]) !== undefined;
}

/** A value with every text in it changed; names of fields stay. */
function mapTexts(value: Json, change: (text: string) => string): Json {
  if (typeof value === 'string') return change(value);
  if (isList(value)) return value.map((each) => mapTexts(each, change));
  if (!isRecord(value)) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, each]) => [key, each === undefined ? undefined : mapTexts(each, change)]),
  );
}

/** A value with the names of its fields changed, in their order. */
function mapKeys(value: Json, change: (key: string) => string): Json {
  return isRecord(value) ? Object.fromEntries(Object.entries(value).map(([key, each]) => [change(key), each])) : value;
}
