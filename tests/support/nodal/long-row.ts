/**
 * A number of some 32 digits as the sum of two doubles, `low` below the last bit of `high` (Dekker 1971, A floating-point
 * technique for extending the available precision). Between a supply of 0.1 ohms with picofarads at it and a run of
 * milliseconds lie eleven decades: that many digits are gone where what is slow comes out of a difference of what is fast.
 */
export interface Long {
  readonly high: number;
  readonly low: number;
}

/** A double as it is. */
export function long(value: number): Long {
  return { high: value, low: 0 };
}

/** 2^27 + 1 splits a double into halves whose products are exact. */
const SPLITTER = 134217729;

/** a / b */
export function quotient(a: Long, b: Long): Long {
  const high = a.high / b.high;
  const rest = new LongRow(1).addTimes(LongRow.of([a]), long(1)).addTimes(LongRow.of([b]), long(-high));
  return twoParts(high, rest.high[0]! / b.high);
}

/** 1 / value */
export function reciprocal(value: number): Long {
  return quotient(long(1), long(value));
}

/** -a */
export function negative({ high, low }: Long): Long {
  return { high: -high, low: -low };
}

function twoParts(high: number, low: number): Long {
  const sum = high + low;
  return { high: sum, low: low - (sum - high) };
}

/** A row of such numbers; all operations change it in place and return it. */
export class LongRow {
  readonly high: Float64Array;
  readonly low: Float64Array;

  /** @param length how many, all 0 at first. */
  constructor(length: number) {
    this.high = new Float64Array(length);
    this.low = new Float64Array(length);
  }

  static of(values: readonly Long[]): LongRow {
    const row = new LongRow(values.length);
    values.forEach((value, k) => void row.set(k, value));
    return row;
  }

  get length(): number {
    return this.high.length;
  }

  at(k: number): Long {
    return { high: this.high[k]!, low: this.low[k]! };
  }

  set(k: number, { high, low }: Long): this {
    this.high[k] = high;
    this.low[k] = low;
    return this;
  }

  /** One entry += value. */
  addAt(k: number, value: Long): this {
    return this.gather(k, value.high, value.low);
  }

  /** this += factor other, for as many entries as the other one has. */
  addTimes(other: LongRow, factor: Long): this {
    const f = factor.high;
    const split = SPLITTER * f;
    const upper = split - (split - f);
    const lower = f - upper;
    for (let k = 0; k < other.length; k++) {
      const value = other.high[k]!;
      if (value === 0) continue;
      const product = value * f;
      const parted = SPLITTER * value;
      const above = parted - (parted - value);
      const below = value - above;
      const error = below * lower - (product - above * upper - below * upper - above * lower);
      this.gather(k, product, error + value * factor.low + other.low[k]! * f);
    }
    return this;
  }

  /** The entries with these places. */
  pick(places: readonly number[]): LongRow {
    return LongRow.of(places.map((k) => this.at(k)));
  }

  copy(): LongRow {
    return this.pick([...this.high.keys()]);
  }

  /** The nearest doubles. */
  nearest(): number[] {
    return [...this.high];
  }

  private gather(k: number, high: number, low: number): this {
    const mine = this.high[k]!;
    const sum = mine + high;
    const part = sum - mine;
    const error = mine - (sum - part) + (high - part) + this.low[k]! + low;
    const total = sum + error;
    this.high[k] = total;
    this.low[k] = error - (total - sum);
    return this;
  }
}

/** A row of zeros but for a 1 at one place; none at a place below 0. */
export function unitRow(length: number, place: number): LongRow {
  const row = new LongRow(length);
  return place < 0 ? row : row.set(place, long(1));
}

/** Solves A X = B by Gaussian elimination with row pivoting; both are overwritten, X is left in B. Rows are equations. */
export function solveRows(a: LongRow[], b: LongRow[]): LongRow[] {
  const n = a.length;
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++) {
      if (Math.abs(a[row]!.high[column]!) > Math.abs(a[pivot]!.high[column]!)) pivot = row;
    }
    if (a[pivot]!.high[column] === 0) throw new Error('nodal equations: a node that nothing holds');
    [a[column], a[pivot]] = [a[pivot]!, a[column]!];
    [b[column], b[pivot]] = [b[pivot]!, b[column]!];
    for (let row = 0; row < n; row++) {
      if (row === column || a[row]!.high[column] === 0) continue;
      const factor = negative(quotient(a[row]!.at(column), a[column]!.at(column)));
      a[row]!.addTimes(a[column]!, factor).set(column, long(0));
      b[row]!.addTimes(b[column]!, factor);
    }
  }
  return b.map((row, k) => LongRow.of([...row.high.keys()].map((j) => quotient(row.at(j), a[k]!.at(k)))));
}
