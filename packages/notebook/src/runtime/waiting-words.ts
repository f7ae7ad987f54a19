import { cellNeeds } from '@two-thirds/sim/document';
import { cellKindWords } from './cell-kind-words.ts';
import type { PageCell } from './cells.ts';

/**
 * What a cell that is to be computed waits for: the workers to start, the run of values before to end, or cells that are
 * computed now, by id, itself among them once it is its turn.
 */
export type Awaited = 'engine' | 'run before' | readonly string[];

/**
 * What a cell that is to be computed waits for, as a sentence without its end: a cell by its name, the engine, a file.
 *
 * @param isWaiting whether another cell is still to be computed.
 */
export function waitingWords(
  cell: PageCell,
  cells: readonly PageCell[],
  awaited: Awaited | 'measurement',
  isWaiting: (id: string) => boolean,
): string {
  if (awaited === 'measurement') return 'waits until the file of its measurement is read';
  if (awaited === 'engine') return 'waits until the engine has started';
  const needed = named(
    cells,
    cellNeeds(cell.data).filter((id) => id !== cell.id && isWaiting(id)),
  );
  if (needed !== undefined) return `waits for ${needed.words}, whose ${needed.isOne ? 'result' : 'results'} it uses`;
  if (awaited === 'run before') return 'waits until the run of the values before has ended';
  if (awaited.includes(cell.id)) return 'is being computed';
  // Of what is computed together, what takes the time is what has not come.
  const ahead = named(cells, awaited.filter(isWaiting));
  return ahead === undefined
    ? 'is next to be computed'
    : `waits for ${ahead.words}, which ${ahead.isOne ? 'is' : 'are'} computed first`;
}

/** Cells by kind and name, two at most; those that are not on the page are left out. */
function named(cells: readonly PageCell[], ids: readonly string[]): { words: string; isOne: boolean } | undefined {
  const found = cells.filter(({ id }) => ids.includes(id));
  const [first, second] = found.map(({ kind, id }) => `the ${cellKindWords(kind)} ${id}`);
  if (first === undefined) return undefined;
  if (second === undefined) return { words: first, isOne: true };
  const more = found.length - 2;
  return { words: more === 0 ? `${first} and ${second}` : `${first}, ${second} and ${more} more`, isOne: false };
}
