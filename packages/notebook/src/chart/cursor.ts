import { highSpans } from '@two-thirds/sim/chart';
import type { ContactLane, InstantRow, Lane, PulseRow, TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';

/** What a lane holds at an instant, in the lane's unit. */
export interface LaneReadout {
  readonly show: string;
  /** Undefined while the exact value is being computed and the lane's columns do not tell it. */
  readonly value: number | undefined;
  /** For people: `7.82 V`; `…` while there is no value. */
  readonly text: string;
}

/** One input of a timer against the limit of its comparator, in volts. */
export interface ComparatorReadout {
  readonly value: number;
  readonly limit: number;
  /** Whether the input is past its limit: THRESHOLD above it, TRIGGER below it. */
  readonly past: boolean;
}

/** What a timer is doing at an instant. */
export interface TimerReadout {
  readonly timer: string;
  /** The interval that runs, if one does; `until` is null if it outlasts the window, undefined where that is not known. */
  readonly interval?: { readonly from: number; readonly until: number | null | undefined };
  /** The input pulse that is present, if one is. */
  readonly pulse?: PulseRow;
  readonly outputHigh: boolean;
  /** Its comparators, where the exact state is known. */
  readonly threshold?: ComparatorReadout;
  readonly trigger?: ComparatorReadout;
}

/** Everything a trace says about an instant. */
export interface CursorState {
  /** Seconds. */
  readonly time: number;
  readonly lanes: readonly LaneReadout[];
  readonly timers: readonly TimerReadout[];
  /** The exact state of the whole board, where it is known. */
  readonly exact?: InstantRow;
}

/** Steps within a column smaller than this share of the lane's range are no jump. */
const JUMP = 0.02;

/** The time that a cursor has in a trace: kept inside its window. */
export function timeInside(trace: TraceResult, time: number): number {
  return Math.min(trace.until, Math.max(trace.from, time));
}

/**
 * The state of a trace at an instant inside its window.
 *
 * @param moment the board computed at this very instant, once it has been; one of another instant does not count.
 */
export function cursorState(trace: TraceResult, time: number, moment?: TraceResult): CursorState {
  const inside = timeInside(trace, time);
  const exact = moment?.instants?.find((row) => row.time === inside);
  return {
    time: inside,
    lanes: trace.lanes.map((lane) => laneReadout(lane, trace, inside, exact)),
    timers: trace.timers.map((timer) => {
      const interval = intervalAt(timer, trace, inside, exact === undefined ? undefined : moment);
      return { ...timerReadout(timer, trace, inside, exact), ...(interval === undefined ? {} : { interval }) };
    }),
    ...(exact === undefined ? {} : { exact }),
  };
}

/** The interval that runs at a time: from the list of the whole run, or past its end from the moment itself. */
function intervalAt(
  timer: TraceResult['timers'][number],
  trace: TraceResult,
  time: number,
  moment: TraceResult | undefined,
): TimerReadout['interval'] {
  const runs = (each: { from: number; until: number | null }): boolean =>
    each.from <= time && (each.until === null || time < each.until);
  const listed = timer.intervals.find(runs);
  if (listed !== undefined || !trace.cut) return listed;
  const found = moment?.timers.find((each) => each.timer === timer.timer)?.intervals.find(runs);
  return found === undefined ? undefined : { from: found.from, until: undefined };
}

function timerReadout(
  timer: TraceResult['timers'][number],
  trace: TraceResult,
  time: number,
  exact: InstantRow | undefined,
): TimerReadout {
  const pulse = timer.pulses.find((each) => each.time <= time && (each.end === null || time < each.end));
  const limits = exact?.limits[timer.timer];
  const level = trace.lanes.find((lane) => lane.level !== undefined)?.level;
  const output = exact?.nets[timer.output];
  return {
    timer: timer.timer,
    outputHigh:
      output !== undefined && level !== undefined
        ? output > level
        : highSpans(trace, timer.output).some((span) => span.from <= time && time < span.until),
    ...(pulse === undefined ? {} : { pulse }),
    ...(exact === undefined || limits === undefined
      ? {}
      : {
          threshold: comparator(exact.nets[timer.threshold] ?? 0, limits.threshold, 1),
          trigger: comparator(exact.nets[timer.trigger] ?? 0, limits.trigger, -1),
        }),
  };
}

function comparator(value: number, limit: number, side: 1 | -1): ComparatorReadout {
  return { value, limit, past: (value - limit) * side > 0 };
}

/** What is needed of a trace to read one of its lanes. */
type Shown = Pick<TraceResult, 'board' | 'from' | 'until'> & Partial<Pick<TraceResult, 'contacts' | 'cut'>>;

/** Whether a contact conducts at an instant: by its last edge, or, where not all are listed, by a column that is one. */
function contactReadout(lane: ContactLane, trace: Shown, time: number): LaneReadout {
  const { show, level = 0 } = lane;
  const edges = trace.contacts?.[show] ?? [];
  const index = edges.findLastIndex((edge) => edge.time <= time);
  const next = edges[index + 1];
  const isListed = trace.cut !== true || next !== undefined;
  const known = isListed ? (edges[index]?.to ?? (next === undefined ? undefined : opposite[next.to])) : undefined;
  const value = known === undefined ? columnValue(lane, trace, time) : known === 'closed' ? 1 : 0;
  return { show, value, text: value === undefined ? '…' : value > level ? 'closed' : 'open' };
}

const opposite = { closed: 'open', open: 'closed' } as const;

/**
 * What a lane holds at an instant: the exact value where it is known; till then read along the column's line, unless
 * the column holds a jump.
 */
export function laneReadout(lane: Lane, trace: Shown, time: number, exact: InstantRow | undefined): LaneReadout {
  if (lane.role === 'contact') return contactReadout(lane, trace, time);
  const value = exact === undefined ? columnValue(lane, trace, time) : signalAt(exact, lane.show, trace.board);
  const text = value === undefined ? '…' : formatQuantity(rounded(value, lane), lane.unit);
  return { show: lane.show, value, text };
}

/** A signal as a cell of a board names it: its own names may be written with the board's name or without. */
function signalAt({ nets, currents }: InstantRow, show: string, board: string): number | undefined {
  const part = /^\s*current\(\s*([^()\s]+)\s*\)\s*$/.exec(show)?.[1];
  const [values, name] = part === undefined ? [nets, show.trim()] : [currents, part];
  const own = name.startsWith(`${board}.`) ? name.slice(board.length + 1) : name;
  return values[name] ?? values[own] ?? (name === 'ground' ? 0 : undefined);
}

function columnValue(lane: Lane, window: { from: number; until: number }, time: number): number | undefined {
  const count = lane.first.length;
  const place = ((time - window.from) / (window.until - window.from)) * count;
  const index = Math.min(count - 1, Math.max(0, Math.floor(place)));
  const first = lane.first[index] ?? 0;
  const last = lane.last[index] ?? 0;
  if ((lane.high[index] ?? 0) - (lane.low[index] ?? 0) > JUMP * laneRange(lane)) return undefined;
  return first + (last - first) * Math.min(1, Math.max(0, place - index));
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

/** Instants by trace: they are asked for at every move of a cursor. */
const knownTimes = new WeakMap<TraceResult, readonly number[]>();

/** The instants at which something happens in a trace, ascending, each once: edges, pulses, ends of intervals. */
export function eventTimes(trace: TraceResult): readonly number[] {
  const known = knownTimes.get(trace) ?? gatheredTimes(trace);
  knownTimes.set(trace, known);
  return known;
}

/** Whether something happens in a trace at this many instants or more; told without going through a long run. */
export function hasManyTimes(trace: TraceResult, many: number): boolean {
  const known = knownTimes.get(trace);
  return known === undefined ? distinctTimes(trace, many).size >= many : known.length >= many;
}

function gatheredTimes(trace: TraceResult): number[] {
  return [...distinctTimes(trace, Infinity)].sort((a, b) => a - b);
}

/** The instants of a trace, each once, as far as there are no more than so many. */
function distinctTimes(trace: TraceResult, most: number): ReadonlySet<number> {
  const times = new Set<number>();
  for (const time of allTimes(trace)) {
    if (time !== null && time >= trace.from && time <= trace.until) times.add(time);
    if (times.size >= most) break;
  }
  return times;
}

function* allTimes(trace: TraceResult): Generator<number | null> {
  for (const edges of Object.values(trace.edges)) for (const { time } of edges) yield time;
  for (const edges of Object.values(trace.contacts ?? {})) for (const { time } of edges) yield time;
  for (const { pulses, intervals } of trace.timers) {
    for (const { time, end } of pulses) {
      yield time;
      yield end;
    }
    for (const { from, until } of intervals) {
      yield from;
      yield until;
    }
  }
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
