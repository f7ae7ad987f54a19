import { type EdgeRow, type Lane, LISTED_MOST, type TraceResult } from '../document/index.ts';
import { stretchText, timeText } from './number-words.ts';

/** Stretches of a lane that are written out; the rest is counted. */
const SHOWN_SPANS = 6;

/** One stretch of a lane (s); an end that lies outside the window is left out. */
interface Span {
  readonly from?: number;
  readonly until?: number;
}

/**
 * When a logic lane was on, as cells of a table: its name, which level is meant, and the stretches at that level. An input
 * of a timer acts by going low, everything else by going high.
 */
export function spanRow(lane: Lane, trace: TraceResult): string[] {
  const { show } = lane;
  if (lane.role === 'contact') return contactRow(lane, trace);
  const to = trace.timers.some(({ trigger, output }) => trigger === show && output !== show) ? 'low' : 'high';
  const edges = trace.edges[show] ?? [];
  if (edges.length === 0) {
    const high = (lane.first[0] ?? 0) > (lane.level ?? 0);
    return [show, `${high ? 'high' : 'low'} throughout`];
  }
  return [show, `${to} ${spansText(spansOf(edges, to), edges.length >= LISTED_MOST)}`];
}

/** When a contact was closed. */
function contactRow({ show, first, level = 0 }: Lane, trace: TraceResult): string[] {
  const edges = trace.contacts?.[show] ?? [];
  if (edges.length === 0) return [show, `${(first[0] ?? 0) > level ? 'closed' : 'open'} throughout`];
  const rises = edges.map(({ time, to }): EdgeRow => ({ time, to: to === 'closed' ? 'high' : 'low' }));
  return [show, `closed ${spansText(spansOf(rises, 'high'), edges.length >= LISTED_MOST)}`];
}

/** @param isCut whether there are more than are listed at all. */
function spansText(spans: readonly Span[], isCut: boolean): string {
  const shown = spans.slice(0, SHOWN_SPANS).map(spanText);
  const more = spans.length - shown.length;
  if (isCut) return `${shown.join(', ')}, and many more times (--csv and --json list the first of them)`;
  const rest = more > 0 ? `, and ${more} more times (--csv and --json list them)` : '';
  return `${shown.join(', ') || 'never'}${rest}`;
}

/** The stretches between edges to one level and those back. */
function spansOf(edges: readonly EdgeRow[], to: EdgeRow['to']): Span[] {
  const spans: Span[] = [];
  let from: number | undefined;
  for (const [index, edge] of edges.entries()) {
    if (edge.to === to) from = edge.time;
    else if (from !== undefined) {
      spans.push({ from, until: edge.time });
      from = undefined;
    } else if (index === 0 && edge.time > 0) spans.push({ until: edge.time });
  }
  return from === undefined ? spans : [...spans, { from }];
}

function spanText({ from, until }: Span): string {
  if (from === undefined) return `up to ${timeText(until ?? 0)}`;
  if (until === undefined) return `from ${timeText(from)} on`;
  return stretchText(from, until);
}
