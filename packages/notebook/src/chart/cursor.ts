import type { Lane, PulseRow, TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { highSpans } from './scene.ts';

/** What a lane holds at an instant, in the lane's unit. Where it jumps within a column, both ends are given. */
export interface LaneReadout {
  readonly show: string;
  readonly low: number;
  readonly high: number;
  /** For people: `7.82 V`, or `0.030 V to 8.00 V` within a column that holds a jump. */
  readonly text: string;
}

/** What a timer is doing at an instant. */
export interface TimerReadout {
  readonly timer: string;
  /** The interval that runs, if one does; `until` is null if it outlasts the window. */
  readonly interval?: { readonly from: number; readonly until: number | null };
  /** The input pulse that is present, if one is. */
  readonly pulse?: PulseRow;
  readonly outputHigh: boolean;
}

/** Everything a trace says about an instant. */
export interface CursorState {
  /** Seconds. */
  readonly time: number;
  readonly lanes: readonly LaneReadout[];
  readonly timers: readonly TimerReadout[];
}

/** Steps within a column smaller than this share of the lane's range are no jump. */
const JUMP = 0.02;

/** The state of a trace at an instant inside its window. */
export function cursorState(trace: TraceResult, time: number): CursorState {
  const inside = Math.min(trace.until, Math.max(trace.from, time));
  return {
    time: inside,
    lanes: trace.lanes.map((lane) => laneReadout(lane, trace, inside)),
    timers: trace.timers.map((timer) => {
      const interval = timer.intervals.find(({ from, until }) => from <= inside && (until === null || inside < until));
      const pulse = timer.pulses.find((each) => each.time <= inside && (each.end === null || inside < each.end));
      return {
        timer: timer.timer,
        outputHigh: highSpans(trace, timer.output).some((span) => span.from <= inside && inside < span.until),
        ...(interval === undefined ? {} : { interval }),
        ...(pulse === undefined ? {} : { pulse }),
      };
    }),
  };
}

/** What a lane holds at an instant: read along the column's line where it has no jump. */
export function laneReadout(lane: Lane, window: { from: number; until: number }, time: number): LaneReadout {
  const count = lane.first.length;
  const place = ((time - window.from) / (window.until - window.from)) * count;
  const index = Math.min(count - 1, Math.max(0, Math.floor(place)));
  const first = lane.first[index] ?? 0;
  const last = lane.last[index] ?? 0;
  const low = lane.low[index] ?? 0;
  const high = lane.high[index] ?? 0;
  const text = (value: number): string => formatQuantity(rounded(value, lane), lane.unit);
  if (high - low > JUMP * laneRange(lane)) {
    return { show: lane.show, low, high, text: `${text(low)} to ${text(high)}` };
  }
  const value = first + (last - first) * Math.min(1, Math.max(0, place - index));
  return { show: lane.show, low: value, high: value, text: text(value) };
}

/** A readout shows no digits below a ten-thousandth of the lane's range: 0.2 µV beside 12 V is 0 V to any reader. */
function rounded(value: number, lane: Lane): number {
  return Math.abs(value) < laneRange(lane) * 1e-4 ? 0 : value;
}

function laneRange(lane: Lane): number {
  let least = 0;
  let greatest = 0;
  for (const value of lane.low) least = Math.min(least, value);
  for (const value of lane.high) greatest = Math.max(greatest, value);
  return greatest - least;
}

/** The instants at which something happens in a trace, ascending, each once: edges, pulses, ends of intervals. */
export function eventTimes(trace: TraceResult): number[] {
  const times = new Set<number>();
  for (const edges of Object.values(trace.edges)) for (const { time } of edges) times.add(time);
  for (const { pulses, intervals } of trace.timers) {
    for (const { time, end } of pulses) {
      times.add(time);
      if (end !== null) times.add(end);
    }
    for (const { from, until } of intervals) {
      times.add(from);
      if (until !== null) times.add(until);
    }
  }
  return [...times].filter((time) => time >= trace.from && time <= trace.until).sort((a, b) => a - b);
}

/** Where a cursor stands before anybody has moved it: well into the first interval that ends, else a third of the way. */
export function startingTime(trace: TraceResult): number {
  for (const { intervals } of trace.timers) {
    for (const { from, until } of intervals) {
      if (until !== null && from >= trace.from && until <= trace.until) return from + (until - from) * 0.8;
    }
  }
  return trace.from + (trace.until - trace.from) / 3;
}
