import { hasOwnParts } from './circuit-edits.ts';
import { type ValuePlace, valueChange } from './board-values.ts';
import type { Edit } from './history.ts';
import { valueAt } from './path.ts';
import type { Json } from './json.ts';

/** How a contact bounces at first: a few milliseconds, as small push buttons do; common practice, no source. */
const STARTING: Json = { for: '5 ms', seed: 1 };

/**
 * Lets a contact of a board bounce, or lets it close and open cleanly again. `undefined` where that does not stand in the
 * document and so cannot be changed there.
 */
export function bounceEdit(document: Json, board: string, part: string, bounces: boolean): Edit | undefined {
  const place: ValuePlace = { part, steps: ['bounce'] };
  const change = valueChange(document, board, place, STARTING);
  if (change === undefined) return undefined;
  if (bounces) return { ...change, label: `let ${part} bounce` };
  const path = hasOwnParts(document, board) ? change.path : ['boards', board, 'values', `${part}.bounce`];
  if (valueAt(document, path) === undefined) return undefined;
  return { path, value: undefined, label: `no bounce of ${part}` };
}
