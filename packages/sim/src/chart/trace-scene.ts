import type { TraceResult } from '../document/index.ts';
import { type AnalogLane, analogLane, laneRange, laneTitle } from './analog-lane.ts';
import { type Bar, BAR_HEIGHT, barsOf, type Plot } from './bars.ts';
import { closedSpans, highSpans } from './high-spans.ts';
import { linearScale, pixel, type Scale } from './scale.ts';
import { hasStrip, standsInStrip, type StripLane, stripLane } from './strip-lane.ts';
import { type PlacedTick, timeAxis, valueAxis } from './ticks.ts';
import type { Window } from './window.ts';

/** A trace laid out in pixels: everything but the drawing itself. */
export interface Scene {
  readonly width: number;
  readonly height: number;
  /** Pixels of the view's start and end. */
  readonly left: number;
  readonly right: number;
  /** Whether lane names stand above their lanes, for want of room beside them. */
  readonly narrow: boolean;
  readonly lanes: readonly SceneLane[];
  readonly axis: { readonly top: number; readonly title: string; readonly ticks: readonly PlacedTick[] };
  /** Seconds to pixels. */
  readonly x: Scale;
}

/** One lane of a scene. */
type SceneLane = AnalogLane | LogicLane | ContactLane | StripLane;

/** A net that is high or low, as filled bars. */
export interface LogicLane {
  readonly kind: 'logic';
  readonly title: string;
  readonly top: number;
  readonly bottom: number;
  readonly show: string;
  readonly bars: readonly Bar[];
}

/** A contact that is open or closed, as a band that is filled where it conducts. */
export interface ContactLane extends Omit<LogicLane, 'kind'> {
  readonly kind: 'contact';
}

/** Below this width (pixels) lane names stand above their lanes. */
const NARROW = 560;
const NAME_WIDTH = 128;
const ANALOG_HEIGHT = 132;
/** Height of an analog lane where there are more than two. */
const LOWER_HEIGHT = 96;
const LANE_GAP = 26;
/** Room for a lane's name above it on narrow pages. */
const NAME_HEIGHT = 22;
const AXIS_HEIGHT = 44;
/** Room of one character of a tick label beside a narrow lane (pixels). */
const TICK_CHARACTER = 7;

/**
 * Lays a trace out for a width in pixels.
 *
 * @param trace what is drawn: the whole run, or a part of it in more detail.
 * @param view what is looked at (s).
 * @param whole the whole run: which lanes there are and how far their axes reach does not change with the view.
 */
export function traceScene(trace: TraceResult, width: number, view: Window = trace, whole = trace): Scene {
  const narrow = width < NARROW;
  const height = whole.lanes.filter((lane) => lane.role === 'analog').length > 2 ? LOWER_HEIGHT : ANALOG_HEIGHT;
  const plot = { left: narrow ? tickRoom(whole, height) : NAME_WIDTH, right: width - 14 };
  plot.right = Math.max(plot.left + 10, plot.right);
  const x = linearScale(view.from, view.until, plot.left, plot.right);
  const nameHeight = narrow ? NAME_HEIGHT : 0;
  const strips = whole.timers.filter((timer) => hasStrip(whole, timer));
  // Edges and pulses of the whole run are exact as they are, and know how long a pulse is that is cut off by the view.
  const events = whole.cut ? trace : whole;
  const lanes: SceneLane[] = [];
  let top = 12;
  for (const each of whole.lanes) {
    if (each.role === 'logic' && strips.some((timer) => standsInStrip(timer, each.show))) continue;
    const lane = trace.lanes.find(({ show }) => show === each.show);
    const place = { ...plot, top: top + nameHeight, height, start: x(trace.from), end: x(trace.until) };
    const placed =
      each.role === 'analog'
        ? analogLane(lane === undefined || lane.role === 'contact' ? each : lane, each, place)
        : each.role === 'contact'
          ? contactLane(events, each.show, place.top, x, plot)
          : logicLane(events, each.show, place.top, x, plot);
    lanes.push(placed);
    top = placed.bottom + LANE_GAP;
  }
  for (const { timer: name } of strips) {
    const timer = events.timers.find((each) => each.timer === name);
    if (timer === undefined) continue;
    const strip = stripLane(events, timer, top + nameHeight, x, plot);
    lanes.push(strip);
    top = strip.bottom + LANE_GAP;
  }
  const { title, ticks } = timeAxis(view.from, view.until, plot.right - plot.left);
  const placedTicks = ticks.map(({ at, label }) => ({ at: pixel(x(at)), label }));
  const axis = { top: top - LANE_GAP + 10, title, ticks: placedTicks };
  return { width, height: axis.top + AXIS_HEIGHT, ...plot, narrow, lanes, axis, x };
}

/** Room that the labels of the upright axes need beside narrow lanes. */
function tickRoom(trace: TraceResult, height: number): number {
  const labels = trace.lanes.flatMap((lane) => {
    if (lane.role !== 'analog') return [];
    const { low, high } = laneRange(lane);
    return valueAxis(low, high, lane.unit, height).ticks;
  });
  return labels.reduce((most, { label }) => Math.max(most, label.length * TICK_CHARACTER + 8), 2);
}

function contactLane(trace: TraceResult, show: string, top: number, x: Scale, plot: Plot): ContactLane {
  const bars = barsOf(closedSpans(trace, show), x, plot);
  return { kind: 'contact', show, title: laneTitle(show), top, bottom: top + BAR_HEIGHT, bars };
}

function logicLane(trace: TraceResult, show: string, top: number, x: Scale, plot: Plot): LogicLane {
  const bars = barsOf(highSpans(trace, show), x, plot);
  return { kind: 'logic', show, title: laneTitle(show), top, bottom: top + BAR_HEIGHT, bars };
}
