import { fieldWords, placeWords } from '@two-thirds/sim/quantity';
import {
  type BoardResult,
  familyParameters,
  innerUnit,
  kindFields,
  memberUnits,
  type PartRow,
  timerFamilies,
} from '@two-thirds/sim/document';
import type { Unit } from '@two-thirds/sim/quantity';
import { terminalNets } from '../edit/board-names.ts';
import { boardParts, placeName, type ValuePlace, valuePlace } from '../edit/board-values.ts';
import { type PartEnd, partEnds } from '../edit/circuit-edits.ts';
import { isList, isRecord, type Json, type JsonRecord } from '../edit/json.ts';
import { linksOf } from '../edit/link-edits.ts';
import { type Measure, writtenMeasure } from '../edit/measure.ts';
import { WAVE_SHAPES, waveFields } from '../edit/wave-shapes.ts';
import { linkPresses, listPlaces, type ListView, listViews } from './list-fields.ts';
import { numberText, readNumber } from './value-number.ts';
import { innerWord } from './value-words.ts';

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
  /** What it is as a number that a knob can turn; absent for what is none, such as a word, a list or a seed. */
  readonly measure?: Measure;
  /** The number, of a quantity in SI units, where it can be read; `Infinity` for no limit. */
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
  const family = kind === 'timer' ? (typeof data['family'] === 'string' ? data['family'] : 'bipolar') : undefined;
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
        family,
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
  const full = placeName(place);
  const inRows = part?.lists.flatMap(({ rows }) => rows.flatMap((cells) => cells.map(({ value }) => value))) ?? [];
  return [...inRows, ...(part?.values ?? [])].find((value) => value.name === full);
}

/** The views of one field: itself, or one for every value inside it. */
function fieldViews(
  place: ValuePlace,
  raw: Json | undefined,
  known: PartRow['fields'][number] | undefined,
  words: readonly string[] | undefined,
  family: string | undefined,
): ValueView[] {
  if (isRecord(raw) && place.steps.join('.') === 'wave') return waveViews(place, raw);
  if (family !== undefined && place.steps.join('.') === 'with') return parameterViews(place, raw, family);
  if (isRecord(raw) || isList(raw)) return innerViews(place, raw);
  const unit = known?.unit;
  const measure =
    place.steps[0] === 'tolerance' ? 'tolerance' : (unit ?? (isNumber(raw, known) ? 'number' : undefined));
  const value = raw === undefined ? defaultOf(known, measure) : readNumber(raw, measure);
  return [
    {
      name: placeName(place),
      title: known?.title ?? placeName(place).slice(place.part.length + 1),
      word: fieldWords(placeName(place).slice(place.part.length + 1)),
      text: raw === undefined ? (known?.text ?? '') : numberText(raw, unit),
      place,
      given: raw !== undefined,
      ...(raw === undefined ? {} : { raw }),
      ...(unit === undefined ? {} : { unit }),
      ...(measure === undefined ? {} : { measure }),
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
    const unit = innerUnit(inside.steps.map(String));
    const measure = unit ?? (inside.steps.join('.') === 'wave.count' ? 'count' : undefined);
    const value = readNumber(item, measure);
    return [
      {
        name: placeName(inside),
        title: placeWords(inside.steps),
        word: innerWord(inside.steps, position === 0),
        text: numberText(item, unit),
        raw: item,
        place: inside,
        given: true,
        ...(unit === undefined ? {} : { unit }),
        ...(measure === undefined ? {} : { measure }),
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
    const measure = unit ?? (name === 'count' ? 'count' : undefined);
    const value = usual === '' ? undefined : readNumber(usual, measure);
    const absent: ValueView = {
      name: placeName(inside),
      title: name,
      word: name,
      text: '',
      place: inside,
      given: false,
      ...(unit === undefined ? {} : { unit }),
      ...(measure === undefined ? {} : { measure }),
      ...(value === undefined ? {} : { value }),
    };
    const view = viewOf(name) ?? absent;
    return { ...view, hint: usual, ...(words === undefined ? {} : { words }) };
  });
  const isTold = (view: ValueView): boolean => fields.some(({ name }) => view.place.steps[1] === name);
  const shape = viewOf('shape');
  const others = views.filter((view) => view !== shape && !isTold(view));
  return [...(shape === undefined ? [] : [{ ...shape, words: WAVE_SHAPES }]), ...told, ...others];
}

/** Everything that a timer has from its family, as the family has it or as it is stated here; then what is no parameter. */
function parameterViews(place: ValuePlace, raw: Json | undefined, family: string): ValueView[] {
  const stated = isRecord(raw) ? innerViews(place, raw) : [];
  const views = timerFamilies
    .filter((each) => each === family)
    .flatMap(familyParameters)
    .map(({ name, title, unit, value, source }): ValueView => {
      const inside: ValuePlace = { part: place.part, steps: [...place.steps, name] };
      const usual =
        typeof value === 'boolean' ? (value ? 'yes' : 'no') : writtenMeasure(value, unit ?? 'number', 'unlimited');
      const found = stated.find((view) => view.place.steps[1] === name);
      const words = typeof value === 'boolean' ? { words: ['true', 'false'] } : {};
      if (found !== undefined) return { ...found, title, hint: usual, ...words };
      return {
        name: placeName(inside),
        title,
        word: fieldWords(name),
        text: usual,
        place: inside,
        given: false,
        source,
        ...words,
        ...(unit === undefined ? {} : { unit, measure: unit }),
        ...(typeof value === 'number' ? { value } : {}),
      };
    });
  const isTold = ({ name }: ValueView): boolean => views.some((view) => view.name === name);
  return [...views, ...stated.filter((view) => !isTold(view))];
}

function ownFields(data: JsonRecord, row: PartRow | undefined): string[] {
  const ends = new Set(partEnds(data).map(({ steps }) => steps[0]));
  return Object.keys(data).filter(
    (field) => field !== 'name' && field !== 'kind' && !ends.has(field) && row?.nets[field] === undefined,
  );
}

/** Whether a field without a unit is a number, such as a gain: where it is one, or nobody said otherwise. */
function isNumber(raw: Json | undefined, known: PartRow['fields'][number] | undefined): boolean {
  return typeof raw === 'number' || (raw === undefined && known?.value !== undefined);
}

/** The number that holds while a field is left out. */
function defaultOf(known: PartRow['fields'][number] | undefined, measure: Measure | undefined): number | undefined {
  const usual = known?.given === true ? known.usual : known?.text;
  return usual === undefined ? undefined : readNumber(usual, measure);
}
