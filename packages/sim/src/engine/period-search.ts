import type { Situation } from './situation.ts';

/** Everything that decides how a run goes on from an instant, but for its date. */
export interface Moment {
  readonly situation: Situation;
  /** Modal state first, then rounding, what has switched at this instant, and the agenda. */
  readonly state: readonly number[];
  /** First guesses of the guards' roots: they are part of the bits of what follows. */
  readonly guesses: readonly number[];
}

/**
 * Looks out for a run that repeats itself: the same moment, bit for bit, is followed by the same events. It keeps one
 * earlier moment to compare with and takes a new one after 1, 2, 4, 8, ... times as many looks (Brent 1980, An improved Monte Carlo
 * factorization algorithm), so that it finds a period of any length with one moment in memory.
 */
export class PeriodSearch<Kept extends Moment> {
  /** The moment to compare with. */
  kept: Kept | undefined;
  private looks = 0;

  /** @param patience looks before the first moment is kept. */
  constructor(private patience: number) {}

  /** Whether a look is worth while: every landmark of a run asks this. */
  wants(situation: Situation, z: Float64Array): boolean {
    if (++this.looks >= this.patience) return true;
    if (this.kept === undefined || situation !== this.kept.situation) return false;
    const { state } = this.kept;
    for (let k = 0; k < situation.stateCount; k++) if (z[k] !== state[k]) return false;
    return true;
  }

  /** Whether the run is where it was at the moment kept; that moment stays. If not, it may be time to keep this one. */
  isBackAt(moment: Kept): boolean {
    const { kept } = this;
    if (kept && kept.situation === moment.situation && equal(kept.state, moment.state)) return true;
    if (this.looks >= this.patience) this.keep(moment, 2 * this.patience);
    return false;
  }

  /** Keeps a moment for at least so many looks. */
  keep(moment: Kept | undefined, patience: number): void {
    this.kept = moment;
    this.looks = 0;
    this.patience = patience;
  }
}

/** Whether two lists hold the same numbers, bit for bit. */
export function equal(a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && a.every((value, i) => Object.is(value, b[i]));
}
