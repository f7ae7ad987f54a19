/**
 * Called for each passage of a watched signal but the first through its level: which one, and whether it is high now. See
 * `EdgeTeller.at`, `rises` and `falls`.
 */
export type OnEdge = (which: number, high: boolean) => void;

/**
 * Told where a run repeats itself, so that not all that repeats has to be told edge by edge: what comes between `begin` and
 * `again` has come once before, and comes so many times more. What comes after the last edge that is told is not counted for
 * it, neither edges of the first signal nor events.
 */
export interface CycleCounter {
  begin(): void;
  again(times: number): void;
}

/** Counts the edges of the first watched signal, and tells those of the others. */
export class EdgeTeller {
  /** When the edge is that is being told (s). Fields, as in `Stepper`: numbers handed over in a call cost memory. */
  at = 0.5;
  /** Edges of the first watched signal since the last edge of another one, those at the same instant included. */
  rises = 0;
  falls = 0;
  /** One bit for each watched signal that was high when time last passed. */
  highs = 0;
  /** Edges before this time (s) do not count. */
  since = 0.5;
  /** How many times edges have been told. */
  told = 0;
  private onEdge: OnEdge = () => {};

  /** @param watched how many signals. */
  constructor(private readonly watched: number) {}

  /** Begins anew; a signal that is high from the beginning has a rise at 0. */
  begin(since: number, onEdge: OnEdge): void {
    this.since = since;
    this.onEdge = onEdge;
    this.rises = this.falls = this.highs = this.told = 0;
  }

  /** Takes in what is high from `at` on, and counts the edges of the first signal; the others that have one, as bits. */
  show(highs: number): number {
    const changed = this.highs ^ highs;
    this.highs = highs;
    if (this.at < this.since) return 0;
    if ((changed & 1) !== 0) {
      if ((highs & 1) !== 0) this.rises++;
      else this.falls++;
    }
    return changed & ~1;
  }

  /** Tells the edges of one instant, in the order of the signals. @param changed those that have one. */
  tell(changed: number, highs: number): void {
    for (let which = 1; which < this.watched; which++) {
      if (((changed >> which) & 1) === 1) this.onEdge(which, ((highs >> which) & 1) === 1);
    }
    this.rises = 0;
    this.falls = 0;
    this.told++;
  }
}
