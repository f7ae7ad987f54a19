import { cellKnob, type CellNumber, cellNumbers } from '@two-thirds/sim/document';
import { readQuantity, type Unit } from '@two-thirds/sim/quantity';
import { boardOfKnobs, hasCellKnob } from '../edit/cell-knobs.ts';
import type { KnobBounds } from '../edit/bounded-scale.ts';
import type { Edit } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import type { Measure } from '../edit/measure.ts';
import type { Path } from '../edit/path.ts';
import { valueUnit } from '../edit/value-unit.ts';
import { cellNumberWords } from './cell-number-words.ts';
import { boardOf, type PageCell } from './cells.ts';
import { numberText, readNumber } from './value-number.ts';

/** A number of a cell as it is edited and turned. */
export interface CellValue {
  /** As knobs name it: `#look.until`. */
  readonly knob: string;
  /** As complaints name its place: `until`, `vary.from`. */
  readonly place: string;
  /** The way to it from the cell. */
  readonly steps: Path;
  /** What it is to people: `look until`, `share R1 from`. */
  readonly title: string;
  /** The word that tells it from the other numbers of its field: `from`, `to`, `2`. */
  readonly word: string;
  /** As typed, or what holds while it is left out. */
  readonly text: string;
  readonly measure: Measure;
  /** The number, of a quantity in SI units; `undefined` where what was typed cannot be read. */
  readonly value: number | undefined;
  readonly bounds: KnobBounds;
  /** Whether its field may be left out. */
  readonly isOptional: boolean;
}

/** The numbers of a cell that a knob can turn, in the order of its fields. */
export function cellValues(document: Json, cell: PageCell): readonly CellValue[] {
  const numbers = cellNumbers(cell.data).flatMap((number) => {
    const measure = measureOf(document, boardOf(cell) ?? '', number);
    return measure === undefined ? [] : [{ number, measure, value: readNumber(number.raw as Json, measure) }];
  });
  const numberAt = (place: string | undefined): number | undefined =>
    place === undefined ? undefined : numbers.find(({ number }) => number.place === place)?.value;
  return numbers.map(({ number, measure, value }): CellValue => {
    const { steps, place, raw, most, above, below } = number;
    const { title, word } = cellNumberWords(cell.kind, steps);
    return {
      knob: cellKnob(cell.id, number),
      place,
      steps,
      title: `${cell.id} ${title}`,
      word,
      text: numberText(raw as Json, unitOf(measure)),
      measure,
      value,
      bounds: {
        ...(most === undefined ? {} : { least: 1, greatest: most }),
        above: numberAt(above),
        below: numberAt(below),
      },
      isOptional: number.isOptional === true,
    };
  });
}

function unitOf(measure: Measure): Unit | undefined {
  if (measure === 'tolerance') return 'share';
  return measure === 'number' || measure === 'count' ? undefined : measure;
}

/** The edit that sets a number of a cell to what was typed; `undefined` where nothing can stand there. */
export function cellValueEdit(cell: PageCell, value: CellValue, text: string): Edit | undefined {
  if (text === '' && !value.isOptional) return undefined;
  const isPlain = value.measure === 'number' || value.measure === 'count';
  const typed = isPlain && Number.isFinite(Number(text)) ? Number(text) : text;
  return {
    path: ['page', cell.index, ...value.steps],
    value: text === '' ? undefined : typed,
    label: text === '' ? `${value.knob.slice(1)} left out` : `${value.knob.slice(1)} to ${text}`,
  };
}

/** A number of a cell that can have a knob, in the tray of a board, and whether it has one. */
export interface TurnableValue extends CellValue {
  readonly board: string;
  readonly isTurned: boolean;
}

/** The numbers of a cell that can have a knob as they are typed now; none where no board on the page has a tray for them. */
export function turnableValues(document: Json, cell: PageCell): readonly TurnableValue[] {
  const board = boardOfKnobs(document, cell.id);
  if (board === undefined) return [];
  return cellValues(document, cell)
    .filter(({ value }) => value !== undefined)
    .map((value) => ({ ...value, board, isTurned: hasCellKnob(document, board, value.knob) }));
}

/** The numbers of a cell by the field that they are edited in: each at the innermost field around it. */
export function valuesByField<Value extends CellValue>(
  values: readonly Value[],
  fields: readonly string[],
): ReadonlyMap<string, readonly Value[]> {
  const found = new Map<string, Value[]>();
  for (const value of values) {
    const field = fieldAround(value.place, fields);
    if (field !== undefined) found.set(field, [...(found.get(field) ?? []), value]);
  }
  return found;
}

/** The innermost field around a place of a cell; `undefined` where it is edited nowhere. */
export function fieldAround(place: string, fields: readonly string[]): string | undefined {
  const around = fields.filter((field) => field === place || /^[.[]/.test(after(place, field)));
  return around.sort((a, b) => b.length - a.length)[0];
}

function after(place: string, field: string): string {
  return place.startsWith(field) ? place.slice(field.length) : '';
}

/** What a number of a cell is: as its field says, as its value of the board does, or as it is written. */
function measureOf(document: Json, board: string, number: CellNumber): Measure | undefined {
  const { isTolerance, most, unit, of, raw } = number;
  if (isTolerance === true) return 'tolerance';
  if (most !== undefined) return 'count';
  if (unit !== undefined) return unit ?? 'number';
  const ofBoard = of === undefined ? undefined : valueUnit(document, board, of);
  if (ofBoard !== undefined) return ofBoard;
  if (typeof raw === 'number') return 'number';
  // Text without a unit does not say of what it is.
  const read = UNITS.filter((each) => readQuantity(raw, each).ok);
  return read.length === 1 ? read[0] : undefined;
}

const UNITS: readonly Unit[] = ['V', 'A', 'Ω', 'F', 's', 'Hz', 'W', 'H', 'C', 'J', 'rad', 'share'];
