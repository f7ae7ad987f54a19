import type { Observer } from '../trace/observer.ts';
import type { CellResult } from './results.ts';

/** What a cell wants to see of a run, and the result it makes of it afterwards. */
export interface RunPlan {
  readonly observers: readonly Observer[];
  /** To be asked once, after the run; gives what there is when the run stopped early. */
  result(): CellResult;
}
