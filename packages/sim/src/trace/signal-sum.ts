import type { ExponentialSum } from '../core/exponential-sum.ts';
import type { SegmentView } from './frame.ts';

const EMPTY = new Float64Array(0);

/**
 * One signal of a segment, or the difference of two, written out as a function of local time. The same object is loaded
 * again for every segment, so that watching a run allocates nothing.
 */
export class SignalSum implements ExponentialSum {
  constant = 0;
  slope = 0;
  coefficients = EMPTY;
  rates = EMPTY;
  /** Its value as it was loaded, where it stands still; NaN where it moves. */
  steady = 0;
  /** Work space by number of terms: runs go back and forth between modes of different size. */
  readonly #spaces: Float64Array<ArrayBuffer>[] = [];

  /**
   * Loads signal `index` minus signal `minus` of a segment. -1 stands for a signal that is 0 throughout: the net
   * `ground`, where a table of signals leaves it out.
   */
  load({ frame, amplitudes }: Pick<SegmentView, 'frame' | 'amplitudes'>, index: number, minus = -1): this {
    const { rates, rows, constants, slopes } = frame;
    if (frame.need !== undefined) {
      if (index >= 0) frame.need(index);
      if (minus >= 0) frame.need(minus);
    }
    const count = rates.length;
    if (this.coefficients.length !== count) this.coefficients = this.#spaces[count] ??= new Float64Array(count);
    this.rates = rates as Float64Array<ArrayBuffer>;
    this.constant = (index < 0 ? 0 : constants[index]!) - (minus < 0 ? 0 : constants[minus]!);
    this.slope = (index < 0 ? 0 : slopes[index]!) - (minus < 0 ? 0 : slopes[minus]!);
    let steady = this.slope === 0 ? this.constant : Number.NaN;
    const { coefficients } = this;
    for (let k = 0; k < count; k++) {
      const row = (index < 0 ? 0 : rows[index * count + k]!) - (minus < 0 ? 0 : rows[minus * count + k]!);
      const coefficient = row * amplitudes[k]!;
      coefficients[k] = coefficient;
      if (coefficient !== 0) steady = rates[k] === 0 ? steady + coefficient : Number.NaN;
    }
    this.steady = steady;
    return this;
  }

  /** Moves the origin of time: afterwards local time 0 is what was `by` before. */
  shift(by: number): this {
    if (by === 0) return this;
    this.constant += this.slope * by;
    for (let k = 0; k < this.rates.length; k++) {
      this.coefficients[k] = this.coefficients[k]! * Math.exp(-this.rates[k]! * by);
    }
    return this;
  }
}
