import { fateWords, laneTitle } from '@two-thirds/sim/chart';
import type { InstantRow, TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { eventTimes, laneReadout } from './cursor.ts';
import type { Window } from './view.ts';

/** A row of the table that says what a trace shows. */
export interface EventRow {
  /** Seconds. */
  readonly time: number;
  readonly timeText: string;
  /** What happened, each as a short sentence without its full stop. */
  readonly what: readonly string[];
  /** What each lane holds, in the order of the lanes. */
  readonly values: readonly string[];
}

/** Rows that are made; a longer table helps nobody, and the traces show the rest. */
const ROWS_MOST = 200;

/** What a table tells of a trace. */
export interface Looked {
  /** What is looked at; the whole run if not given. */
  readonly view?: Window | undefined;
  /** The view in detail, once it is computed: it lists what happens there however much came before. */
  readonly detail?: TraceResult | undefined;
}

/** The instants (s) that {@link eventRows} has rows for. */
export function rowTimes(trace: TraceResult, looked: Looked = {}): number[] {
  return timesInView(trace, looked).slice(0, ROWS_MOST);
}

/** Where the events of a view are listed: a run with more of them than are listed has them in the detail alone. */
function listed(trace: TraceResult, { detail }: Looked): TraceResult {
  return trace.cut && detail !== undefined ? detail : trace;
}

function timesInView(trace: TraceResult, looked: Looked): readonly number[] {
  const { from, until } = looked.view ?? trace;
  return eventTimes(listed(trace, looked)).filter((time) => time >= from && time <= until);
}

/**
 * Table rows for every instant of a view at which something happens, at most {@link ROWS_MOST}, and whether some were
 * left out.
 *
 * @param instants the exact states at these instants, as far as they are known.
 */
export function eventRows(
  trace: TraceResult,
  instants: readonly InstantRow[] = [],
  looked: Looked = {},
): { readonly rows: readonly EventRow[]; readonly cut: boolean } {
  const times = timesInView(trace, looked);
  const source = listed(trace, looked);
  const happenings = happeningsOf(source);
  const exact = new Map(instants.map((row) => [row.time, row]));
  const rows = times.slice(0, ROWS_MOST).map((time) => ({
    time,
    timeText: formatQuantity(time, 's', { digits: 4 }),
    what: happenings.get(time) ?? [],
    values: trace.lanes.map((lane) => laneReadout(lane, trace, time, exact.get(time)).text),
  }));
  return { rows, cut: times.length > ROWS_MOST || source.cut };
}

function happeningsOf(trace: TraceResult): Map<number, string[]> {
  const found = new Map<number, string[]>();
  const add = (time: number, text: string): void => {
    found.set(time, [...(found.get(time) ?? []), text]);
  };
  for (const [net, edges] of Object.entries(trace.edges)) {
    for (const { time, to } of edges) add(time, `${net} ${to === 'high' ? 'rises' : 'falls'}`);
  }
  for (const [show, edges] of Object.entries(trace.contacts ?? {})) {
    for (const { time, to } of edges) add(time, `${laneTitle(show)} ${to === 'closed' ? 'closes' : 'opens'}`);
  }
  for (const { timer, pulses, intervals } of trace.timers) {
    for (const { time, end, fate } of pulses) {
      add(time, `${timer}: an input pulse came (${fateWords[fate]})`);
      if (end !== null && end !== time) add(end, `${timer}: the input pulse ended`);
    }
    for (const { from, until } of intervals) {
      add(from, `${timer}: an interval begins`);
      if (until !== null) add(until, `${timer}: the interval ends`);
    }
  }
  return found;
}
