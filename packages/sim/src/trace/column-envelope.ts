import { type ExponentialSum, steadyValue, valueAt } from '../core/exponential-sum.ts';
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
  readonly #first: Float64Array;
  readonly #last: Float64Array;
  readonly #low: Float64Array;
  readonly #high: Float64Array;
  #filled = 0;
  /**
   * The stretches seen last, while the signal stands still in them: since when (s), and when the latest of them began and
   * how long it is. They are put into columns as one, once it moves: most signals stand still most of the time.
   */
  #still: { value: number; start: number; startLow: number; last: number; lastLow: number; length: number } | undefined;

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
    this.#first = new Float64Array(columns);
    this.#last = new Float64Array(columns);
    this.#low = new Float64Array(columns);
    this.#high = new Float64Array(columns);
  }

  /** Adds one stretch: the signal from `start + startLow` on, for `length` seconds. */
  add(sum: ExponentialSum, start: number, startLow: number, length: number): void {
    const value = steadyValue(sum);
    if (Number.isNaN(value)) {
      this.#putStill();
      this.#putMoving(sum, start, startLow, length);
      return;
    }
    const still = this.#still;
    const goesOn = still?.value === value && follows(still.last, still.lastLow, still.length, start, startLow);
    if (still !== undefined && goesOn) {
      still.last = start;
      still.lastLow = startLow;
      still.length = length;
      return;
    }
    this.#putStill();
    this.#still = { value, start, startLow, last: start, lastLow: startLow, length };
  }

  /** Puts what stood still into its columns. */
  #putStill(): void {
    const still = this.#still;
    if (still === undefined) return;
    this.#still = undefined;
    const { value, start, startLow, last, lastLow } = still;
    const length = last - start + (lastLow - startLow) + still.length;
    const begin = Math.max(0, this.#local(0, start, startLow, length));
    const end = Math.min(length, this.#local(this.#columns, start, startLow, length));
    if (!(end > begin)) return;
    let column = this.#columnAt(begin, start, startLow, length);
    for (let time = begin; time < end; column++) {
      this.#include(column, value);
      this.#last[column] = value;
      time = this.#local(column + 1, start, startLow, length);
    }
  }

  #putMoving(sum: ExponentialSum, start: number, startLow: number, length: number): void {
    const begin = Math.max(0, this.#local(0, start, startLow, length));
    const end = Math.min(length, this.#local(this.#columns, start, startLow, length));
    if (!(end > begin)) return;
    const turns = turningPoints(sum, end);
    let turn = 0;
    while (turn < turns.length && turns[turn]! <= begin) turn++;
    let column = this.#columnAt(begin, start, startLow, length);
    let time = begin;
    let value = valueAt(sum, time);
    while (time < end) {
      this.#include(column, value);
      const border = Math.min(end, this.#local(column + 1, start, startLow, length));
      for (; turn < turns.length && turns[turn]! < border; turn++) this.#include(column, valueAt(sum, turns[turn]!));
      value = valueAt(sum, border);
      this.#include(column, value);
      this.#last[column] = value;
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
      first: list(this.#first),
      last: list(this.#last),
      low: list(this.#low),
      high: list(this.#high),
    };
  }

  #include(column: number, value: number): void {
    if (column >= this.#filled) {
      this.#filled = column + 1;
      this.#first[column] = value;
      this.#low[column] = value;
      this.#high[column] = value;
    } else if (value < this.#low[column]!) this.#low[column] = value;
    else if (value > this.#high[column]!) this.#high[column] = value;
  }

  /** Local time of the left border of a column, within a stretch that starts at `start + startLow`. */
  #local(column: number, start: number, startLow: number, length: number): number {
    const border = this.#from + (this.#span * column) / this.#columns;
    const local = border - start - startLow;
    const rounding = SAME_INSTANT * Math.abs(border);
    if (Math.abs(local) <= rounding) return 0;
    return Math.abs(local - length) <= rounding ? length : local;
  }

  #columnAt(local: number, start: number, startLow: number, length: number): number {
    const share = (start + local + startLow - this.#from) / this.#span;
    let column = Math.min(this.#columns - 1, Math.max(0, Math.floor(share * this.#columns)));
    while (column + 1 < this.#columns && this.#local(column + 1, start, startLow, length) <= local) column++;
    while (column > 0 && this.#local(column, start, startLow, length) > local) column--;
    return column;
  }
}

/** Whether a stretch begins where the one before it ended, but for rounding. */
function follows(last: number, lastLow: number, length: number, start: number, startLow: number): boolean {
  return Math.abs(start - last + (startLow - lastLow) - length) <= SAME_INSTANT * Math.abs(start);
}
