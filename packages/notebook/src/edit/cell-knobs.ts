import { cellKnob, cellNumbers, findCellNumber, knobsOfCells } from '@two-thirds/sim/document';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { pageOf } from './page.ts';
import { valueAt, withValue } from './path.ts';

/** The cells of a page by id, as they stand in the document. */
function cellsById(document: Json): ReadonlyMap<string, JsonRecord> {
  return new Map(
    pageOf(document).flatMap((cell) => (isRecord(cell) && typeof cell['id'] === 'string' ? [[cell['id'], cell]] : [])),
  );
}

/** All numbers of cells that knobs of a board can turn, as the document names them: `#look.until`. */
export function cellKnobNames(document: Json, board: string): readonly string[] {
  return [...cellsById(document)].flatMap(([id, data]) => {
    const own = data['board'];
    return own === undefined || own === board ? cellNumbers(data).map((number) => cellKnob(id, number)) : [];
  });
}

/**
 * The board in whose tray a cell's numbers are turned: its own. A question has none; it goes with the board that the page
 * speaks of there. `undefined` where no cell shows the board: its knobs would have no place.
 */
export function boardOfKnobs(document: Json, id: string): string | undefined {
  const page = pageOf(document);
  const index = page.findIndex((cell) => valueAt(cell, ['id']) === id);
  const above = page.slice(0, index + 1).findLast((cell) => boardOf(cell) !== undefined);
  const board = boardOf(page[index]) ?? boardOf(above) ?? boardOf(page.find((cell) => boardOf(cell) !== undefined));
  return board !== undefined && page.some((cell) => isShowing(cell, board)) ? board : undefined;
}

/** Whether a knob of this name stands in the tray of a board. */
export function hasCellKnob(document: Json, board: string, knob: string): boolean {
  return pageOf(document).some((cell) => isShowing(cell, board) && knobsOfCells(cell).includes(knob));
}

/** Gives the first cell that shows a board a knob for a number of a cell, or takes it from all that show it. */
export function toggleCellKnob(document: Json, board: string, knob: string): Edit {
  const name = knob.slice(1);
  const page = pageOf(document);
  const having = page.flatMap((cell, index) =>
    isShowing(cell, board) && knobsOfCells(cell).includes(knob) ? [index] : [],
  );
  const [only, ...more] = having;
  if (more.length > 0) {
    const value = page.map((cell, index) => (having.includes(index) ? withoutKnob(cell, knob) : cell));
    return { path: ['page'], value, label: `no knob for ${name}` };
  }
  const index = only ?? page.findIndex((cell) => isShowing(cell, board));
  const path = ['page', index, 'knobs'];
  const found = valueAt(document, path);
  const knobs = isList(found) ? found : [];
  if (only === undefined) return { path, value: [...knobs, knob], label: `knob for ${name}` };
  return { path, value: knobs.filter((each) => each !== knob), label: `no knob for ${name}` };
}

/**
 * A document after an edit, in which every knob that turned a number of a cell before still does: where its cell looks at
 * another board now, it stands there; where the number or its cell is gone, so is the knob. What never turned anything
 * stays, for somebody typed it.
 */
export function withKnobsFollowing(before: Json, after: Json): Json {
  const page = pageOf(after);
  if (page === pageOf(before)) return after;
  const all = page.flatMap((cell) => (isRecord(cell) ? knobsOfCells(cell) : []));
  if (all.length === 0) return after;
  const [old, now] = [cellsById(before), cellsById(after)];
  const idle = page.flatMap((cell, index) => {
    const board = boardOf(cell) ?? '';
    const id = valueAt(cell, ['id']);
    const former = typeof id === 'string' ? old.get(id) : undefined;
    const knew = knobsOfCells(former).filter((knob) => findCellNumber(knob, boardOf(former) ?? '', old).ok);
    return knobsOfCells(cell)
      .filter((knob) => knew.includes(knob) && !findCellNumber(knob, board, now).ok)
      .map((knob) => ({ index, knob }));
  });
  let next = after;
  for (const { index, knob } of idle) {
    const cell = valueAt(next, ['page', index]);
    if (cell !== undefined) next = withValue(next, ['page', index], withoutKnob(cell, knob));
    const board = boardOf(now.get(/^#(\w+)/.exec(knob)?.[1] ?? ''));
    if (board === undefined || !findCellNumber(knob, board, now).ok || hasCellKnob(next, board, knob)) continue;
    if (!page.some((each) => isShowing(each, board))) continue;
    const { path, value } = toggleCellKnob(next, board, knob);
    next = withValue(next, path, value);
  }
  return next;
}

function withoutKnob(cell: Json, knob: string): Json {
  const knobs = valueAt(cell, ['knobs']);
  return isList(knobs)
    ? withValue(
        cell,
        ['knobs'],
        knobs.filter((each) => each !== knob),
      )
    : cell;
}

function isShowing(cell: Json, board: string): boolean {
  return isRecord(cell) && cell['kind'] === 'board' && cell['board'] === board;
}

function boardOf(cell: Json | undefined): string | undefined {
  const board = valueAt(cell, ['board']);
  return typeof board === 'string' ? board : undefined;
}
