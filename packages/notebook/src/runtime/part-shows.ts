import { contactNames, terminalNets } from '../edit/board-names.ts';
import { boardParts } from '../edit/board-values.ts';
import type { Json } from '../edit/json.ts';
import { linkName, linksOf } from '../edit/link-edits.ts';

/** The nets that a part of a board lies on, each once; a link is named as {@link linkName} does it. */
export function partNets(document: Json, board: string | undefined, part: string | undefined): readonly string[] {
  if (board === undefined || part === undefined) return [];
  const data = boardParts(document, board).find((each) => each['name'] === part);
  if (data !== undefined) return [...new Set(Object.values(terminalNets(data)))];
  return linksOf(document, board).flatMap(({ index, net }) => (linkName(index) === part ? [net] : []));
}

/** What traces can show of a part: the nets it lies on, its current, and whether its contacts conduct. */
export function partShows(document: Json, board: string | undefined, part: string | undefined): readonly string[] {
  const nets = partNets(document, board, part);
  if (nets.length === 0 || board === undefined || part === undefined) return [];
  return [...nets, `current(${part})`, ...contactNames(document, board, part).map((name) => `contact(${name})`)];
}

/** Whether two such lists differ: they are made anew at every change of the page. */
export function areOtherShows(one: readonly string[], other: readonly string[] | undefined): boolean {
  return one.join() !== other?.join();
}
