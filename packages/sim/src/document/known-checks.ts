import { isObject } from '../field/record.ts';
import type { FaultyBoard, GoodBoard } from './board-table.ts';
import type { CheckedCell } from './check-page.ts';

/**
 * What checks have found of boards and cells, kept from one state of a document to the next: what is the very same piece of
 * data, and looks at the very same things, is not checked again. Forgets what a document has no more.
 */
export class KnownChecks {
  readonly #boards = new WeakMap<object, { readonly name: string; readonly found: GoodBoard | FaultyBoard }>();
  readonly #cells = new WeakMap<
    object,
    { readonly index: number; readonly board: object; readonly found: CheckedCell }
  >();

  /** What was found of a board that stands alone. @param check finds it where that is not known. */
  board(name: string, data: unknown, check: () => GoodBoard | FaultyBoard): GoodBoard | FaultyBoard {
    if (!isObject(data)) return check();
    const known = this.#boards.get(data);
    if (known?.name === name) return known.found;
    const found = check();
    this.#boards.set(data, { name, found });
    return found;
  }

  /**
   * What was found of a cell that depends on nothing but its board and its place.
   *
   * @param board the board after checking.
   * @param check finds it where that is not known.
   */
  cell(data: object, index: number, board: GoodBoard | FaultyBoard, check: () => CheckedCell): CheckedCell {
    const known = this.#cells.get(data);
    if (known?.index === index && known.board === board) return known.found;
    const found = check();
    this.#cells.set(data, { index, board, found });
    return found;
  }
}
