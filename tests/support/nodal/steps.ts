import { dot } from './linear.ts';
import { LongRow, long, reciprocal, unitRow } from './long-row.ts';

/** Terms of the exponential series; with steps of 1/64 of the norm the next one is far below rounding. */
const TERMS = 16;
const STEP_NORM = 1 / 64;
/** Steps of a size before the next one is twice as long. */
const LOOKS = 8;

/**
 * y' = F y, advanced by the exponential of F: a Taylor series for a step far below the fastest time constant, squared
 * again and again for longer ones (scaling and squaring; Moler and Van Loan 2003, method 3), in numbers of 32 digits: every
 * squaring doubles what rounding has made of the slow parts of a matrix whose fast ones are all that doubles would hold.
 */
export class Steps {
  /** What a step of 2^k times the shortest adds to y, as a matrix. */
  private readonly powers: LongRow[][];
  /** The same in doubles. */
  private readonly matrices: (readonly number[])[][];
  /** F in doubles. */
  private readonly rate: readonly (readonly number[])[];

  /** Length of the shortest step (s). */
  readonly shortest: number;

  /** @param longest what no step may exceed (s). */
  constructor(f: readonly LongRow[], longest: number) {
    this.rate = f.map((row) => row.nearest());
    // The last two rows drive y and take part in no growth: [1] stands still, [t] counts.
    const norm = Math.max(...this.rate.slice(0, -2).map((row) => sumOfSizes(row.slice(0, -2))), Number.MIN_VALUE);
    this.shortest = Math.min(longest, STEP_NORM / norm);
    this.powers = [firstStep(f, this.shortest)];
    this.matrices = this.powers.map(nearest);
  }

  /** y after a step of 2^power times the shortest. */
  step(y: readonly number[], power: number): number[] {
    while (this.powers.length <= power) {
      this.powers.push(twice(this.powers.at(-1)!));
      this.matrices.push(nearest(this.powers.at(-1)!));
    }
    const matrix = this.matrices[power]!;
    return y.map((value, k) => value + dot(matrix[k]!, y));
  }

  /** y after less than the shortest step. */
  within(y: readonly number[], time: number): number[] {
    const change = this.change(y, time);
    return y.map((value, k) => value + change[k]!);
  }

  /** y after any time. */
  after(y: readonly number[], time: number): number[] {
    let rest = time;
    let state: readonly number[] = y;
    for (let power = Math.max(0, Math.floor(Math.log2(time / this.shortest))); power >= 0; power--) {
      while (rest >= 2 ** power * this.shortest) {
        state = this.step(state, power);
        rest -= 2 ** power * this.shortest;
      }
    }
    return this.within(state, rest);
  }

  /** The powers of the steps by which to look at [0, length]: short ones first, then longer and longer. */
  *schedule(length: number): Generator<number> {
    let at = 0;
    for (let power = 0; ; power++) {
      // Never longer than a part of the whole, so that the last stretch is looked at as well.
      const last = 2 ** (power + 1) * this.shortest * LOOKS > length;
      for (let look = 0; last || look < (power === 0 ? 2 * LOOKS : LOOKS); look++) {
        if ((at += 2 ** power * this.shortest) > length) return;
        yield power;
      }
    }
  }

  /** The coefficients of y as a power series in time, for less than the shortest step. */
  seriesOf(y: readonly number[]): number[][] {
    const series = [[...y]];
    for (let k = 1; k <= TERMS; k++) series.push(this.rate.map((row) => dot(row, series[k - 1]!) / k));
    return series;
  }

  /** What y gains in a short time. */
  private change(y: readonly number[], time: number): number[] {
    const series = this.seriesOf(y);
    return y.map((_, i) => {
      let sum = 0;
      for (let k = TERMS; k > 0; k--) sum = (sum + series[k]![i]!) * time;
      return sum;
    });
  }
}

/** What a short step adds to y: the exponential series of F without its first term. */
function firstStep(f: readonly LongRow[], time: number): LongRow[] {
  let power = f.map((_, k) => unitRow(f.length, k));
  const sum = f.map(() => new LongRow(f.length));
  for (let k = 1; k <= TERMS; k++) {
    const factor = new LongRow(1).addTimes(LongRow.of([reciprocal(k)]), long(time)).at(0);
    power = f.map((row) => new LongRow(f.length).addTimes(productRow(row, power), factor));
    power.forEach((row, i) => sum[i]!.addTimes(row, long(1)));
  }
  return sum;
}

/** With D the change of one step, that of two is 2 D + D D: slow parts are not lost beside the identity. */
function twice(matrix: readonly LongRow[]): LongRow[] {
  return matrix.map((row) => productRow(row, matrix).addTimes(row, long(2)));
}

/** A row times a matrix. */
function productRow(row: LongRow, matrix: readonly LongRow[]): LongRow {
  return matrix.reduce((sum, other, k) => sum.addTimes(other, row.at(k)), new LongRow(row.length));
}

function nearest(matrix: readonly LongRow[]): number[][] {
  return matrix.map((row) => row.nearest());
}

function sumOfSizes(row: readonly number[]): number {
  return row.reduce((total, value) => total + Math.abs(value), 0);
}
