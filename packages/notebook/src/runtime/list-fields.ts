import { kindFields } from '@two-thirds/sim/document';
import { placeWords, readQuantity, typedQuantity, type Unit } from '@two-thirds/sim/quantity';
import { placeName, type ValuePlace } from '../edit/board-values.ts';
import { isList, isRecord, type Json, type JsonRecord } from '../edit/json.ts';
import { valueAt, withValue } from '../edit/path.ts';
import type { ValueView } from './board-view.ts';

/** One value in a row of a list. */
interface Column {
  readonly step: string | number;
  /** The word that stands before it. */
  readonly word: string;
  readonly unit: Unit;
  /** What stands in it while it is left out; without one it must be given. */
  readonly hint?: string;
}

/** A kind of list that parts have: what one entry is called, what it holds, and what a new one begins with. */
interface ListKind {
  /** The steps from the part to the list. */
  readonly steps: readonly string[];
  /** One entry, with its article. */
  readonly one: string;
  readonly columns: readonly Column[];
  /** The fewest entries that the part can do with. */
  readonly least: number;
  /** A new last entry. */
  next(entries: readonly Json[], part: JsonRecord): Json;
}

/** Time between the end of an entry and a new one (s). */
const PAUSE = 1;

const time = { unit: 's' } as const;
const scheduled: readonly Column[] = [
  { step: 'at', word: 'at', ...time },
  { step: 'for', word: 'for', ...time },
];

const listKinds: readonly ListKind[] = [
  { steps: ['presses'], one: 'a press', columns: scheduled, least: 0, next: nextPress },
  { steps: ['touches'], one: 'a touch', columns: scheduled, least: 0, next: nextPress },
  {
    steps: ['changes'],
    one: 'a change',
    columns: [
      { step: 'at', word: 'at', ...time },
      { step: 'voltage', word: 'to', unit: 'V' },
      { step: 'over', word: 'within', ...time, hint: 'no time' },
    ],
    least: 0,
    next: (entries, part) => {
      const last = entries.at(-1);
      const end = number(last, 'at', 's') + number(last, 'over', 's');
      const voltage = member(last, 'voltage') ?? part['voltage'] ?? '6 V';
      return { at: typedQuantity((last === undefined ? 0 : end) + PAUSE, 's'), voltage };
    },
  },
  {
    steps: ['wave', 'points'],
    one: 'a point',
    columns: [
      { step: 0, word: 'at', ...time },
      { step: 1, word: '', unit: 'V' },
    ],
    least: 1,
    next: (entries) => {
      const [before, last] = [entries.at(-2), entries.at(-1)];
      const gap = number(last, 0, 's') - number(before, 0, 's');
      return [typedQuantity(number(last, 0, 's') + (gap > 0 ? gap : PAUSE), 's'), member(last, 1) ?? '0 V'];
    },
  },
];

/** One value in a row, and what stands in it while it is left out. */
interface ListCell {
  readonly word: string;
  readonly value: ValueView;
  readonly hint: string;
}

/** A list of a part, as rows. */
export interface ListView {
  /** As places are written: `S1.presses`. */
  readonly name: string;
  readonly place: ValuePlace;
  /** One entry, with its article. */
  readonly one: string;
  readonly rows: readonly (readonly ListCell[])[];
  /** The entries as they stand in the document. */
  readonly entries: readonly Json[];
  /** The list with one entry more. */
  readonly longer: readonly Json[];
  /** Whether an entry may be taken out. */
  readonly mayShrink: boolean;
}

/** The lists that a part has or may be given, as rows; what is no list there is left to be complained of as it is. */
export function listViews(part: JsonRecord): readonly ListView[] {
  const { name, kind } = part;
  if (typeof name !== 'string') return [];
  const fields = kindFields(typeof kind === 'string' ? kind : '').map((field) => field.name);
  return listKinds.flatMap((list) => {
    const [field = ''] = list.steps;
    const entries = valueAt(part, list.steps);
    const mayBegin = entries === undefined && list.steps.length === 1;
    if (!fields.includes(field) || !(isList(entries) || mayBegin)) return [];
    return [listView(part, name, list, isList(entries) ? entries : [])];
  });
}

/** What one entry is called, without its article. */
export function nounOf(one: string): string {
  return one.replace(/^an? /, '');
}

/** Whether a value of a part stands in a row of one of its lists. */
export function isInRow({ place }: ValueView, lists: readonly ListView[]): boolean {
  return lists.some((list) => list.place.steps.every((step, index) => place.steps[index] === step));
}

/** Everything in a list that a complaint can be about: the list, its entries, their values. */
export function listPlaces({ name, rows }: ListView): readonly string[] {
  return [name, ...rows.flatMap((cells, row) => [`${name}[${row}]`, ...cells.map(({ value }) => value.name)])];
}

/** A list in which a value that may be left out is. */
export function cleared({ entries, place }: ListView, { place: { steps } }: ValueView): readonly Json[] {
  const [row, step] = steps.slice(place.steps.length);
  return entries.map((entry, index) =>
    index === row && step !== undefined ? withValue(entry, [step], undefined) : entry,
  );
}

/** A list without one of its entries. */
export function shorter({ entries }: Pick<ListView, 'entries'>, row: number): readonly Json[] {
  return entries.filter((_, index) => index !== row);
}

/** The presses of a link between boards, as those of a part. @param index position among the links of the document. */
export function linkPresses(link: JsonRecord, index: number): ListView | undefined {
  const [kind] = listKinds;
  const entries = link['presses'];
  if (kind === undefined || !(entries === undefined || isList(entries))) return undefined;
  return listView(link, `links[${index}]`, kind, entries ?? []);
}

function listView(part: JsonRecord, name: string, list: ListKind, entries: readonly Json[]): ListView {
  const place: ValuePlace = { part: name, steps: list.steps };
  return {
    name: placeName(place),
    place,
    one: list.one,
    entries,
    rows: entries.map((entry, row) => list.columns.map((column) => listCell(place, row, column, entry))),
    longer: [...entries, list.next(entries, part)],
    mayShrink: entries.length > list.least,
  };
}

function listCell(
  { part, steps }: ValuePlace,
  row: number,
  { step, word, unit, hint = '' }: Column,
  entry: Json,
): ListCell {
  const place: ValuePlace = { part, steps: [...steps, row, step] };
  const raw = member(entry, step);
  const read = raw === undefined ? undefined : readQuantity(raw, unit);
  const value: ValueView = {
    name: placeName(place),
    title: placeWords(place.steps),
    word,
    text:
      typeof raw === 'number'
        ? typedQuantity(raw, unit)
        : typeof raw === 'string'
          ? raw
          : raw === undefined
            ? ''
            : JSON.stringify(raw),
    place,
    given: raw !== undefined,
    unit,
    measure: unit,
    ...(raw === undefined ? {} : { raw }),
    ...(read?.ok === true ? { value: read.value } : {}),
  };
  return { word, value, hint };
}

function nextPress(entries: readonly Json[]): Json {
  const last = entries.at(-1);
  const end = number(last, 'at', 's') + number(last, 'for', 's');
  return { at: typedQuantity((last === undefined ? 0 : end) + PAUSE, 's'), for: member(last, 'for') ?? '200 ms' };
}

function member(entry: Json | undefined, step: string | number): Json | undefined {
  if (typeof step === 'number') return isList(entry) ? entry[step] : undefined;
  return isRecord(entry) ? entry[step] : undefined;
}

/** A quantity inside an entry in SI units; 0 where it cannot be read. */
function number(entry: Json | undefined, step: string | number, unit: Unit): number {
  const raw = member(entry, step);
  const read = raw === undefined ? undefined : readQuantity(raw, unit);
  return read?.ok === true ? read.value : 0;
}
