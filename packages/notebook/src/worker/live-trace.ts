import {
  type Envelope,
  envelopeObserver,
  type Observer,
  readSignalName,
  type SignalTable,
} from '@two-thirds/sim/trace';
import type { TraceSlice, TraceWish } from '../runtime/live-protocol.ts';

/** Nothing is drawn in more columns than this at once: what was longer ago is out of sight. */
const MOST_COLUMNS = 4000;

/**
 * Sums up the signals of a live run in columns, slice by slice. Columns lie at whole multiples of their length, so that
 * those of one slice go on where those of the last one ended.
 */
export class LiveTrace implements Observer {
  private readonly prefix: string;
  private table: SignalTable | undefined;
  private slice: { readonly first: number; readonly watch: ReturnType<typeof envelopeObserver> } | undefined;

  /** @param prefix put before the board's own names. */
  constructor(prefix: string) {
    this.prefix = prefix;
  }

  /** Part of the observer's contract. */
  begin(table: SignalTable): void {
    this.table = table;
    this.slice = undefined;
  }

  /** Part of the observer's contract. */
  segment(segment: Parameters<NonNullable<Observer['segment']>>[0]): void {
    this.slice?.watch.segment?.(segment);
  }

  /** Begins a slice (s); signals that the board does not have make it one of which nothing is told. */
  open(wish: TraceWish | undefined, from: number, until: number): void {
    const { table } = this;
    this.slice = undefined;
    if (wish === undefined || table === undefined || !(until > from)) return;
    const last = Math.floor(until / wish.column);
    const first = Math.max(columnAt(from, wish.column), last - MOST_COLUMNS + 1);
    const [start, end] = [first * wish.column, (last + 1) * wish.column];
    const signals = wish.show.map((show) => this.inCircuit(show));
    const watch = envelopeObserver(signals, { from: start, until: end, columns: last - first + 1 });
    try {
      watch.begin?.(table);
    } catch (error) {
      if (error instanceof RangeError) return;
      throw error;
    }
    this.slice = { first, watch };
  }

  /** Ends the slice: what its columns hold. */
  close(): TraceSlice | undefined {
    const { slice } = this;
    this.slice = undefined;
    if (slice === undefined) return undefined;
    const lanes: readonly Envelope[] = slice.watch.result();
    return { first: slice.first, lanes };
  }

  private inCircuit(show: string): ReturnType<typeof readSignalName> {
    const name = readSignalName(show);
    return 'net' in name ? { net: this.prefix + name.net } : { current: this.prefix + name.current };
  }
}

/** The column that begins at a time or holds it; a border that is missed by rounding alone is the border. */
function columnAt(time: number, column: number): number {
  const at = time / column;
  return Math.floor(at + Math.max(1e-9, 8 * Number.EPSILON * at));
}
