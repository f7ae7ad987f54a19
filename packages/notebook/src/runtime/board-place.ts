import { isList, isRecord, type Json } from '../edit/json.ts';
import { linkLabel } from '../edit/link-edits.ts';
import { valueAt } from '../edit/path.ts';
import { boardOf, cellsOf } from './cells.ts';

/** A board among the boards of a page. */
export interface BoardPlace {
  readonly board: string;
  /** Whether the page has no other, so that nothing has to be told apart. */
  readonly isOnly: boolean;
  /** Its links to other boards, a sentence without full stop for each. */
  readonly links: readonly string[];
}

/** Where a board stands on its page; undefined where there is no board. */
export function boardPlace(document: Json, board: string | undefined): BoardPlace | undefined {
  if (board === undefined) return undefined;
  const used = new Set(cellsOf(document).map(boardOf));
  used.delete(undefined);
  return { board, isOnly: used.size <= 1, links: linksOf(document, board) };
}

/** Whether two places differ: they are made anew at every change of the page. */
export function isOtherPlace(one: BoardPlace | undefined, other: BoardPlace | undefined): boolean {
  return JSON.stringify(one) !== JSON.stringify(other);
}

function linksOf(document: Json, board: string): string[] {
  const links = valueAt(document, ['links']);
  return (isList(links) ? links : []).flatMap((link, index) => {
    if (!isRecord(link)) return [];
    const { a, b } = link;
    if (typeof a !== 'string' || typeof b !== 'string') return [];
    const own = [a, b].filter((end) => end.startsWith(`${board}.`));
    const other = [a, b].find((end) => !end.startsWith(`${board}.`));
    if (own[0] === undefined) return [];
    return [`${linkLabel(index)} leads from ${own[0].slice(board.length + 1)} to ${other ?? b}`];
  });
}
