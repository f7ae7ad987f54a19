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
    edges: Object.entries(edges).map(([net, rows]) => ({ net, ...packedEdges(rows) })),
    timers: timers.map(({ pulses, intervals, ...timer }) => ({
      ...timer,
      pulses: packedPulses(pulses),
      intervals: packedIntervals(intervals),
    })),
  };
}

// Plain loops: to hand thousands of rows one by one to a function that makes a number of each takes several times as long.

function packedEdges(rows: readonly EdgeRow[]): { times: Float64Array; high: Uint8Array } {
  const times = new Float64Array(rows.length);
  const high = new Uint8Array(rows.length);
  let place = 0;
  for (const { time, to } of rows) {
    times[place] = time;
    high[place] = to === 'high' ? 1 : 0;
    place += 1;
  }
  return { times, high };
}

function packedIntervals(rows: readonly IntervalRow[]): Float64Array {
  const ends = new Float64Array(2 * rows.length);
  let place = 0;
  for (const { from, until } of rows) {
    ends[place] = from;
    ends[place + 1] = until ?? Number.NaN;
    place += 2;
  }
  return ends;
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
  const list = new Array<number>(until - from);
  for (let place = from; place < until; place += 1) list[place - from] = values[place] ?? 0;
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
