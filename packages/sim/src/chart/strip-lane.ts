import type { Fate, TraceResult } from '../document/index.ts';
import { type Bar, BAR_HEIGHT, barsOf, type Plot, stretch } from './bars.ts';
import { type FateMark, fateMarks } from './fate-marks.ts';
import { type HighSpan, highSpans } from './high-spans.ts';
import { pixelText, type Scale } from './scale.ts';

/** A timer's input pulses over the intervals that run and the output they make. */
export interface StripLane {
  readonly kind: 'strip';
  readonly title: string;
  readonly top: number;
  readonly bottom: number;
  readonly timer: string;
  readonly trigger: string;
  readonly output: string;
  readonly marks: readonly FateMark[];
  /** Intervals; each covers the pulses that came while it ran. */
  readonly intervals: readonly { readonly x: number; readonly width: number }[];
  /** From a starting pulse down to its output pulse: path data. */
  readonly links: readonly string[];
  readonly bars: readonly Bar[];
  readonly counts: Readonly<Record<Fate, number>>;
  /** Pixels of the rows: marks, the band that says an interval runs, output bars. */
  readonly markTop: number;
  readonly runTop: number;
  readonly barTop: number;
}

/** Height of a mark (pixels). */
export const MARK_HEIGHT = 22;
const RUN_HEIGHT = 6;
const ROW_GAP = 9;

type TimerTrace = TraceResult['timers'][number];

/** Whether the pulses of a timer are shown in a strip. */
export function hasStrip(trace: TraceResult, timer: TimerTrace): boolean {
  const shown = (net: string): boolean => trace.lanes.some((lane) => lane.show === net);
  return !startsItself(timer) && (shown(timer.trigger) || shown(timer.output));
}

/** A timer whose trigger and threshold share a net starts itself: its pulses are its own, and tell nothing. */
function startsItself(timer: Pick<TimerTrace, 'trigger' | 'threshold'>): boolean {
  return timer.trigger === timer.threshold;
}

/** Whether a net is shown by the strip of a timer. */
export function standsInStrip(timer: TimerTrace, show: string): boolean {
  return show === timer.trigger || show === timer.output;
}

/** Lays the strip of a timer out. */
export function stripLane(trace: TraceResult, timer: TimerTrace, top: number, x: Scale, plot: Plot): StripLane {
  const markTop = top;
  const runTop = markTop + MARK_HEIGHT + ROW_GAP;
  const barTop = runTop + RUN_HEIGHT + ROW_GAP;
  const spans = highSpans(trace, timer.output);
  return {
    kind: 'strip',
    title: timer.timer,
    timer: timer.timer,
    trigger: timer.trigger,
    output: timer.output,
    top,
    bottom: barTop + BAR_HEIGHT,
    markTop,
    runTop,
    barTop,
    marks: fateMarks(timer.pulses, x, trace.until, plot),
    intervals: timer.intervals.flatMap(({ from, until }) => stretch(from, until ?? trace.until, x, plot) ?? []),
    links: startLinks(timer, spans, x, plot, [markTop + MARK_HEIGHT, barTop]),
    bars: barsOf(spans, x, plot),
    counts: timer.counts,
  };
}

/** From each starting pulse to the output pulse it made: the first that rises no earlier than the pulse. */
function startLinks(
  timer: TimerTrace,
  spans: readonly HighSpan[],
  x: Scale,
  plot: Plot,
  [from, until]: readonly [number, number],
): string[] {
  const links: string[] = [];
  let next = 0;
  for (const pulse of timer.pulses) {
    if (pulse.fate !== 'started') continue;
    while (next < spans.length && (spans[next]?.from ?? 0) < pulse.time) next += 1;
    const span = spans[next];
    if (span === undefined) break;
    next += 1;
    const [start, end] = [x(pulse.time), x(span.from)];
    if (end < plot.left || start > plot.right) continue;
    const [top, foot] = [Math.max(plot.left, start), Math.min(plot.right, end)];
    links.push(`M${pixelText(top + 1)} ${from}L${pixelText(foot + 1)} ${until}`);
  }
  return links;
}
