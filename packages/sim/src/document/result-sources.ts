import { isObject, ownEntry } from '../field/record.ts';
import { findCellNumber, knobsOfCells } from './cell-knob.ts';
import { cellNeeds } from './dependencies.ts';

/** What results of a document follow from, as an editor or a file holds it. */
export interface SourceDocument {
  readonly boards: Readonly<Record<string, unknown>>;
  readonly links?: unknown;
  /** The cells by id. */
  readonly cells: ReadonlyMap<string, unknown>;
}

/**
 * The parts of a document that the result of a cell follows from: the cell itself, its board, the links between boards,
 * and the same of every cell and board whose numbers it uses. Two states of a document that share what is the same in
 * both agree on a cell exactly when these are the same objects.
 */
export function resultSources(document: SourceDocument, id: string): readonly unknown[] {
  const found = new Set<unknown>();
  const visited = new Set([id]);
  // A set visits what is added while it is walked through, so this finds what is needed in turn.
  for (const each of visited) {
    const data = document.cells.get(each);
    // Formulas name values of boards as they name numbers of cells.
    if (each !== id) addBoard(document, each, found);
    if (data === undefined) continue;
    found.add(data);
    const board = isObject(data) ? ownEntry(data, 'board') : undefined;
    if (typeof board === 'string') addBoard(document, board, found);
    for (const need of cellNeeds(data)) visited.add(need);
    // Of the number that a knob turns only that it is there matters to the cell with the knob.
    if (typeof board !== 'string') continue;
    for (const knob of knobsOfCells(data)) {
      const number = findCellNumber(knob, board, document.cells);
      found.add(number.ok ? knob : number.message);
    }
  }
  return [...found];
}

/** Whether two lists of sources are the same. */
export function sameSources(one: readonly unknown[], other: readonly unknown[]): boolean {
  return one.length === other.length && one.every((each, index) => each === other[index]);
}

function addBoard({ boards, links }: SourceDocument, board: string, found: Set<unknown>): void {
  const data = ownEntry(boards, board);
  if (data === undefined) return;
  found.add(data);
  // A linked board is computed as one circuit with the boards it is linked to.
  if (links !== undefined) found.add(links).add(boards);
}
