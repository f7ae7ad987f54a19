import { dot } from './linear.ts';

/** Terms of the exponential series; with steps of 1/64 of the norm the next one is far below rounding. */
const TERMS = 16;
const STEP_NORM = 1 / 64;
/** Steps of a size before the next one is twice as long. */
const LOOKS = 8;

/**
 * y' = F y, advanced by the exponential of F: a Taylor series for a step far below the fastest time constant, squared
 * again and again for longer ones (scaling and squaring; Moler and Van Loan 2003, method 3).
 */
export class Steps {
  /** What a step of 2^k times the shortest adds to y, as a matrix. */
  private readonly powers: Float64Array[];
  private readonly n: number;

  /** Length of the shortest step (s). */
  readonly shortest: number;

  /** @param longest what no step may exceed (s). */
  constructor(
    private readonly f: readonly (readonly number[])[],
    longest: number,
  ) {
    this.n = f.length;
    // The last two rows drive y and take part in no growth: [1] stands still, [t] counts.
    const norm = Math.max(...f.slice(0, -2).map((row) => sumOfSizes(row.slice(0, -2))), Number.MIN_VALUE);
    this.shortest = Math.min(longest, STEP_NORM / norm);
    this.powers = [this.series(this.shortest)];
  }

  /** y after a step of 2^power times the shortest. */
  step(y: readonly number[], power: number): number[] {
    while (this.powers.length <= power) this.powers.push(this.twice(this.powers.at(-1)!));
    const matrix = this.powers[power]!;
    const { n } = this;
    const next = new Array<number>(n);
    for (let i = 0; i < n; i++) {
      let change = 0;
      for (let j = 0; j < n; j++) change += matrix[i * n + j]! * y[j]!;
      next[i] = y[i]! + change;
    }
    return next;
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
    for (let k = 1; k <= TERMS; k++) series.push(this.f.map((row) => dot(row, series[k - 1]!) / k));
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

  private series(time: number): Float64Array {
    const { n } = this;
    const columns = this.f.map((_, j) =>
      this.change(
        this.f.map((_row, i) => (i === j ? 1 : 0)),
        time,
      ),
    );
    return Float64Array.from({ length: n * n }, (_, k) => columns[k % n]![Math.floor(k / n)]!);
  }

  /** With D the change of one step, that of two is 2 D + D D: slow parts are not lost beside the identity. */
  private twice(matrix: Float64Array): Float64Array {
    const { n } = this;
    const result = matrix.map((value) => 2 * value);
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < n; k++) {
        const factor = matrix[i * n + k]!;
        if (factor === 0) continue;
        for (let j = 0; j < n; j++) result[i * n + j]! += factor * matrix[k * n + j]!;
      }
    }
    return result;
  }
}

function sumOfSizes(row: readonly number[]): number {
  return row.reduce((total, value) => total + Math.abs(value), 0);
}
