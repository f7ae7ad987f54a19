import { cellNeeds } from '@two-thirds/sim/document';
import type { Json } from '../edit/json.ts';
import { valueAt } from '../edit/path.ts';
import { boardOf, cellsOf, type PageCell } from './cells.ts';

/**
 * The parts of a document that a cell's result depends on: the cell itself, its board, the links between boards, and
 * the same of every cell and board whose numbers it uses. Edits share what they do not change, so two states of a document agree
 * on a cell exactly when these are the same references.
 */
function dependencies(document: Json, cell: PageCell): readonly unknown[] {
  const cells = cellsOf(document);
  const found = new Set<unknown>();
  gather(document, cells, cell, found, new Set());
  return [...found];
}

/**
 * The ids, in page order, of the cells whose result may differ between two states of a document: those that are new
 * and those of which a dependency changed.
 */
export function staleCells(before: Json | undefined, after: Json): string[] {
  const old = new Map(before === undefined ? [] : cellsOf(before).map((cell) => [cell.id, cell]));
  return cellsOf(after)
    .filter((cell) => {
      const earlier = old.get(cell.id);
      if (earlier === undefined || before === undefined) return true;
      return !same(dependencies(before, earlier), dependencies(after, cell));
    })
    .map((cell) => cell.id);
}

function gather(
  document: Json,
  cells: readonly PageCell[],
  cell: PageCell,
  found: Set<unknown>,
  visited: Set<string>,
): void {
  if (visited.has(cell.id)) return;
  visited.add(cell.id);
  found.add(cell.data);
  addBoard(document, boardOf(cell), found);
  for (const id of cellNeeds(cell.data)) {
    // Formulas name values of boards as they name numbers of cells.
    addBoard(document, id, found);
    const needed = cells.find((each) => each.id === id);
    if (needed !== undefined) gather(document, cells, needed, found, visited);
  }
}

function addBoard(document: Json, board: string | undefined, found: Set<unknown>): void {
  if (board === undefined) return;
  const data = valueAt(document, ['boards', board]);
  found.add(data);
  if (data === undefined) return;
  // A linked board is computed as one circuit with the boards it is linked to.
  if (valueAt(document, ['links']) !== undefined) {
    found.add(valueAt(document, ['links']));
    found.add(valueAt(document, ['boards']));
  }
}

function same(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((each, index) => each === b[index]);
}
