import { valueChange } from './board-values.ts';
import type { Edit } from './history.ts';
import type { Json } from './json.ts';
import { closeLink, linkName, linksOf } from './link-edits.ts';

/**
 * Opens or closes a jumper or switch of a board for good, or a jumper to another board under the name that
 * {@link linkName} gives it. `undefined` where there is no such part.
 */
export function setContact(document: Json, board: string, part: string, closed: boolean): Edit | undefined {
  const link = linksOf(document, board).find(({ index }) => linkName(index) === part);
  if (link !== undefined) return closeLink(link.index, closed);
  const change = valueChange(document, board, { part, steps: ['closed'] }, closed);
  return change === undefined ? undefined : { ...change, label: `${closed ? 'close' : 'open'} ${part}` };
}
