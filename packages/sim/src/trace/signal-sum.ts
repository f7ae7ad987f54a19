import { type ExponentialSum, valueAt } from '../core/exponential-sum.ts';
import type { SegmentSignal, SegmentView } from './frame.ts';

const EMPTY = new Float64Array(0);

/**
 * One signal of a segment, or the difference of two, written out as a function of local time. The same object is loaded
 * again for every segment, so that watching a run allocates nothing.
 */
export class SignalSum implements SegmentSignal {
  constant = 0;
  slope = 0;
  coefficients = EMPTY;
  rates = EMPTY;
  steady = 0;
  mayTurn = false;
  atStart = 0;
  /** The value at the end; NaN until somebody asks. */
  #atEnd = 0;
  #length = 0;
  /** Work space by number of terms: runs go back and forth between modes of different size. */
  #spaces: Float64Array<ArrayBuffer>[] | undefined;

  /**
   * Loads signal `index` minus signal `minus` of a segment. -1 stands for a signal that is 0 throughout: the net
   * `ground`, where a table of signals leaves it out.
   */
  load(segment: Pick<SegmentView, 'frame' | 'amplitudes' | 'length'>, index: number, minus = -1): this {
    if (index < 0 || minus >= 0) return this.#loadDifference(segment, index, minus);
    const { frame, amplitudes } = segment;
    frame.need?.(index);
    const { rates, rows } = frame;
    const count = rates.length;
    const coefficients = this.#spaceFor(rates);
    for (let k = 0, at = index * count; k < count; k++, at++) coefficients[k] = rows[at]! * amplitudes[k]!;
    this.constant = frame.constants[index]!;
    this.slope = frame.slopes[index]!;
    return this.#take(segment.length);
  }

  #loadDifference(
    { frame, amplitudes, length }: Pick<SegmentView, 'frame' | 'amplitudes' | 'length'>,
    index: number,
    minus: number,
  ): this {
    if (index >= 0) frame.need?.(index);
    if (minus >= 0) frame.need?.(minus);
    const { rates, rows, constants, slopes } = frame;
    const count = rates.length;
    const coefficients = this.#spaceFor(rates);
    for (let k = 0; k < count; k++) {
      const row = (index < 0 ? 0 : rows[index * count + k]!) - (minus < 0 ? 0 : rows[minus * count + k]!);
      coefficients[k] = row * amplitudes[k]!;
    }
    this.constant = (index < 0 ? 0 : constants[index]!) - (minus < 0 ? 0 : constants[minus]!);
    this.slope = (index < 0 ? 0 : slopes[index]!) - (minus < 0 ? 0 : slopes[minus]!);
    return this.#take(length);
  }

  /** Becomes what another is, but for its values at start and end. */
  copy({ constant, slope, coefficients, rates }: ExponentialSum): this {
    const own = this.#spaceFor(rates);
    for (let k = 0; k < own.length; k++) own[k] = coefficients[k]!;
    this.constant = constant;
    this.slope = slope;
    return this;
  }

  /** Becomes what a signal is in a stretch of so many seconds, its values at start and end included. */
  keep(signal: ExponentialSum, length: number): this {
    return this.copy(signal).#take(length);
  }

  /** Takes rates over; gives room for as many coefficients. */
  #spaceFor(rates: Float64Array): Float64Array {
    const count = rates.length;
    if (this.coefficients.length !== count) {
      this.#spaces ??= [];
      this.coefficients = this.#spaces[count] ??= new Float64Array(count);
    }
    this.rates = rates as Float64Array<ArrayBuffer>;
    return this.coefficients;
  }

  /** Finds out what many ask for. */
  #take(length: number): this {
    const { constant, slope, coefficients, rates } = this;
    let steady = slope === 0 ? constant : Number.NaN;
    let atStart = constant;
    let rises = slope > 0;
    let falls = slope < 0;
    for (let k = 0; k < coefficients.length; k++) {
      const coefficient = coefficients[k]!;
      if (coefficient === 0) continue;
      const rate = rates[k]!;
      steady = rate === 0 ? steady + coefficient : Number.NaN;
      atStart += coefficient;
      const movement = coefficient * rate;
      if (movement < 0) rises = true;
      else if (movement > 0) falls = true;
    }
    this.steady = steady;
    this.atStart = atStart;
    this.mayTurn = rises && falls;
    this.#length = length;
    this.#atEnd = steady;
    return this;
  }

  get atEnd(): number {
    if (Number.isNaN(this.#atEnd)) this.#atEnd = valueAt(this, this.#length);
    return this.#atEnd;
  }

  /** Becomes a signal that stands still at a value. */
  standAt(value: number): this {
    this.constant = value;
    this.slope = 0;
    this.coefficients = EMPTY;
    this.rates = EMPTY;
    this.steady = value;
    this.mayTurn = false;
    this.atStart = value;
    this.#atEnd = value;
    return this;
  }

  /** Moves the origin of time: afterwards local time 0 is what was `by` before. The values at start and end are not moved. */
  shift(by: number): this {
    if (by === 0) return this;
    this.constant += this.slope * by;
    for (let k = 0; k < this.rates.length; k++) {
      this.coefficients[k] = this.coefficients[k]! * Math.exp(-this.rates[k]! * by);
    }
    return this;
  }
}
