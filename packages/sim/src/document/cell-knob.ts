import { foundText } from '../core/found-text.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { type CellNumber, cellNumbers } from './cell-numbers.ts';
import { listedNames, nameAdvice } from './name-help.ts';

/** Whether a knob names a number of a cell: it begins with #, as links to cells do; all others name values of the board. */
export function isCellKnob(knob: string): boolean {
  return knob.startsWith('#');
}

/** How knobs name a number of a cell: `#look.until`. */
export function cellKnob(cell: string, { place }: Pick<CellNumber, 'place'>): string {
  return `#${cell}.${place}`;
}

/** The knobs of a cell that name numbers of cells. @param data the cell as it stands in the file. */
export function knobsOfCells(data: unknown): readonly string[] {
  const knobs = isObject(data) ? ownEntry(data, 'knobs') : undefined;
  return Array.isArray(knobs)
    ? knobs.filter((knob): knob is string => typeof knob === 'string' && isCellKnob(knob))
    : [];
}

/** A number of a cell, or why there is none, as "must ...; got .... ...". */
export type FoundNumber =
  | { readonly ok: true; readonly cell: string; readonly number: CellNumber }
  | { readonly ok: false; readonly message: string };

/**
 * Finds the number of a cell that a knob such as `#look.until` names. A cell with a board of its own belongs to the knobs of
 * that board; one without, a question, to those of any.
 *
 * @param board the board of the cell that has the knob.
 * @param cells the cells of the page as they stand in the file, by id.
 */
export function findCellNumber(knob: string, board: string, cells: ReadonlyMap<string, unknown>): FoundNumber {
  const [, id, place] = /^#([A-Za-z]\w*)(?:\.(.*))?$/.exec(knob) ?? [];
  const data = id === undefined ? undefined : cells.get(id);
  if (id === undefined || data === undefined) {
    const names = [...cells]
      .filter(([, each]) => isOf(each, board) && cellNumbers(each).length > 0)
      .map(([name]) => name);
    const known = names.length === 0 ? 'it has none with a number' : listedNames(names);
    const rule = `name a number of a cell of this page (${known}), as #cell.field`;
    return refuse(rule, foundText(knob), nameAdvice(id ?? '', names, 'Correct the name, or take it out.'));
  }
  if (!isOf(data, board)) {
    const other = foundText(boardOf(data));
    return refuse(`name a cell of the board ${board}`, `${foundText(knob)}, a cell of ${other}`, 'Give it there.');
  }
  const numbers = cellNumbers(data);
  const number = numbers.find((each) => each.place === place);
  if (number !== undefined) return { ok: true, cell: id, number };
  const places = numbers.map((each) => each.place);
  if (places.length === 0) return refuse('name a cell that has a number to turn', foundText(knob), 'Take it out.');
  const advice = place === undefined ? `Write for example "#${id}.${places[0] ?? ''}".` : 'Correct the name.';
  return refuse(
    `name a number that ${id} has (${listedNames(places)})`,
    foundText(knob),
    nameAdvice(place ?? '', places, advice),
  );
}

function isOf(data: unknown, board: string): boolean {
  const own = boardOf(data);
  return own === undefined || own === board;
}

function boardOf(data: unknown): unknown {
  return isObject(data) ? ownEntry(data, 'board') : undefined;
}

function refuse(rule: string, got: string, advice: string): FoundNumber {
  return { ok: false, message: `must ${rule}; got ${got}. ${advice}` };
}
