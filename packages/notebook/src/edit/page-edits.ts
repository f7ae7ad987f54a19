import { readyBoards } from '@two-thirds/sim/board';
import { boardParts, valuePlace } from './board-values.ts';
import { addPart } from './circuit-edits.ts';
import type { Edit } from './history.ts';
import { isRecord, type Json, type JsonRecord } from './json.ts';
import { pageOf } from './page.ts';
import { valueAt, withValue } from './path.ts';

/** An edit of the page, and the cell that is to have the focus afterwards (none when the page has become empty). */
export interface PageEdit {
  readonly edit: Edit;
  readonly focus: string | undefined;
}

/** Puts a new cell at a position of the page (0 is the top; the number of cells is the end). */
export function addCell(document: Json, position: number, kind: string, content: JsonRecord): PageEdit {
  const id = freeId(document, kind);
  const page = pageOf(document);
  const cell = { id, kind, ...content };
  return {
    edit: { path: ['page'], value: [...page.slice(0, position), cell, ...page.slice(position)], label: `add ${kind}` },
    focus: id,
  };
}

/** Takes a cell out. The focus goes to the cell that takes its place, or to the one before. */
export function deleteCell(document: Json, id: string): PageEdit | undefined {
  const { page, index, kind } = cellAt(document, id);
  if (index < 0) return undefined;
  const rest = page.filter((_, each) => each !== index);
  const next = rest[Math.min(index, rest.length - 1)];
  return {
    edit: { path: ['page'], value: rest, label: `delete ${kind}` },
    focus: isRecord(next) && typeof next['id'] === 'string' ? next['id'] : undefined,
  };
}

/** Moves a cell by so many places, down for positive numbers; `undefined` where it stands at that end already. */
export function moveCell(document: Json, id: string, places: number): PageEdit | undefined {
  const { page, index, kind } = cellAt(document, id);
  const target = Math.max(0, Math.min(page.length - 1, index + places));
  const cell = page[index];
  if (cell === undefined || target === index) return undefined;
  const rest = page.filter((_, each) => each !== index);
  const value = [...rest.slice(0, target), cell, ...rest.slice(target)];
  return { edit: { path: ['page'], value, label: `move ${kind} ${places < 0 ? 'up' : 'down'}` }, focus: id };
}

/** Puts a copy of a cell below it, under a name of its own. */
export function duplicateCell(document: Json, id: string): PageEdit | undefined {
  const { page, index, kind } = cellAt(document, id);
  const cell = page[index];
  if (!isRecord(cell)) return undefined;
  const copy = { ...cell, id: freeId(document, id) };
  const value = [...page.slice(0, index + 1), copy, ...page.slice(index + 1)];
  return { edit: { path: ['page'], value, label: `duplicate ${kind}` }, focus: copy.id };
}

/** Puts a cell onto the page that shows a board which the document has already. */
export function addBoardCell(document: Json, position: number, board: string): PageEdit {
  return addCell(document, position, 'board', { board, knobs: startingKnobs(document, board) });
}

/** Adds a ready board to the document, and a cell that shows it, as one edit. */
export function addReadyBoard(document: Json, position: number, ready: string): PageEdit {
  const boards = valueAt(document, ['boards']);
  const name = freeName(isRecord(boards) ? Object.keys(boards) : [], ready.replace(/\W+/g, '_'));
  const withBoard = withValue(document, ['boards', name], { ready });
  const { edit, focus } = addBoardCell(withBoard, position, name);
  return { edit: { path: [], value: withValue(withBoard, edit.path, edit.value), label: `add ${ready}` }, focus };
}

/** Adds a board to build on, with nothing on it but a supply, and a cell that shows it, as one edit. */
export function addBareBoard(document: Json, position: number): PageEdit {
  const boards = valueAt(document, ['boards']);
  const name = freeName(isRecord(boards) ? Object.keys(boards) : [], 'circuit');
  const empty = withValue(document, ['boards', name], { parts: [] });
  const { path, value } = addPart(empty, name, 'supply')?.edit ?? { path: [], value: empty };
  const withBoard = withValue(empty, path, value);
  const { edit, focus } = addBoardCell(withBoard, position, name);
  return { edit: { path: [], value: withValue(withBoard, edit.path, edit.value), label: 'add a circuit' }, focus };
}

/** The values of a new board that a knob can turn: those a ready board names, else the first resistors and capacitors. */
function startingKnobs(document: Json, board: string): string[] {
  const parts = boardParts(document, board);
  const ready = valueAt(document, ['boards', board, 'ready']);
  const named =
    typeof ready === 'string'
      ? (readyBoards.get(ready)?.values.map(({ name }) => name) ?? [])
      : parts.filter((part) => part['kind'] === 'resistor' || part['kind'] === 'capacitor').map((part) => part['name']);
  return named
    .filter((name): name is string => typeof name === 'string')
    .filter((name) => {
      const place = valuePlace(parts, name);
      const part = parts.find((each) => each['name'] === place?.part);
      const value = place === undefined ? undefined : valueAt(part, place.steps);
      return typeof value === 'number' || (typeof value === 'string' && /^[\d.]/.test(value));
    })
    .slice(0, 5);
}

/** A name for a cell that no other cell has: the wish itself, or with a number. */
function freeId(document: Json, wish: string): string {
  return freeName(
    pageOf(document).flatMap((cell) => (isRecord(cell) && typeof cell['id'] === 'string' ? [cell['id']] : [])),
    wish,
  );
}

/** A name that none of those taken is: the wish itself, or with a number. */
export function freeName(taken: readonly string[], wish: string): string {
  if (!taken.includes(wish)) return wish;
  const stem = wish.replace(/\d+$/, '');
  let number = 2;
  while (taken.includes(`${stem}${number}`)) number += 1;
  return `${stem}${number}`;
}

function cellAt(document: Json, id: string): { page: readonly Json[]; index: number; kind: string } {
  const page = pageOf(document);
  const index = page.findIndex((cell) => isRecord(cell) && cell['id'] === id);
  const kind = valueAt(page, [index, 'kind']);
  return { page, index, kind: typeof kind === 'string' ? kind : 'cell' };
}
