import { faultObserver } from '../measure/faults.ts';
import { flashObserver } from '../measure/flashes.ts';
import type { Window } from '../measure/context.ts';
import type { Observer } from '../trace/observer.ts';
import type { GoodBoard } from './board-table.ts';
import type { FatesResult, ReadingResult, TraceResult } from './results.ts';

/** What a cell that runs gives. */
export type RunResult = TraceResult | FatesResult | ReadingResult;

/** What a cell wants to see of a run, and the result it makes of it afterwards. */
export interface RunPlan<Result = RunResult> {
  readonly observers: readonly Observer[];
  /** To be asked once, after the run; gives what there is when the run stopped early. */
  result(): Result;
}

/** A result before the faults of the run, and what to be careful of, are put to it. */
export type Faultless<Result> = Result extends unknown
  ? Omit<Result, 'faults' | 'cautions' | 'powerUp' | 'grazes'>
  : never;

/** Adds what the board's own parts did beyond their limits within a window, and which lamps flash too fast. */
export function withFaults(plan: RunPlan<Faultless<RunResult>>, board: GoodBoard, window: Window): RunPlan {
  const faults = faultObserver(board.circuit, window, board.prefix);
  const flashes = flashObserver(board.circuit, window, board.prefix);
  return {
    observers: [...plan.observers, faults, flashes],
    result: () => ({ ...plan.result(), faults: faults.result(), cautions: flashes.result() }),
  };
}
