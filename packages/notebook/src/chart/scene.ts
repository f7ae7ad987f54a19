import type { Fate, Lane, TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { envelopePath } from './envelope.ts';
import { type FateMark, fateMarks } from './fate-marks.ts';
import { type HighSpan, spansFromColumns, spansFromEdges } from './high-spans.ts';
import { linearScale, pixel, type Scale } from './scale.ts';
import { type Axis, timeAxis, valueAxis } from './ticks.ts';

/** A trace laid out in pixels: everything but the drawing itself. */
export interface Scene {
  readonly width: number;
  readonly height: number;
  /** Pixels of the window's start and end. */
  readonly left: number;
  readonly right: number;
  /** Whether lane names stand above their lanes, for want of room beside them. */
  readonly narrow: boolean;
  readonly lanes: readonly SceneLane[];
  readonly axis: { readonly top: number; readonly title: string; readonly ticks: readonly PlacedTick[] };
  /** Seconds to pixels. */
  readonly x: Scale;
}

/** A tick in pixels. */
interface PlacedTick {
  readonly at: number;
  readonly label: string;
}

/** One lane of a scene. */
type SceneLane = AnalogLane | LogicLane | StripLane;

interface Placed {
  readonly title: string;
  readonly top: number;
  readonly bottom: number;
}

/** A voltage or current as a line over time. */
export interface AnalogLane extends Placed {
  readonly kind: 'analog';
  readonly show: string;
  /** The unit in words. */
  readonly unit: string;
  readonly path: string;
  readonly ticks: readonly PlacedTick[];
  readonly zero: number;
  readonly limits: readonly { readonly at: number; readonly label: string }[];
  /** The span between trigger and threshold limit, in which a timer keeps its state. */
  readonly shaded?: { readonly top: number; readonly bottom: number };
  /** Values to pixels. */
  readonly y: Scale;
}

/** A net that is high or low, as filled bars. */
export interface LogicLane extends Placed {
  readonly kind: 'logic';
  readonly show: string;
  readonly bars: readonly Bar[];
}

/** A timer's input pulses over the intervals that run and the output they make. */
export interface StripLane extends Placed {
  readonly kind: 'strip';
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

/** A stretch of high output. `label` is its length, where there is room for it. */
export interface Bar {
  readonly x: number;
  readonly width: number;
  readonly label?: string;
  readonly crowded?: true;
}

/** Below this width (pixels) lane names stand above their lanes. */
const NARROW = 560;
const NAME_WIDTH = 128;
const ANALOG_HEIGHT = 132;
/** Height of an analog lane where there are more than two. */
const LOWER_HEIGHT = 96;
const BAR_HEIGHT = 24;
/** Height of a mark (pixels). */
export const MARK_HEIGHT = 22;
const RUN_HEIGHT = 6;
const LANE_GAP = 26;
const ROW_GAP = 9;
/** Room for a lane's name above it on narrow pages. */
const NAME_HEIGHT = 22;
const AXIS_HEIGHT = 44;
/** Narrowest bar (pixels) that can be seen. */
const NARROWEST_BAR = 1.5;
/** Pixels per character of a label inside a bar, roughly; labels that may not fit are left out. */
const CHARACTER = 7.5;

type TimerTrace = TraceResult['timers'][number];

/** Lays a trace out for a width in pixels. */
export function traceScene(trace: TraceResult, width: number): Scene {
  const narrow = width < NARROW;
  const left = narrow ? 2 : NAME_WIDTH;
  const right = Math.max(left + 10, width - 14);
  const x = linearScale(trace.from, trace.until, left, right);
  const nameHeight = narrow ? NAME_HEIGHT : 0;
  const strips = trace.timers.filter((timer) => hasStrip(trace, timer));
  const lanes: SceneLane[] = [];
  const analogHeight = trace.lanes.filter((lane) => lane.role === 'analog').length > 2 ? LOWER_HEIGHT : ANALOG_HEIGHT;
  let top = 12;
  for (const lane of trace.lanes) {
    if (lane.role === 'logic' && strips.some((timer) => standsInStrip(timer, lane.show))) continue;
    const place = { top: top + nameHeight, left, right, height: analogHeight };
    const placed = lane.role === 'analog' ? analogLane(lane, place) : logicLane(trace, lane, place, x);
    lanes.push(placed);
    top = placed.bottom + LANE_GAP;
  }
  for (const timer of strips) {
    const strip = stripLane(trace, timer, top + nameHeight, x);
    lanes.push(strip);
    top = strip.bottom + LANE_GAP;
  }
  const axis = placedAxis(timeAxis(trace.from, trace.until, right - left), x);
  const axisTop = top - LANE_GAP + 10;
  return { width, height: axisTop + AXIS_HEIGHT, left, right, narrow, lanes, axis: { top: axisTop, ...axis }, x };
}

/** A timer whose trigger and threshold share a net starts itself: its pulses are its own, and tell nothing. */
function startsItself(timer: Pick<TimerTrace, 'trigger' | 'threshold'>): boolean {
  return timer.trigger === timer.threshold;
}

function hasStrip(trace: TraceResult, timer: TimerTrace): boolean {
  const shown = (net: string): boolean => trace.lanes.some((lane) => lane.show === net);
  return !startsItself(timer) && (shown(timer.trigger) || shown(timer.output));
}

function standsInStrip(timer: TimerTrace, show: string): boolean {
  return show === timer.trigger || show === timer.output;
}

interface Place {
  readonly top: number;
  readonly left: number;
  readonly right: number;
  readonly height: number;
}

function analogLane(lane: Lane, { top, left, right, height }: Place): AnalogLane {
  const bottom = top + height;
  const limits = lane.limits.map((limit) => limit.value);
  const low = Math.min(0, ...limits, smallest(lane.low));
  const high = Math.max(0, ...limits, -smallest(lane.high.map((value) => -value)));
  const room = high > low ? (high - low) * 0.06 : 1;
  const y = linearScale(low < 0 ? low - room : low, high + room, bottom, top);
  const axis = valueAxis(low, high, lane.unit, height);
  const shaded = shadedSpan(lane, y);
  return {
    kind: 'analog',
    show: lane.show,
    title: laneTitle(lane.show),
    unit: axis.title,
    top,
    bottom,
    y,
    path: envelopePath(lane, y, left, right),
    ticks: axis.ticks.map(({ at, label }) => ({ at: pixel(y(at)), label })),
    zero: pixel(y(0)),
    limits: lane.limits.map((limit) => ({ at: pixel(y(limit.value)), label: limitLabel(limit, lane) })),
    ...(shaded === undefined ? {} : { shaded }),
  };
}

function shadedSpan(lane: Lane, y: Scale): AnalogLane['shaded'] {
  const threshold = lane.limits.find((limit) => limit.name === 'threshold limit');
  const trigger = lane.limits.find((limit) => limit.name === 'trigger limit' && limit.timer === threshold?.timer);
  if (threshold === undefined || trigger === undefined) return undefined;
  const [above, below] = [pixel(y(threshold.value)), pixel(y(trigger.value))];
  return { top: Math.min(above, below), bottom: Math.max(above, below) };
}

function limitLabel(limit: Lane['limits'][number], lane: Lane): string {
  const several = new Set(lane.limits.map((each) => each.timer)).size > 1;
  const value = formatQuantity(limit.value, lane.unit);
  return `${several ? `${limit.timer} ` : ''}${limit.name} ${limit.moves ? `moves, mean ${value}` : value}`;
}

function logicLane(trace: TraceResult, lane: Lane, { top }: Place, x: Scale): LogicLane {
  const bars = highSpans(trace, lane.show).map((span) => bar(span, x));
  return { kind: 'logic', show: lane.show, title: laneTitle(lane.show), top, bottom: top + BAR_HEIGHT, bars };
}

function stripLane(trace: TraceResult, timer: TimerTrace, top: number, x: Scale): StripLane {
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
    marks: fateMarks(timer.pulses, x, trace.until),
    intervals: timer.intervals.map(({ from, until }) => {
      const start = pixel(x(Math.max(from, trace.from)));
      return { x: start, width: pixel(Math.max(NARROWEST_BAR, x(until ?? trace.until) - start)) };
    }),
    links: startLinks(timer, spans, x, markTop + MARK_HEIGHT, barTop),
    bars: spans.map((span) => bar(span, x)),
    counts: timer.counts,
  };
}

/** From each starting pulse to the output pulse it made: the first that rises no earlier than the pulse. */
function startLinks(timer: TimerTrace, spans: readonly HighSpan[], x: Scale, from: number, until: number): string[] {
  const links: string[] = [];
  let next = 0;
  for (const pulse of timer.pulses) {
    if (pulse.fate !== 'started') continue;
    while (next < spans.length && (spans[next]?.from ?? 0) < pulse.time) next += 1;
    const span = spans[next];
    if (span === undefined) break;
    links.push(`M${pixel(x(pulse.time) + 1)} ${from}L${pixel(x(span.from) + 1)} ${until}`);
    next += 1;
  }
  return links;
}

/** The stretches over which a net that is shown, or that a timer drives, is high. */
export function highSpans(trace: TraceResult, net: string): HighSpan[] {
  const lane = trace.lanes.find((each) => each.show === net);
  const edges = trace.edges[net] ?? [];
  if (trace.cut && lane?.level !== undefined) return spansFromColumns(lane, lane.level, trace);
  const start = edges[0];
  const highAtStart =
    lane?.level === undefined || lane.first[0] === undefined
      ? start?.to === 'low'
      : lane.first[0] > lane.level && !(start?.to === 'high' && start.time > trace.from);
  return spansFromEdges(edges, highAtStart, trace);
}

function bar(span: HighSpan, x: Scale): Bar {
  const start = x(span.from);
  const width = Math.max(NARROWEST_BAR, x(span.until) - start);
  const label = formatQuantity(span.until - span.from, 's');
  const labelled = span.complete && width > label.length * CHARACTER + 8;
  return {
    x: pixel(start),
    width: pixel(width),
    ...(labelled ? { label } : {}),
    ...(span.crowded === true ? { crowded: true as const } : {}),
  };
}

function placedAxis({ ticks, title }: Axis, x: Scale): { ticks: PlacedTick[]; title: string } {
  return { title, ticks: ticks.map(({ at, label }) => ({ at: pixel(x(at)), label })) };
}

/** What a lane is called: the net as it is written, a current in words. */
export function laneTitle(show: string): string {
  const current = /^current\((.+)\)$/.exec(show);
  return current === null ? show : `current in ${current[1]}`;
}

function smallest(values: readonly number[]): number {
  return values.reduce((least, value) => Math.min(least, value), Infinity);
}
