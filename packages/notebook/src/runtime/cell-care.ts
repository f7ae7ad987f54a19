import type { BoardResult, CellResult, FaultRow } from '@two-thirds/sim/document';
import { type CellState, type CellStates, stateOf } from './cell-state.ts';
import { boardOf, type PageCell } from './cells.ts';

/** What has to be said for safety beside a cell, each a full sentence. */
export interface CellCare {
  /** What is wrong or harmful on a board as built. */
  readonly dangers: readonly string[];
  /** What parts did beyond their limits: in the cell's own run; at a board, in all runs of it on the page. */
  readonly beyond: readonly string[];
  /** What else these runs caution of: lamps that flash too fast. */
  readonly flashing: readonly string[];
  /** Cautions that need not be given again, because a board further up gives them. A danger is never among them. */
  readonly said: ReadonlySet<string>;
}

/**
 * The care for each cell that has a board.
 *
 * @param shown the cells that stand on the page.
 * @param cells all cells: a run counts at its board even while its result is held back, since safety comes before that.
 */
export function cellCare(
  shown: readonly PageCell[],
  cells: readonly PageCell[],
  states: CellStates,
): ReadonlyMap<string, CellCare> {
  const found = new Map<string, CellCare>();
  let said: ReadonlySet<string> = new Set();
  for (const cell of shown) {
    const board = boardOf(cell);
    if (board === undefined) continue;
    const isBoard = cell.kind === 'board';
    const runs = (isBoard ? cells : [cell]).filter((each) => boardOf(each) === board);
    const result = stateOf(states, cell.id).shown;
    const dangers = isBoard && result?.kind === 'board' ? result.dangers : [];
    found.set(cell.id, { dangers, ...careOfRuns(runs.map(({ id }) => stateOf(states, id))), said });
    if (result?.kind === 'board') said = new Set([...said, ...generalCautions(result)]);
  }
  return found;
}

/** The cautions of a board that hold for many: all but its dangers. */
export function generalCautions({ cautions, dangers }: BoardResult): readonly string[] {
  return cautions.filter((each) => !dangers.includes(each));
}

/** What runs did beyond limits, each part, limit and pin once, as the first of them tells it. */
function careOfRuns(states: readonly CellState[]): Pick<CellCare, 'beyond' | 'flashing'> {
  const faults = new Map<string, string>();
  const flashing = new Map<string, string>();
  for (const result of states.flatMap(resultsOf)) {
    if (!('faults' in result)) continue;
    for (const row of result.faults) put(faults, faultKey(row), row.sentence);
    // The warning, then a sentence for each lamp, which begins with its name: each once.
    for (const sentence of result.cautions) put(flashing, sentence.split(' ')[0] ?? '', sentence);
  }
  return { beyond: [...faults.values()], flashing: [...flashing.values()] };
}

/** The last good result, and what a run that stopped early had found. */
function resultsOf({ shown, fault }: CellState): readonly CellResult[] {
  return [shown, fault?.partial].filter((result) => result !== undefined);
}

function faultKey({ part, what, pin }: FaultRow): string {
  return `${part} ${what} ${pin ?? ''}`;
}

function put(sentences: Map<string, string>, key: string, sentence: string): void {
  if (!sentences.has(key)) sentences.set(key, sentence);
}

/** Whether two cares differ: they are gathered anew at every step of a computation, and are nearly always the same. */
export function isOtherCare(one: CellCare | undefined, other: CellCare | undefined): boolean {
  if (one === undefined || other === undefined) return one !== other;
  const lists = (care: CellCare): string => JSON.stringify([care.dangers, care.beyond, care.flashing, [...care.said]]);
  return lists(one) !== lists(other);
}
