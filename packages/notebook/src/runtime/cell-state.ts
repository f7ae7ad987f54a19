import type { CellResult, FaultyResult } from '@two-thirds/sim/document';

/** Where a cell stands between its last good result and the values the page holds now. */
export interface CellState {
  /** The last good result; kept in full until a better one comes. */
  readonly shown: Exclude<CellResult, FaultyResult> | undefined;
  /** Why the present values give no result, if they were tried and gave none. */
  readonly fault: FaultyResult | undefined;
  /**
   * `current`: computed from the present values (to `shown` or to `fault`). `waiting`: to be computed, or being
   * computed. `stopped`: somebody stopped the computation.
   */
  readonly phase: 'current' | 'waiting' | 'stopped';
  /** How far the computation of this cell is, 0 to 1, where that is known. */
  readonly progress?: number;
  /** Whether `shown` is what the present computation has so far, or had when it was stopped. */
  readonly isPart?: boolean;
}

/** The states of all cells by id. */
export type CellStates = Readonly<Record<string, CellState>>;

const unknown: CellState = { shown: undefined, fault: undefined, phase: 'waiting' };

/** The state of a cell; one that was never computed is waiting. */
export function stateOf(states: CellStates, id: string): CellState {
  // A cell may have any id, those that objects are born with included.
  return (Object.hasOwn(states, id) ? states[id] : undefined) ?? unknown;
}

/** Whether a cell is not on the page any more: what is still told of it must not leave the page waiting for it for ever. */
function hasLeft(states: CellStates, id: string): boolean {
  return !Object.hasOwn(states, id);
}

/** The states once these cells have to be computed again. Cells that are no longer on the page are dropped. */
export function outdated(states: CellStates, stale: readonly string[], onPage: readonly string[]): CellStates {
  const kept = onPage.map((id): [string, CellState] => {
    const before = stateOf(states, id);
    const { shown, fault, phase, progress } = before;
    const now = stale.includes(id) ? 'waiting' : phase;
    // A state that stays what it is stays the very same, so that its cell need not be drawn anew.
    const same = now === phase && progress === undefined && before.isPart === undefined;
    return [id, same ? before : { shown, fault, phase: now }];
  });
  return Object.fromEntries(kept);
}

/**
 * The states once a result has come. A fault leaves the last good result in place.
 *
 * @param newest whether it was computed from the values the page holds now. If not, it is shown (a turning knob drags
 * its trace along) but the cell goes on waiting.
 */
export function arrived(states: CellStates, id: string, result: CellResult, newest: boolean): CellStates {
  if (!newest && hasLeft(states, id)) return states;
  const before = stateOf(states, id);
  const phase = newest ? 'current' : before.phase;
  if (result.ok) return { ...states, [id]: { shown: result, fault: undefined, phase } };
  return { ...states, [id]: { shown: before.shown, fault: result, phase } };
}

/** The states once a waiting cell reports how far it is. */
export function progressed(states: CellStates, id: string, share: number): CellStates {
  if (hasLeft(states, id)) return states;
  const before = stateOf(states, id);
  return before.phase === 'waiting' ? { ...states, [id]: { ...before, progress: share } } : states;
}

/**
 * The states once a waiting cell has a result of what is computed so far. A whole result from before stays until the
 * new one is whole.
 */
export function partArrived(states: CellStates, id: string, result: CellResult): CellStates {
  if (hasLeft(states, id)) return states;
  const before = stateOf(states, id);
  const mayShow = before.phase === 'waiting' && (before.shown === undefined || before.isPart === true);
  return mayShow && result.ok ? { ...states, [id]: { ...before, shown: result, isPart: true } } : states;
}

/** The states once somebody has stopped the computation: what waited is stopped and keeps its last good result. */
export function stopped(states: CellStates): CellStates {
  return Object.fromEntries(
    Object.entries(states).map(([id, { progress: _, ...state }]) => [
      id,
      { ...state, phase: state.phase === 'waiting' ? 'stopped' : state.phase },
    ]),
  );
}

/** The ids of the cells that wait to be computed. */
export function waiting(states: CellStates): string[] {
  return Object.keys(states).filter((id) => stateOf(states, id).phase === 'waiting');
}

/** Whether what is shown comes from other values than those the page holds now. */
export function isFromBefore(state: CellState): boolean {
  return state.shown !== undefined && state.isPart !== true && (state.phase !== 'current' || state.fault !== undefined);
}
