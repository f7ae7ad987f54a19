import { boardOf, type PageCell } from './cells.ts';
import { COMPARED_KINDS, comparisonText } from './compared.ts';
import type { Comparison } from './comparison.ts';

/** What is to be told of what is asked of a board. */
export interface WhatIfNews {
  /** What changed, cell by cell. */
  readonly told: readonly string[];
  /** Why nothing is told: results wait for a prediction, they are being computed, or nothing reads the board. */
  readonly silence: 'held' | 'waiting' | 'unread';
  /** The last cell of the board, below which its readings may stand. */
  readonly below: string | undefined;
}

/** Nothing to be told. */
export const NO_NEWS: WhatIfNews = { told: [], silence: 'unread', below: undefined };

/**
 * What is to be told of what is asked of a board, from the comparisons of its cells. A result that waits for a prediction
 * gives nothing away.
 */
export function whatIfNews(
  cells: readonly PageCell[],
  board: string,
  isHeld: (cell: PageCell) => boolean,
  compare: (id: string) => Comparison | undefined,
): WhatIfNews {
  const own = cells.filter((cell) => boardOf(cell) === board);
  // A formula names its boards itself.
  const telling = cells
    .filter(({ kind }) => COMPARED_KINDS.has(kind))
    .filter((cell) => (boardOf(cell) ?? board) === board);
  const open = telling.filter((cell) => !isHeld(cell));
  return {
    told: open.flatMap((cell) => compare(cell.id) ?? []).map(comparisonText),
    silence: open.length > 0 ? 'waiting' : telling.length > 0 ? 'held' : 'unread',
    below: own.at(-1)?.id,
  };
}

/** Whether there is other news than before: it is gathered anew at every change of the page. */
export function isOtherNews(one: WhatIfNews | undefined, other: WhatIfNews | undefined): boolean {
  return JSON.stringify(one) !== JSON.stringify(other);
}
