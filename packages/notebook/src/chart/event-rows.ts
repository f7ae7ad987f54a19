import { fateWords } from '@two-thirds/sim/chart';
import type { InstantRow, TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { eventTimes, laneReadout } from './cursor.ts';

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

/** The instants (s) that {@link eventRows} has rows for. */
export function rowTimes(trace: TraceResult): number[] {
  return eventTimes(trace).slice(0, ROWS_MOST);
}

/**
 * Table rows for every instant at which something happens, at most {@link ROWS_MOST}, and whether some were left out.
 *
 * @param instants the exact states at these instants, as far as they are known.
 */
export function eventRows(
  trace: TraceResult,
  instants: readonly InstantRow[] = [],
): { readonly rows: readonly EventRow[]; readonly cut: boolean } {
  const times = eventTimes(trace);
  const happenings = happeningsOf(trace);
  const exact = new Map(instants.map((row) => [row.time, row]));
  const rows = rowTimes(trace).map((time) => ({
    time,
    timeText: formatQuantity(time, 's', { digits: 4 }),
    what: happenings.get(time) ?? [],
    values: trace.lanes.map((lane) => laneReadout(lane, trace, time, exact.get(time)).text),
  }));
  return { rows, cut: times.length > ROWS_MOST || trace.cut };
}

function happeningsOf(trace: TraceResult): Map<number, string[]> {
  const found = new Map<number, string[]>();
  const add = (time: number, text: string): void => {
    found.set(time, [...(found.get(time) ?? []), text]);
  };
  for (const [net, edges] of Object.entries(trace.edges)) {
    for (const { time, to } of edges) add(time, `${net} ${to === 'high' ? 'rises' : 'falls'}`);
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
