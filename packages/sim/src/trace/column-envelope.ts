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
  readonly #first: Float64Array;
  readonly #last: Float64Array;
  readonly #low: Float64Array;
  readonly #high: Float64Array;
  #filled = 0;
  /** Where the window ends (s): the right border of the last column, as the borders of columns are worked out. */
  readonly #until: number;
  /** The column that was filled last, and its borders (s). */
  #column = 0;
  #left: number;
  #right: number;
  /**
   * The stretches seen last, while the signal stands still in them: its value, or NaN where there are none; since when (s);
   * when the latest of them began and how long it is. They are put into columns as one, once it moves: most signals stand
   * still most of the time.
   */
  #still = Number.NaN;
  #since = 0;
  #sinceLow = 0;
  #latest = 0;
  #latestLow = 0;
  #latestLength = 0;
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
    this.#until = this.#border(columns);
    this.#left = this.#border(0);
    this.#right = this.#border(1);
    this.#first = new Float64Array(columns);
    this.#last = new Float64Array(columns);
    this.#low = new Float64Array(columns);
    this.#high = new Float64Array(columns);
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
    this.#latest = start;
    this.#latestLow = startLow;
    this.#latestLength = length;
  }

  /**
   * How many whole periods (s) from `start + startLow` on may be left out: those after which another one has room in the
   * column that holds them, and shows all that they would. None where the column is still empty, for a column is begun with
   * a stretch.
   *
   * @param most how many there are at most.
   */
  periodsToLeaveOut(start: number, startLow: number, period: number, most: number): number {
    this.#putStill();
    this.#start = start;
    this.#startLow = startLow;
    this.#length = period;
    this.#goTo(0);
    if (this.#column >= this.#filled || this.#local(this.#left) > 0) return 0;
    return Math.max(0, Math.min(most, Math.floor(this.#local(this.#right) / period) - 1));
  }

  /** Whether a stretch begins where the one before it ended, but for rounding. */
  #goesOn(start: number, startLow: number): boolean {
    const gap = start - this.#latest + (startLow - this.#latestLow) - this.#latestLength;
    return Math.abs(gap) <= SAME_INSTANT * Math.abs(start);
  }

  /** Puts what stood still into its columns. */
  #putStill(): void {
    const value = this.#still;
    if (Number.isNaN(value)) return;
    this.#still = Number.NaN;
    this.#start = this.#since;
    this.#startLow = this.#sinceLow;
    this.#length = this.#latest - this.#since + (this.#latestLow - this.#sinceLow) + this.#latestLength;
    const begin = Math.max(0, this.#local(this.#from));
    const end = Math.min(this.#length, this.#local(this.#until));
    if (!(end > begin)) return;
    this.#goTo(begin);
    for (let right = this.#local(this.#right); ; right = this.#nextColumn()) {
      this.#include(value);
      this.#last[this.#column] = value;
      if (!(right < end)) return;
    }
  }

  #putMoving(signal: SegmentSignal): void {
    const length = this.#length;
    const begin = Math.max(0, this.#local(this.#from));
    const end = Math.min(length, this.#local(this.#until));
    if (!(end > begin)) return;
    const turns = turningPoints(signal, end);
    let turn = 0;
    while (turn < turns.length && turns[turn]! <= begin) turn++;
    this.#goTo(begin);
    let value = begin === 0 ? signal.atStart : valueAt(signal, begin);
    for (let right = this.#local(this.#right); ; right = this.#nextColumn()) {
      const border = Math.min(end, right);
      this.#include(value);
      for (; turn < turns.length && turns[turn]! < border; turn++) this.#include(valueAt(signal, turns[turn]!));
      value = border === length ? signal.atEnd : valueAt(signal, border);
      this.#include(value);
      this.#last[this.#column] = value;
      if (!(right < end)) return;
    }
  }

  /** The columns filled so far, as plain lists. */
  result(): Envelope {
    this.#putStill();
    const count = this.#filled;
    const list = (values: Float64Array): number[] => {
      // As long as it will be from the start: a list that grows is copied again and again.
      const plain = new Array<number>(count);
      for (let column = 0; column < count; column++) plain[column] = values[column]!;
      return plain;
    };
    return {
      first: list(this.#first),
      last: list(this.#last),
      low: list(this.#low),
      high: list(this.#high),
    };
  }

  /** The lowest and the highest value of all columns filled so far; `low` is above `high` where there is none. */
  range(): { readonly low: number; readonly high: number } {
    this.#putStill();
    let low = Infinity;
    let high = -Infinity;
    for (let column = 0; column < this.#filled; column++) {
      low = Math.min(low, this.#low[column]!);
      high = Math.max(high, this.#high[column]!);
    }
    return { low, high };
  }

  #include(value: number): void {
    const column = this.#column;
    if (column >= this.#filled) {
      this.#filled = column + 1;
      this.#first[column] = value;
      this.#low[column] = value;
      this.#high[column] = value;
    } else if (value < this.#low[column]!) this.#low[column] = value;
    else if (value > this.#high[column]!) this.#high[column] = value;
  }

  /** Left border of a column (s). */
  #border(column: number): number {
    return this.#from + (this.#span * column) / this.#columns;
  }

  /** Local time of a border, within what is being put into columns. */
  #local(border: number): number {
    const local = border - this.#start - this.#startLow;
    const rounding = SAME_INSTANT * Math.abs(border);
    if (Math.abs(local) <= rounding) return 0;
    return Math.abs(local - this.#length) <= rounding ? this.#length : local;
  }

  /** Goes to the column that holds a local time. */
  #goTo(local: number): void {
    while (this.#column + 1 < this.#columns && this.#local(this.#right) <= local) this.#nextColumn();
    while (this.#column > 0 && this.#local(this.#left) > local) {
      this.#column--;
      this.#right = this.#left;
      this.#left = this.#border(this.#column);
    }
  }

  /** Goes to the next column; gives the local time of its right border. */
  #nextColumn(): number {
    this.#column++;
    this.#left = this.#right;
    this.#right = this.#border(this.#column + 1);
    return this.#local(this.#right);
  }
}
