import type { Equations } from './equations.ts';
import { CLEARLY, type Guard } from './guard.ts';
import { addTo, dot } from './linear.ts';

/** A way to advance y' = F y, by steps of 2^power times the shortest and by less. */
export interface Advance {
  readonly shortest: number;
  step(y: readonly number[], power: number): number[];
  within(y: readonly number[], time: number): number[];
  after(y: readonly number[], time: number): number[];
  /** Powers of the steps after which [0, length] is looked at. */
  schedule(length: number): Iterable<number>;
  /** Coefficients of y as a power series in time, for less than the shortest step. */
  seriesOf(y: readonly number[]): number[][];
}

/**
 * Share of its terms by which a row may be rounded in some steps. A branch that stands on the end of its section has to
 * leave it by no more than this: what is less than CLEARLY across a junction may be all the current of a bias.
 */
const ROUNDING = 1e-12;
/** The same of a row without terms, where all that meets is at 0 V (V). */
const LEAST = 1e-14;

interface Met {
  readonly guard: Guard;
  readonly time: number;
  readonly y: number[];
}

/** By how much a guard is over its limit (V), as a row over y. */
export function rowOf({ plus, minus, offset, also }: Guard, equations: Equations): number[] {
  const row = [...equations.between(plus, minus)];
  if (also !== undefined) addTo(row, equations.between(also.plus, also.minus), also.times);
  row[equations.size]! -= offset;
  return row;
}

/** The first guard to become positive in (0, length]; `finely` says of which more than rounding is enough for that. */
export function firstMet(
  steps: Advance,
  equations: Equations,
  guards: readonly Guard[],
  finely: readonly boolean[],
  start: readonly number[],
  length: number,
): Met | undefined {
  const search = new Search(
    steps,
    guards.map((guard) => rowOf(guard, equations)),
    finely,
  );
  const index = search.first(start, length);
  return index === undefined ? undefined : { guard: guards[index.row]!, time: index.time, y: index.y };
}

interface Crossing {
  readonly row: number;
  readonly time: number;
  readonly y: number[];
}

/** The last double in (0, high] at which a value has just become positive. */
function bisect(value: (at: number) => number, high: number): number {
  let low = 0;
  let top = high;
  for (;;) {
    const middle = low + (top - low) / 2;
    if (middle === low || middle === top || top - low < 1e-17 * high) return top;
    if (value(middle) > 0) top = middle;
    else low = middle;
  }
}

/** Looks for the first row to become positive. */
class Search {
  /** What each row must exceed to be over its limit (V): one that begins over it, more than it begins with. */
  private least: readonly number[] = [];

  constructor(
    private readonly steps: Advance,
    private readonly rows: readonly (readonly number[])[],
    private readonly finely: readonly boolean[],
  ) {}

  first(start: readonly number[], length: number): Crossing | undefined {
    let y = [...start];
    let at = 0;
    let before: { y: number[]; values: number[]; at: number; power: number } | undefined;
    let values = this.valuesAt(y);
    this.least = values.map((value, k) => Math.max(this.finely[k]! ? this.rounding(k, y) : CLEARLY, 2 * value));
    for (const power of this.steps.schedule(length)) {
      const next = this.steps.step(y, power);
      const after = this.valuesAt(next);
      const span = 2 ** power * this.steps.shortest;
      const found = this.crossed(y, at, power, after) ?? this.peaked(before, values, after, y, at, power);
      if (found !== undefined) return found;
      before = { y, values, at, power };
      [y, values, at] = [next, after, at + span];
    }
    const rest = length - at;
    if (rest <= 0) return undefined;
    // The rest of the interval, in one look: shorter than the steps before it.
    const end = this.steps.after(y, rest);
    return this.isOver(this.valuesAt(end)) ? this.narrow(y, at, rest) : undefined;
  }

  /** Up to where a row is rounding (V): the sum of the sizes of its terms tells. */
  private rounding(k: number, y: readonly number[]): number {
    return LEAST + ROUNDING * this.rows[k]!.reduce((sum, value, j) => sum + Math.abs(value * y[j]!), 0);
  }

  private valuesAt(y: readonly number[]): number[] {
    return this.rows.map((row) => dot(row, y));
  }

  private isOver(values: readonly number[]): boolean {
    return values.some((value, k) => value > this.least[k]!);
  }

  /** The earliest of the rows that are positive after a step. */
  private crossed(y: number[], at: number, power: number, after: readonly number[]): Crossing | undefined {
    if (!this.isOver(after)) return undefined;
    return this.narrow(y, at, 2 ** power * this.steps.shortest);
  }

  /** Narrows an interval at whose end some row is positive down to where the first one becomes so. */
  private narrow(start: readonly number[], at: number, span: number): Crossing {
    const { steps, rows } = this;
    // A row that stands on its limit at the start may be above it by rounding; it has to leave it.
    const least = rows.map((row, k) => (dot(row, start) > -this.rounding(k, start) ? this.least[k]! : 0));
    let y: readonly number[] = start;
    let low = 0;
    for (let power = Math.max(0, Math.floor(Math.log2(span / steps.shortest))); power >= 0; power--) {
      const step = 2 ** power * steps.shortest;
      if (low + step >= span) continue;
      const next = steps.step(y, power);
      if (rows.some((row, k) => dot(row, next) > least[k]!)) continue;
      y = next;
      low += step;
    }
    const series = steps.seriesOf(y);
    let first = { row: -1, by: Math.min(steps.shortest, span - low) };
    rows.forEach((row, k) => {
      const terms = series.map((term) => dot(row, term));
      const value = (by: number): number => terms.reduceRight((sum, term) => sum * by + term, 0) - least[k]!;
      if (!(value(first.by) > 0)) return;
      first = { row: k, by: bisect(value, first.by) };
    });
    // None: rounding at the very end of the interval, where the row with the greatest value is meant.
    if (first.row < 0) {
      const values = this.valuesAt(steps.within(y, first.by));
      first.row = values.indexOf(Math.max(...values));
    }
    return { row: first.row, time: at + low + first.by, y: steps.within(y, first.by) };
  }

  /** Looks closer where a row rose and fell again without having been seen positive. */
  private peaked(
    before: { y: number[]; values: number[]; at: number; power: number } | undefined,
    values: readonly number[],
    after: readonly number[],
    y: number[],
    at: number,
    power: number,
  ): Crossing | undefined {
    if (before === undefined) return undefined;
    for (let k = 0; k < this.rows.length; k++) {
      const [left, middle, right] = [before.values[k]!, values[k]!, after[k]!];
      if (!(middle > left && middle > right && middle + Math.max(middle - left, middle - right) > 0)) continue;
      const peak = this.peak(this.rows[k]!, before.y, before.at, at + 2 ** power * this.steps.shortest);
      if (peak.value > this.least[k]!) return this.narrow(before.y, before.at, peak.at - before.at);
    }
    return undefined;
  }

  /** The greatest value of a row that rises and then falls, by golden section. */
  private peak(row: readonly number[], y: readonly number[], from: number, to: number): { at: number; value: number } {
    const share = (Math.sqrt(5) - 1) / 2;
    const value = (time: number): number => dot(row, this.steps.after(y, time - from));
    let [low, high] = [from, to];
    let [one, two] = [high - share * (high - low), low + share * (high - low)];
    let [first, second] = [value(one), value(two)];
    for (let round = 0; round < 40; round++) {
      if (first > second) {
        [high, two, second] = [two, one, first];
        one = high - share * (high - low);
        first = value(one);
      } else {
        [low, one, first] = [one, two, second];
        two = low + share * (high - low);
        second = value(two);
      }
    }
    return { at: (low + high) / 2, value: Math.max(first, second) };
  }
}
