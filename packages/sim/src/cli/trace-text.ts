import { type EdgeRow, type Lane, numberText, type TraceResult } from '../document/index.ts';
import { alignColumns } from './columns.ts';
import { fateMarks } from './fates-text.ts';

/** Characters across the picture of a lane. */
const PICTURE_WIDTH = 60;
/** Edges listed as text; the rest is counted. */
const SHOWN_EDGES = 16;
/** Heights of a lane that moves between its extremes, lowest first. */
const HEIGHTS = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/** A trace as text: a small picture of every lane, fates under the trigger lane, and the first edges. */
export function traceText(trace: TraceResult): string[] {
  const rows: string[][] = [];
  for (const lane of trace.lanes) {
    rows.push([lane.show, lane.role === 'logic' ? stepPicture(lane) : heightPicture(lane), rangeText(lane)]);
    for (const { trigger, pulses } of trace.timers) {
      if (trigger === lane.show && lane.role === 'logic' && pulses.length > 0)
        rows.push(['', markPicture(pulses, trace), '']);
    }
  }
  rows.push(['', axis(trace), '']);
  // Of a voltage that moves gradually, passing half the supply is no edge that anybody looks for.
  const analog = new Set(trace.lanes.filter((lane) => lane.role === 'analog').map((lane) => lane.show));
  const nets = Object.entries(trace.edges).filter(([net]) => !analog.has(net));
  const edges = nets.flatMap(([net, list]) => list.map((edge) => ({ net, ...edge })));
  edges.sort((a, b) => a.time - b.time);
  return [...alignColumns(rows, '  '), '', ...edgeLines(edges)];
}

function edgeLines(edges: readonly (EdgeRow & { net: string })[]): string[] {
  if (edges.length === 0) return ['  No edges.'];
  const rows = edges
    .slice(0, SHOWN_EDGES)
    .map(({ time, net, to }) => [numberText(time, 's'), net, to === 'high' ? 'goes high' : 'goes low']);
  const more = edges.length - rows.length;
  return [...alignColumns(rows, '  '), ...(more > 0 ? [`  and ${more} more edges; --csv and --json list them`] : [])];
}

/** High and low as lines at the top and bottom, and a bar where the signal moved between them. */
function stepPicture(lane: Lane): string {
  const limit = middleOf(lane);
  return cells(lane.low.length, (from, to) => {
    const low = least(lane.low, from, to);
    const high = most(lane.high, from, to);
    // A step right on the border of two columns is in neither of them.
    const before = lane.last[from - 1];
    const stepped = before !== undefined && before > limit !== (lane.first[from] ?? before) > limit;
    if (stepped || (low <= limit && high > limit)) return '┃';
    return high > limit ? '▔' : '▁';
  });
}

/** Between the two levels, or the lane's own limit where it never steps. */
function middleOf(lane: Lane): number {
  const low = least(lane.low, 0, lane.low.length);
  const high = most(lane.high, 0, lane.high.length);
  return high > low ? (low + high) / 2 : (lane.level ?? low);
}

function heightPicture(lane: Lane): string {
  const low = least(lane.low, 0, lane.low.length);
  const span = most(lane.high, 0, lane.high.length) - low;
  return cells(lane.low.length, (from, to) => {
    const middle = (least(lane.low, from, to) + most(lane.high, from, to)) / 2;
    const height = span > 0 ? Math.round(((middle - low) / span) * (HEIGHTS.length - 1)) : 0;
    return HEIGHTS[height] ?? ' ';
  });
}

function rangeText(lane: Lane): string {
  if (lane.low.length === 0) return 'no value';
  const low = least(lane.low, 0, lane.low.length);
  const high = most(lane.high, 0, lane.high.length);
  return low === high ? numberText(low, lane.unit) : `${numberText(low, lane.unit)} to ${numberText(high, lane.unit)}`;
}

/** The first fate mark that falls into each character. */
function markPicture(pulses: TraceResult['timers'][number]['pulses'], { from, until }: TraceResult): string {
  const marks = Array.from({ length: PICTURE_WIDTH }, () => ' ');
  for (const { time, fate } of pulses) {
    const at = Math.min(PICTURE_WIDTH - 1, Math.floor(((time - from) / (until - from)) * PICTURE_WIDTH));
    if (marks[at] === ' ') marks[at] = fateMarks[fate];
  }
  return marks.join('');
}

function axis({ from, until }: TraceResult): string {
  const start = numberText(from, 's');
  const end = numberText(until, 's');
  return start + end.padStart(PICTURE_WIDTH - [...start].length);
}

/** One character for each stretch of the lane's columns. */
function cells(columns: number, draw: (from: number, to: number) => string): string {
  const width = Math.min(PICTURE_WIDTH, columns);
  const border = (index: number): number => Math.round((index * columns) / width);
  return Array.from({ length: width }, (_, index) => draw(border(index), border(index + 1))).join('');
}

function least(list: readonly number[], from: number, to: number): number {
  return list.slice(from, to).reduce((found, value) => Math.min(found, value), Infinity);
}

function most(list: readonly number[], from: number, to: number): number {
  return list.slice(from, to).reduce((found, value) => Math.max(found, value), -Infinity);
}
