import { type BoardResult, kindFields, memberUnits, type PartRow } from '@two-thirds/sim/document';
import { readQuantity, type Unit } from '@two-thirds/sim/quantity';
import { terminalNets } from '../edit/board-names.ts';
import { boardParts, type ValuePlace, valuePlace } from '../edit/board-values.ts';
import { type PartEnd, partEnds } from '../edit/circuit-edits.ts';
import { isList, isRecord, type Json, type JsonRecord } from '../edit/json.ts';
import { linksOf } from '../edit/link-edits.ts';
import type { Path } from '../edit/path.ts';
import { WAVE_SHAPES, waveFields } from '../edit/wave-shapes.ts';
import { linkPresses, listPlaces, type ListView, listViews } from './list-fields.ts';
import { fileText, innerTitle, innerWord, placeName } from './value-words.ts';

/** One value of a part as the parts list shows it. */
export interface ValueView {
  /** Short name, for example `R1.resistance` or `G1.wave.period`. */
  readonly name: string;
  /** What it is, in a few words. */
  readonly title: string;
  /** The word that stands before it where several values stand in a row. */
  readonly word: string;
  /** As typed, or the default as it is written. */
  readonly text: string;
  readonly place: ValuePlace;
  /** What stands in the document, if anything does. */
  readonly raw?: Json;
  /** Unit of a plain quantity. */
  readonly unit?: Unit;
  /** The quantity in SI units, where it can be read. */
  readonly value?: number;
  /** Whether it was given (as against a default). */
  readonly given: boolean;
  /** Where a default comes from. */
  readonly source?: string;
  /** The words that it may be, where it is one of a few. */
  readonly words?: readonly string[];
  /** What stands in it while it is empty, where it may be left out and is shown all the same: a field of a wave. */
  readonly hint?: string;
}

/** One end of a part as the parts list shows it. */
export interface EndView extends PartEnd {
  /** Its place as the document check names it: `R1.a`, `U1.pins.trigger`. */
  readonly name: string;
}

/** One part as the parts list shows it. */
export interface PartView {
  readonly name: string;
  readonly kind: string;
  readonly title: string;
  /** Net of every terminal. */
  readonly nets: Readonly<Record<string, string>>;
  /** All its ends, open ones included; none where its kind is not known. */
  readonly ends: readonly EndView[];
  readonly values: readonly ValueView[];
  /** Its lists, as rows; their values are among `values` too. */
  readonly lists: readonly ListView[];
}

/**
 * The parts of a board as the document has them now, filled in from the last good result where there is one, so that
 * a parts list stays complete and editable while a value in it is wrong.
 */
export function partViews(document: Json, board: string, result: BoardResult | undefined): PartView[] {
  return boardParts(document, board).flatMap((data) => partView(data, result) ?? []);
}

function partView(data: JsonRecord, result: BoardResult | undefined): PartView | undefined {
  const { name, kind } = data;
  if (typeof name !== 'string') return undefined;
  const row = result?.parts.find((each) => each.name === name);
  const words = new Map(kindFields(typeof kind === 'string' ? kind : '').map((field) => [field.name, field.words]));
  const fields = new Set([...(row?.fields ?? []).map((field) => field.name), ...ownFields(data, row)]);
  return {
    name,
    kind: typeof kind === 'string' ? kind : '',
    title: row?.title ?? (typeof kind === 'string' ? kind : ''),
    nets: row?.nets ?? terminalNets(data),
    ends: partEnds(data).map((end) => ({ ...end, name: [name, ...end.steps].join('.') })),
    values: [...fields].flatMap((field) =>
      fieldViews(
        { part: name, steps: [field] },
        data[field],
        row?.fields.find((each) => each.name === field),
        words.get(field),
      ),
    ),
    lists: listViews(data),
  };
}

/** Everything on a board that a complaint can be about, as the document check names it: parts, ends, values, its links. */
export function boardPlaces(document: Json, board: string, parts: readonly PartView[]): readonly string[] {
  return [
    ...parts.flatMap(({ name, ends, values, lists }) => [
      name,
      ...[...ends, ...values].map((each) => each.name),
      ...lists.flatMap(listPlaces),
    ]),
    ...linksOf(document, board).flatMap(({ index, data }) => {
      const presses = linkPresses(data, index);
      return [`links[${index}].a`, `links[${index}].b`, ...(presses === undefined ? [] : listPlaces(presses))];
    }),
  ];
}

/** One value of a board by its short name, such as `R1` or `G1.wave.period`. */
export function valueView(
  document: Json,
  board: string,
  name: string,
  result: BoardResult | undefined,
): ValueView | undefined {
  const parts = boardParts(document, board);
  const place = valuePlace(parts, name);
  if (place === undefined) return undefined;
  const data = parts.find((each) => each['name'] === place.part);
  const part = data === undefined ? undefined : partView(data, result);
  const full = [place.part, ...place.steps].join('.');
  return part?.values.find((value) => value.name === full);
}

/** The views of one field: itself, or one for every value inside it. */
function fieldViews(
  place: ValuePlace,
  raw: Json | undefined,
  known: PartRow['fields'][number] | undefined,
  words: readonly string[] | undefined,
): ValueView[] {
  if (isRecord(raw) && place.steps.join('.') === 'wave') return waveViews(place, raw);
  if (isRecord(raw) || isList(raw)) return innerViews(place, raw);
  const unit = known?.unit;
  const value = raw === undefined ? known?.value : read(raw, unit);
  return [
    {
      name: placeName(place),
      title: known?.title ?? placeName(place).slice(place.part.length + 1),
      word: placeName(place).slice(place.part.length + 1),
      text: raw === undefined ? (known?.text ?? '') : written(raw, unit),
      place,
      given: raw !== undefined,
      ...(raw === undefined ? {} : { raw }),
      ...(unit === undefined ? {} : { unit }),
      ...(value === undefined ? {} : { value }),
      ...(known?.source === undefined ? {} : { source: known.source }),
      ...(words === undefined ? {} : { words }),
    },
  ];
}

function innerViews(place: ValuePlace, raw: JsonRecord | readonly Json[]): ValueView[] {
  const entries: (readonly [string | number, Json | undefined])[] = isList(raw)
    ? raw.map((item, index) => [index, item] as const)
    : Object.entries(raw);
  return entries.flatMap(([step, item], position) => {
    const inside: ValuePlace = { part: place.part, steps: [...place.steps, step] };
    if (item === undefined) return [];
    if (isRecord(item) || isList(item)) return innerViews(inside, item);
    const unit = typeof step === 'string' ? memberUnits[step] : pointUnit(inside.steps);
    const value = read(item, unit);
    return [
      {
        name: placeName(inside),
        title: innerTitle(inside.steps),
        word: innerWord(inside.steps, position === 0),
        text: written(item, unit),
        raw: item,
        place: inside,
        given: true,
        ...(unit === undefined ? {} : { unit }),
        ...(value === undefined ? {} : { value }),
      },
    ];
  });
}

/** Everything that a wave of its shape has, left out or not, so that it can be filled in; then what does not belong to it. */
function waveViews(place: ValuePlace, wave: JsonRecord): ValueView[] {
  const fields = waveFields(wave);
  const views = innerViews(place, wave);
  const viewOf = (field: string): ValueView | undefined => views.find((view) => view.place.steps[1] === field);
  const told = fields.map(({ name, usual = '', words }): ValueView => {
    const inside: ValuePlace = { part: place.part, steps: [...place.steps, name] };
    const unit = memberUnits[name];
    const absent = { name: placeName(inside), title: name, word: name, text: '', place: inside, given: false };
    const view = viewOf(name) ?? { ...absent, ...(unit === undefined ? {} : { unit }) };
    return { ...view, hint: usual, ...(words === undefined ? {} : { words }) };
  });
  const isTold = (view: ValueView): boolean => fields.some(({ name }) => view.place.steps[1] === name);
  const shape = viewOf('shape');
  const others = views.filter((view) => view !== shape && !isTold(view));
  return [...(shape === undefined ? [] : [{ ...shape, words: WAVE_SHAPES }]), ...told, ...others];
}

/** A wave given by points holds pairs of a time and a voltage. */
function pointUnit(steps: Path): Unit | undefined {
  if (!steps.includes('points')) return undefined;
  return steps.at(-1) === 0 ? 's' : 'V';
}

function ownFields(data: JsonRecord, row: PartRow | undefined): string[] {
  const ends = new Set(partEnds(data).map(({ steps }) => steps[0]));
  return Object.keys(data).filter(
    (field) => field !== 'name' && field !== 'kind' && !ends.has(field) && row?.nets[field] === undefined,
  );
}

function written(value: Json, unit: Unit | undefined): string {
  if (typeof value === 'string') return value;
  if (typeof value === 'number' && unit !== undefined) return fileText(value, unit);
  return JSON.stringify(value);
}

function read(value: Json, unit: Unit | undefined): number | undefined {
  if (unit === undefined) return undefined;
  const result = readQuantity(value, unit);
  return result.ok ? result.value : undefined;
}
