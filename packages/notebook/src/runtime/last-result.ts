import type { CellResult, FaultyResult } from '@two-thirds/sim/document';
import type { CellState } from './cell-state.ts';

type Result = Exclude<CellResult, FaultyResult>;

/**
 * Remembers of a cell what it had before the last step of undo, so that its result can be told against it: a knob that is
 * turned is one step, and what was before the turn stays what it is told against.
 */
export class LastResult {
  private step: unknown;
  private whole: Result | undefined;
  private earlier: Result | undefined;

  /**
   * Takes in how a cell stands.
   *
   * @param step the last step of undo, as an object that stays the same while the step does.
   */
  take(state: CellState | undefined, step: unknown): void {
    if (step !== this.step) {
      this.step = step;
      this.earlier = this.whole;
    }
    if (state?.shown !== undefined && state.phase === 'current' && state.fault === undefined && state.isPart !== true)
      this.whole = state.shown;
  }

  /** The last whole result from before the step; undefined where there was none, or the step left it as it is. */
  get before(): Result | undefined {
    return this.earlier === this.whole ? undefined : this.earlier;
  }
}
