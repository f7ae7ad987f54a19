import type { Fate, Lane, TraceResult } from '../document/index.ts';
import { alignColumns } from './columns.ts';
import { fateLegend, fateMarks } from './fates-text.ts';
import { rangeText, timeText } from './number-words.ts';
import { spanRow } from './span-words.ts';

/** Characters across the picture of a lane. */
const PICTURE_WIDTH = 60;
/** Heights of a lane that moves between its extremes, lowest first. */
const HEIGHTS = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/** A trace as text: a small picture of every lane, fates under the trigger lane, and when each logic lane was on. */
export function traceText(trace: TraceResult): string[] {
  const rows: string[][] = [];
  const met = new Set<Fate>();
  for (const lane of trace.lanes) {
    rows.push([lane.show, lane.role === 'analog' ? heightPicture(lane) : stepPicture(lane), laneRange(lane)]);
    for (const { trigger, threshold, pulses } of trace.timers) {
      // The pulses of a timer that starts itself have no length, and say nothing that its output does not.
      if (trigger !== lane.show || trigger === threshold || pulses.length === 0) continue;
      rows.push(['', markPicture(pulses, trace), '']);
      for (const { fate } of pulses) met.add(fate);
    }
  }
  rows.push(['', axis(trace), '']);
  if (met.size > 0) rows.push(['', fateLegend([...met]), '']);
  // Of a voltage that moves gradually, passing half the supply is no edge that anybody looks for.
  const spans = trace.lanes.filter((lane) => lane.role !== 'analog').map((lane) => spanRow(lane, trace));
  return [...alignColumns(rows, '  '), ...(spans.length > 0 ? ['', ...alignColumns(spans, '  ')] : [])];
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

function laneRange({ low, high, unit }: Lane): string {
  if (low.length === 0) return 'no value';
  // Which of the two lines is which is said below, with when it was closed.
  if (unit === null) return 'open or closed';
  return rangeText(least(low, 0, low.length), most(high, 0, high.length), unit);
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
  const start = timeText(from);
  const end = timeText(until);
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
