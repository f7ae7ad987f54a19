import type { Envelope } from '@two-thirds/sim/trace';
import type { TraceSlice, TraceWish } from './live-protocol.ts';

/** Columns of a page: about one for each pixel of a wide one. */
const COLUMNS = 480;

interface Columns {
  readonly first: number[];
  readonly last: number[];
  readonly low: number[];
  readonly high: number[];
}

/**
 * The last stretch of a run by hand in columns. It is shown as a page that fills from the left; once it is full the page
 * goes on by half, so that what is drawn stands still while it can be seen, however fast it changes in the circuit.
 */
export class RollingTrace {
  /** What is shown, and in which columns: to be asked for slice by slice. */
  readonly wish: TraceWish;
  /** The least and the greatest value of each signal since the run began. */
  readonly ranges: { low: number; high: number }[];
  private start = 0;
  private begin: number | undefined;
  private lanes: Columns[];

  /** @param span length of a page (s in the circuit). */
  constructor(show: readonly string[], span: number) {
    this.wish = { show, column: span / COLUMNS };
    this.ranges = show.map(() => ({ low: Infinity, high: -Infinity }));
    this.lanes = show.map(emptyColumns);
  }

  /** The page: from where to where it reaches (s). */
  get page(): { readonly from: number; readonly until: number } {
    const { column } = this.wish;
    return { from: this.start * column, until: (this.start + COLUMNS) * column };
  }

  /** What there is on the page: its stretch (s), and one envelope for each signal; `undefined` while there is nothing. */
  get filled(): { readonly from: number; readonly until: number; readonly lanes: readonly Envelope[] } | undefined {
    const { begin, lanes } = this;
    const { column } = this.wish;
    const count = lanes[0]?.first.length ?? 0;
    if (begin === undefined || count === 0) return undefined;
    return { from: begin * column, until: (begin + count) * column, lanes };
  }

  /** Takes in a slice that goes on where the last one ended; one that does not begins anew. */
  take({ first, lanes }: TraceSlice): void {
    const count = lanes[0]?.first.length ?? 0;
    if (count === 0 || lanes.length !== this.lanes.length) return;
    const end = this.begin === undefined ? undefined : this.begin + (this.lanes[0]?.first.length ?? 0);
    // The last column of one slice is the first of the next where the border of the slices lies inside of it.
    if (end === undefined || first < end - 1 || first > end) {
      this.lanes = this.lanes.map(emptyColumns);
      this.begin = first;
    }
    for (const [index, lane] of lanes.entries()) {
      const own = this.lanes[index];
      const range = this.ranges[index];
      if (own === undefined || range === undefined) continue;
      append(own, lane, end === first + 1);
      for (const value of lane.low) range.low = Math.min(range.low, value);
      for (const value of lane.high) range.high = Math.max(range.high, value);
    }
    this.turn(first + count);
  }

  /** Goes on by half pages until the page holds the present. */
  private turn(end: number): void {
    const half = COLUMNS / 2;
    if (this.begin === undefined) return;
    if (end <= this.start) this.start = Math.max(0, Math.floor(end / half) * half - half);
    while (end > this.start + COLUMNS) this.start = Math.max(this.start + half, Math.floor(end / half) * half - half);
    const out = this.start - this.begin;
    if (out <= 0) return;
    for (const lane of this.lanes) for (const list of Object.values(lane) as number[][]) list.splice(0, out);
    this.begin = this.start;
  }
}

function emptyColumns(): Columns {
  return { first: [], last: [], low: [], high: [] };
}

/** @param joins whether the first column goes on with the last one there is. */
function append(own: Columns, added: Envelope, joins: boolean): void {
  added.first.forEach((first, index) => {
    const [last = 0, low = 0, high = 0] = [added.last[index], added.low[index], added.high[index]];
    const at = own.first.length - 1;
    if (joins && index === 0 && at >= 0) {
      own.last[at] = last;
      own.low[at] = Math.min(own.low[at] ?? low, low);
      own.high[at] = Math.max(own.high[at] ?? high, high);
      return;
    }
    own.first.push(first);
    own.last.push(last);
    own.low.push(low);
    own.high.push(high);
  });
}
