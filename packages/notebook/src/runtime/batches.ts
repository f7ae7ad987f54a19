import { cellNeeds } from '@two-thirds/sim/document';
import type { Json } from '../edit/json.ts';
import { boardOf, cellsOf, type PageCell } from './cells.ts';

/**
 * Sorts cells that are to be computed into batches: cells that share a run, and notes with the cells they quote, are
 * computed together, so that no run is made twice; batches are apart, so that a long run keeps only its own cells
 * waiting. What needs no run comes first, then what is in sight, traces before all, the rest in page order. Where runs are
 * quick, traces in sight come first of all.
 *
 * @param ids the cells to compute, all of them on the page.
 * @param inSight whether a cell is in sight; where that is not known, none is.
 * @param areQuick whether nobody notices how long a run takes.
 */
export function batches(
  document: Json,
  ids: readonly string[],
  inSight: (id: string) => boolean = () => false,
  areQuick = false,
): string[][] {
  const cells = new Map(cellsOf(document).map((cell) => [cell.id, cell]));
  const groups: Group[] = [];
  for (const cell of cells.values()) {
    if (!ids.includes(cell.id)) continue;
    const runs = new Set(runsOf(cell, cells));
    const joined = groups.filter((group) => [...runs].some((run) => group.runs.has(run)));
    const others = groups.filter((group) => !joined.includes(group));
    groups.length = 0;
    groups.push(...others, {
      runs: new Set([...joined.flatMap((group) => [...group.runs]), ...runs]),
      cells: [...joined.flatMap((group) => group.cells), cell],
    });
  }
  const withRun = groups.filter((group) => group.runs.size > 0);
  const first = groups.filter((group) => group.runs.size === 0).flatMap((group) => group.cells);
  const rank = (batch: readonly PageCell[]): number => {
    const seen = batch.filter(({ id }) => inSight(id));
    return seen.some(({ kind }) => kind === 'trace') ? 0 : seen.length > 0 ? 1 : 2;
  };
  const inOrder = withRun.map((group) => group.cells).sort((a, b) => rank(a) - rank(b) || earliest(a) - earliest(b));
  const isAhead = (batch: readonly PageCell[]): boolean => areQuick && rank(batch) === 0;
  return [...inOrder.filter(isAhead), first, ...inOrder.filter((batch) => !isAhead(batch))]
    .filter((batch) => batch.length > 0)
    .map((batch) => batch.sort((a, b) => a.index - b.index).map((cell) => cell.id));
}

interface Group {
  readonly runs: ReadonlySet<string>;
  readonly cells: PageCell[];
}

/** The runs a cell needs, itself or through the cells whose numbers it uses: a board up to a time. */
function runsOf(
  cell: PageCell,
  cells: ReadonlyMap<string, PageCell>,
  visited: ReadonlySet<string> = new Set(),
): string[] {
  const board = boardOf(cell);
  if (cell.kind === 'board' || visited.has(cell.id)) return [];
  if (board !== undefined) return [JSON.stringify([board, cell.data['until']])];
  const within = new Set([...visited, cell.id]);
  return cellNeeds(cell.data).flatMap((id) => {
    const needed = cells.get(id);
    return needed === undefined ? [] : runsOf(needed, cells, within);
  });
}

function earliest(batch: readonly PageCell[]): number {
  return Math.min(...batch.map((cell) => cell.index));
}
