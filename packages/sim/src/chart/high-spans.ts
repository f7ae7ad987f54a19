import type { EdgeRow, Lane, TraceResult } from '../document/index.ts';
import type { Window } from './window.ts';

/** A stretch of time over which a net is high. */
export interface HighSpan {
  readonly from: number;
  readonly until: number;
  /** Whether it began and ended within the window, so that its length is a width. */
  readonly complete: boolean;
  /** Drawn from columns too coarse to tell single pulses apart. */
  readonly crowded?: true;
}

/**
 * The stretches over which a net is high, from its edges.
 *
 * @param edges edges inside the window, in order.
 * @param highAtStart whether the net is high where the window begins.
 */
export function spansFromEdges(edges: readonly EdgeRow[], highAtStart: boolean, window: Window): HighSpan[] {
  const spans: HighSpan[] = [];
  let since: number | undefined = highAtStart ? window.from : undefined;
  let began = false;
  for (const { time, to } of edges) {
    if (to === 'high') {
      // A rise at the very start of the window is a real edge: the net was low before.
      if (since === undefined || time === since) {
        since = time;
        began = true;
      }
    } else if (since !== undefined) {
      spans.push({ from: since, until: time, complete: began });
      since = undefined;
      began = false;
    }
  }
  if (since !== undefined) spans.push({ from: since, until: window.until, complete: false });
  return spans.filter((span) => span.until > span.from);
}

/** The stretches over which a lane is high, from its columns: for runs with more edges than are listed. */
export function spansFromColumns(lane: Lane, level: number, window: Window): HighSpan[] {
  const width = (window.until - window.from) / Math.max(1, lane.first.length);
  // Two columns that meet have the very same border, so that their spans join.
  const border = (index: number): number => window.from + index * width;
  const spans: HighSpan[] = [];
  lane.low.forEach((low, index) => {
    const high = lane.high[index] ?? low;
    if (high <= level) return;
    const crowded = low <= level;
    const [from, until] = [border(index), border(index + 1)];
    const last = spans.at(-1);
    if (last !== undefined && last.until === from && (last.crowded === true) === crowded) {
      spans[spans.length - 1] = { ...last, until };
    } else {
      spans.push({ from, until, complete: false, ...(crowded ? { crowded: true as const } : {}) });
    }
  });
  return spans;
}

/** The stretches over which a contact that is shown conducts. */
export function closedSpans(trace: TraceResult, show: string): HighSpan[] {
  const edges = (trace.contacts?.[show] ?? []).map(
    ({ time, to }): EdgeRow => ({ time, to: to === 'closed' ? 'high' : 'low' }),
  );
  return laneSpans(trace, show, edges);
}

/** The stretches over which a net that is shown, or that a timer drives, is high. */
export function highSpans(trace: TraceResult, net: string): HighSpan[] {
  return laneSpans(trace, net, trace.edges[net] ?? []);
}

function laneSpans(trace: TraceResult, show: string, edges: readonly EdgeRow[]): HighSpan[] {
  const lane = trace.lanes.find((each) => each.show === show);
  if (trace.cut && lane?.level !== undefined) return spansFromColumns(lane, lane.level, trace);
  const start = edges[0];
  const highAtStart =
    lane?.level === undefined || lane.first[0] === undefined
      ? start?.to === 'low'
      : lane.first[0] > lane.level && !(start?.to === 'high' && start.time > trace.from);
  return spansFromEdges(edges, highAtStart, trace);
}
