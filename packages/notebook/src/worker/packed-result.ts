import type { CellResult, EdgeRow, IntervalRow, Lane, TraceResult } from '@two-thirds/sim/document';
import { type PackedPulses, packedPulses, unpackedPulses } from './packed-pulses.ts';

type TimerTrace = TraceResult['timers'][number];

/**
 * A trace as it travels from a worker to the page: its long lists as columns of numbers, whose memory is handed over. To
 * copy thousands of rows field by field, on both sides, takes longer than to compute them.
 */
interface PackedTrace {
  readonly packed: 'trace';
  readonly rest: Omit<TraceResult, 'lanes' | 'edges' | 'timers'>;
  /** Each without its columns, and beside it first, last, lowest and highest values, one after the other. */
  readonly lanes: readonly { readonly lane: Lane; readonly columns: Float64Array }[];
  readonly edges: readonly { readonly net: string; readonly times: Float64Array; readonly high: Uint8Array }[];
  readonly timers: readonly (Omit<TimerTrace, 'pulses' | 'intervals'> & {
    readonly pulses: PackedPulses;
    /** Start and end of each in turn; NaN for no end. */
    readonly intervals: Float64Array;
  })[];
}

/** A result as it travels. */
export type PackedResult = Exclude<CellResult, TraceResult> | PackedTrace;

/** Packs a result. What it is made of stays as it is. */
export function packedResult(result: CellResult): PackedResult {
  if (!result.ok || result.kind !== 'trace') return result;
  const { lanes, edges, timers, ...rest } = result;
  return {
    packed: 'trace',
    rest,
    lanes: lanes.map((lane) => {
      const { first, last, low, high } = lane;
      const columns = new Float64Array(4 * first.length);
      for (const [place, values] of [first, last, low, high].entries()) columns.set(values, place * first.length);
      return { lane: { ...lane, first: [], last: [], low: [], high: [] }, columns };
    }),
    edges: Object.entries(edges).map(([net, rows]) => ({
      net,
      times: Float64Array.from(rows, ({ time }) => time),
      high: Uint8Array.from(rows, ({ to }) => (to === 'high' ? 1 : 0)),
    })),
    timers: timers.map(({ pulses, intervals, ...timer }) => ({
      ...timer,
      pulses: packedPulses(pulses),
      intervals: Float64Array.from(intervals.flatMap(({ from, until }) => [from, until ?? Number.NaN])),
    })),
  };
}

/** The memory of a packed result that can be handed over. */
export function memoryOf(packed: PackedResult): ArrayBufferLike[] {
  if (!('packed' in packed)) return [];
  return [
    ...packed.lanes.map(({ columns }) => columns.buffer),
    ...packed.edges.flatMap(({ times, high }) => [times.buffer, high.buffer]),
    ...packed.timers.flatMap(({ pulses, intervals }) => [pulses.numbers.buffer, pulses.fates.buffer, intervals.buffer]),
  ];
}

/** The result that was packed. */
export function unpackedResult(packed: PackedResult): CellResult {
  if (!('packed' in packed)) return packed;
  const { rest, lanes, edges, timers } = packed;
  return {
    ...rest,
    lanes: lanes.map(({ lane, columns }): Lane => {
      const count = columns.length / 4;
      const part = (place: number): number[] => plain(columns, place * count, (place + 1) * count);
      return { ...lane, first: part(0), last: part(1), low: part(2), high: part(3) };
    }),
    edges: Object.fromEntries(edges.map(({ net, times, high }) => [net, edgeRows(times, high)])),
    timers: timers.map(({ pulses, intervals, ...timer }) => ({
      ...timer,
      pulses: unpackedPulses(pulses),
      intervals: intervalRows(intervals),
    })),
  };
}

function plain(values: Float64Array, from: number, until: number): number[] {
  const list: number[] = [];
  for (let place = from; place < until; place += 1) list.push(values[place] ?? 0);
  return list;
}

function edgeRows(times: Float64Array, high: Uint8Array): EdgeRow[] {
  const rows: EdgeRow[] = [];
  for (let place = 0; place < times.length; place += 1) {
    rows.push({ time: times[place] ?? 0, to: high[place] === 1 ? 'high' : 'low' });
  }
  return rows;
}

function intervalRows(ends: Float64Array): IntervalRow[] {
  const rows: IntervalRow[] = [];
  for (let place = 0; place < ends.length; place += 2) {
    const until = ends[place + 1] ?? Number.NaN;
    rows.push({ from: ends[place] ?? 0, until: Number.isNaN(until) ? null : until });
  }
  return rows;
}
