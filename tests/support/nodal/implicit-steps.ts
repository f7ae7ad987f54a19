import { dot } from './linear.ts';
import { type LongRow, long, solveRows, unitRow } from './long-row.ts';

/**
 * y' = F y, advanced by the implicit Euler method in steps of one length; straight lines in between. An order of one, and
 * nothing in common with exponentials: what everybody could write down.
 */
export class ImplicitSteps {
  /** y at the end of a step, as rows over y at its start: the inverse of 1 - h F. */
  private readonly rows: readonly (readonly number[])[];

  /** @param shortest the length of all steps (s). */
  constructor(
    f: readonly LongRow[],
    readonly shortest: number,
  ) {
    const one = f.map((_, k) => unitRow(f.length, k));
    this.rows = solveRows(
      f.map((row, k) => one[k]!.copy().addTimes(row, long(-shortest))),
      one,
    ).map((row) => row.nearest());
  }

  /** y after one step. */
  step(y: readonly number[]): number[] {
    return this.rows.map((row) => dot(row, y));
  }

  /** y after less than a step. */
  within(y: readonly number[], time: number): number[] {
    const [, slope] = this.seriesOf(y);
    return y.map((value, k) => value + slope![k]! * time);
  }

  /** y after any time. */
  after(y: readonly number[], time: number): number[] {
    let state: readonly number[] = y;
    let rest = time;
    for (; rest >= this.shortest; rest -= this.shortest) state = this.step(state);
    return this.within(state, rest);
  }

  /** One step after the other. */
  *schedule(length: number): Generator<number> {
    for (let count = 1; count * this.shortest <= length; count++) yield 0;
  }

  /** The straight line through y and what a step makes of it. */
  seriesOf(y: readonly number[]): number[][] {
    const next = this.step(y);
    return [[...y], y.map((value, k) => (next[k]! - value) / this.shortest)];
  }
}
