import { valueAt } from '../core/exponential-sum.ts';
import type { SegmentSignal, SegmentView } from './frame.ts';
import { turningPoints } from './turning-points.ts';

/**
 * A signal summed up in columns of equal length: within column i it starts at `first[i]`, ends at `last[i]` and stays
 * exactly between `low[i]` and `high[i]`, jumps included. A jump right on the border of two columns shows as the step
 * from `last` of the one to `first` of the other. Fewer entries than columns asked for mean that the run stopped early.
 */
export interface Envelope {
  readonly first: readonly number[];
  readonly last: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/** Differences of a few units in the last place of a time are rounding: such a time is the border itself. */
const SAME_INSTANT = 4 * Number.EPSILON;

/** Collects the envelope of one signal from its stretches in the order of time, in constant memory. */
export class ColumnEnvelope {
  readonly #from: number;
  readonly #span: number;
  readonly #columns: number;
  readonly #firsts: Float64Array;
  readonly #ends: Float64Array;
  readonly #lows: Float64Array;
  readonly #highs: Float64Array;
  #filled = 0;
  /**
   * The stretches seen last, while the signal stands still in them: its value, or NaN where there are none; since when (s);
   * when the latest of them began and how long it is. They are put into columns as one, once it moves: most signals stand
   * still most of the time.
   */
  #still = Number.NaN;
  #since = 0;
  #sinceLow = 0;
  #last = 0;
  #lastLow = 0;
  #lastLength = 0;
  /** What is being put into columns: when it begins and how long it is (s). */
  #start = 0;
  #startLow = 0;
  #length = 0;

  /**
   * @param from start of the window (s).
   * @param to end of the window (s), after `from`.
   * @param columns how many columns, at least 1.
   * @throws RangeError if the window has no length or there is no column.
   */
  constructor(from: number, to: number, columns: number) {
    if (!(to > from)) {
      throw new RangeError(`envelope: to must be after from; got ${from} s to ${to} s. Give the window a length.`);
    }
    if (!Number.isInteger(columns) || columns < 1) {
      throw new RangeError(`envelope: columns must be a whole number above 0; got ${columns}. Ask for at least 1.`);
    }
    this.#from = from;
    this.#span = to - from;
    this.#columns = columns;
    this.#firsts = new Float64Array(columns);
    this.#ends = new Float64Array(columns);
    this.#lows = new Float64Array(columns);
    this.#highs = new Float64Array(columns);
  }

  /** Adds one stretch: the signal from `start + startLow` on, for `length` seconds. */
  add(signal: SegmentSignal, { start, startLow, length }: Pick<SegmentView, 'start' | 'startLow' | 'length'>): void {
    const { steady } = signal;
    if (steady !== this.#still || !this.#goesOn(start, startLow)) {
      this.#putStill();
      if (Number.isNaN(steady)) {
        this.#start = start;
        this.#startLow = startLow;
        this.#length = length;
        this.#putMoving(signal);
        return;
      }
      this.#still = steady;
      this.#since = start;
      this.#sinceLow = startLow;
    }
    this.#last = start;
    this.#lastLow = startLow;
    this.#lastLength = length;
  }

  /** Whether a stretch begins where the one before it ended, but for rounding. */
  #goesOn(start: number, startLow: number): boolean {
    const gap = start - this.#last + (startLow - this.#lastLow) - this.#lastLength;
    return Math.abs(gap) <= SAME_INSTANT * Math.abs(start);
  }

  /** Puts what stood still into its columns. */
  #putStill(): void {
    const value = this.#still;
    if (Number.isNaN(value)) return;
    this.#still = Number.NaN;
    this.#start = this.#since;
    this.#startLow = this.#sinceLow;
    this.#length = this.#last - this.#since + (this.#lastLow - this.#sinceLow) + this.#lastLength;
    const begin = Math.max(0, this.#local(0));
    const end = Math.min(this.#length, this.#local(this.#columns));
    if (!(end > begin)) return;
    let column = this.#columnAt(begin);
    for (let time = begin; time < end; column++) {
      this.#include(column, value);
      this.#ends[column] = value;
      time = this.#local(column + 1);
    }
  }

  #putMoving(sum: SegmentSignal): void {
    const begin = Math.max(0, this.#local(0));
    const end = Math.min(this.#length, this.#local(this.#columns));
    if (!(end > begin)) return;
    const turns = turningPoints(sum, end);
    let turn = 0;
    while (turn < turns.length && turns[turn]! <= begin) turn++;
    let column = this.#columnAt(begin);
    let time = begin;
    let value = valueAt(sum, time);
    while (time < end) {
      this.#include(column, value);
      const border = Math.min(end, this.#local(column + 1));
      for (; turn < turns.length && turns[turn]! < border; turn++) this.#include(column, valueAt(sum, turns[turn]!));
      value = valueAt(sum, border);
      this.#include(column, value);
      this.#ends[column] = value;
      time = border;
      column++;
    }
  }

  /** The columns filled so far, as plain lists. */
  result(): Envelope {
    this.#putStill();
    const list = (values: Float64Array): number[] => {
      const plain: number[] = [];
      for (let column = 0; column < this.#filled; column++) plain.push(values[column]!);
      return plain;
    };
    return {
      first: list(this.#firsts),
      last: list(this.#ends),
      low: list(this.#lows),
      high: list(this.#highs),
    };
  }

  #include(column: number, value: number): void {
    if (column >= this.#filled) {
      this.#filled = column + 1;
      this.#firsts[column] = value;
      this.#lows[column] = value;
      this.#highs[column] = value;
    } else if (value < this.#lows[column]!) this.#lows[column] = value;
    else if (value > this.#highs[column]!) this.#highs[column] = value;
  }

  /** Local time of the left border of a column, within what is being put into columns. */
  #local(column: number): number {
    const border = this.#from + (this.#span * column) / this.#columns;
    const local = border - this.#start - this.#startLow;
    const rounding = SAME_INSTANT * Math.abs(border);
    if (Math.abs(local) <= rounding) return 0;
    return Math.abs(local - this.#length) <= rounding ? this.#length : local;
  }

  #columnAt(local: number): number {
    const share = (this.#start + local + this.#startLow - this.#from) / this.#span;
    let column = Math.min(this.#columns - 1, Math.max(0, Math.floor(share * this.#columns)));
    while (column + 1 < this.#columns && this.#local(column + 1) <= local) column++;
    while (column > 0 && this.#local(column) > local) column--;
    return column;
  }
}
