import type { Lane, SignalLane } from '../document/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { Plot } from './bars.ts';
import { bandPath, type Columns, envelopePath, levelPath } from './envelope.ts';
import { linearScale, pixel, type Scale } from './scale.ts';
import { type PlacedTick, valueAxis } from './ticks.ts';

/** A voltage or current as a line over time. */
export interface AnalogLane {
  readonly kind: 'analog';
  readonly title: string;
  readonly top: number;
  readonly bottom: number;
  readonly show: string;
  /** The unit in words. */
  readonly unit: string;
  readonly path: string;
  readonly ticks: readonly PlacedTick[];
  readonly zero: number;
  readonly limits: readonly LimitLine[];
  /** The span between trigger and threshold limit, in which a timer keeps its state: path data. */
  readonly shaded?: string;
  /** Values to pixels. */
  readonly y: Scale;
}

/** A comparator limit as a line, level or moving. */
interface LimitLine {
  /** The line's place where its label stands, and the foot of the label: above an upper limit, below a lower one. */
  readonly at: number;
  readonly labelFoot: number;
  readonly label: string;
  readonly path: string;
}

type Limit = Lane['limits'][number];

/** Where a lane lies, in pixels. */
interface Place extends Plot {
  readonly top: number;
  readonly height: number;
  /** Pixels of the start and the end of the columns; beyond the plot where a part of them is looked at. */
  readonly start: number;
  readonly end: number;
}

/** Labels of limits stand on different lines at least this far apart (pixels). */
const LABEL_HEIGHT = 15;
/** From a line to the foot of a label above it and below it (pixels). */
const ABOVE_LINE = -5;
const BELOW_LINE = 14;

/**
 * Lays a lane out.
 *
 * @param whole the same lane over the whole run: the upright axis does not change with what is looked at.
 */
export function analogLane(lane: SignalLane, whole: SignalLane, place: Place): AnalogLane {
  const { top, height } = place;
  const bottom = top + height;
  const { low, high } = laneRange(whole);
  const room = high > low ? (high - low) * 0.06 : 1;
  const y = linearScale(low < 0 ? low - room : low, high + room, bottom, top);
  const axis = valueAxis(low, high, lane.unit, height);
  const shaded = shadedSpan(lane, y, place);
  return {
    kind: 'analog',
    show: lane.show,
    title: laneTitle(lane.show),
    unit: axis.title,
    top,
    bottom,
    y,
    path: envelopePath(lane, y, place.start, place.end, place),
    ticks: axis.ticks.map(({ at, label }) => ({ at: pixel(y(at)), label })),
    zero: pixel(y(0)),
    limits: limitLines(lane, y, place),
    ...(shaded === undefined ? {} : { shaded }),
  };
}

/** What a lane is called: the net as it is written, a current and a contact in words. */
export function laneTitle(show: string): string {
  const [, what, part] = /^\s*(current|contact)\((.+)\)\s*$/.exec(show) ?? [];
  if (what === undefined) return show;
  if (what === 'current') return `current in ${part}`;
  // The name of one of two contacts has to find room beside its lane.
  const [, relay, end] = /^(.+)\.normally(Open|Closed)$/.exec(part ?? '') ?? [];
  return end === undefined ? `contact of ${part}` : `${relay} ${end === 'Open' ? 'make' : 'break'} contact`;
}

/** What the upright axis of a lane has to hold: its values, its limits, and 0. */
export function laneRange(lane: Lane): { low: number; high: number } {
  const courses: Columns[] = lane.limits.map((limit) => courseOf(limit, 1));
  const all = [lane, ...courses];
  return {
    low: Math.min(0, ...all.map(({ low }) => least(low))),
    high: Math.max(0, ...all.map(({ high }) => greatest(high))),
  };
}

/** The course of a limit in columns; one that stands still has the same value in each. */
function courseOf({ course, value }: Limit, count: number): Columns {
  if (course !== undefined) return course;
  const level = Array.from({ length: count }, () => value);
  return { first: level, last: level, low: level, high: level };
}

function limitLines(lane: SignalLane, y: Scale, place: Place): LimitLine[] {
  const count = Math.max(1, lane.first.length);
  const lines = lane.limits.map((limit) => {
    const { course, value } = limit;
    // A capacitor between its limits leaves room on the far side of each.
    const isLower = limit.name !== 'threshold limit';
    const at = pixel(y(course === undefined ? value : atRightEdge(course, isLower, place)));
    const path =
      course === undefined
        ? levelPath(value, count, y, place.start, place.end, place)
        : envelopePath(course, y, place.start, place.end, place);
    return { at, labelFoot: at + (isLower ? BELOW_LINE : ABOVE_LINE), label: limitLabel(limit, lane), path };
  });
  // A label that would run into the one above it steps down.
  let above = -Infinity;
  return [...lines]
    .sort((one, other) => one.labelFoot - other.labelFoot)
    .map((line) => {
      above = Math.max(line.labelFoot, above + LABEL_HEIGHT);
      return { ...line, labelFoot: above };
    });
}

/** The outermost value of a course in the last quarter of what is looked at, beyond which its label is clear of it. */
function atRightEdge({ low, high }: Columns, isLower: boolean, { left, right, start, end }: Place): number {
  const index = (at: number): number =>
    Math.min(high.length - 1, Math.max(0, Math.floor(((at - start) / (end - start)) * high.length)));
  const [begin, finish] = [index(right - (right - left) / 4), index(right) + 1];
  return isLower ? least(low.slice(begin, finish)) : greatest(high.slice(begin, finish));
}

function shadedSpan(lane: Lane, y: Scale, place: Place): string | undefined {
  const threshold = lane.limits.find((limit) => limit.name === 'threshold limit');
  const trigger = lane.limits.find((limit) => limit.name === 'trigger limit' && limit.timer === threshold?.timer);
  if (threshold === undefined || trigger === undefined) return undefined;
  const count = threshold.course === undefined && trigger.course === undefined ? 1 : lane.first.length;
  return bandPath(courseOf(threshold, count), courseOf(trigger, count), y, place.start, place.end, place);
}

function limitLabel(limit: Limit, lane: SignalLane): string {
  const several = new Set(lane.limits.map((each) => each.timer)).size > 1;
  const text = (value: number): string => formatQuantity(value, lane.unit);
  const { course } = limit;
  const value =
    course === undefined ? text(limit.value) : `${text(least(course.low))} to ${text(greatest(course.high))}`;
  return `${several ? `${limit.timer} ` : ''}${limit.name} ${value}`;
}

// Not Math.min(...list): a lane may have more columns than a call takes arguments.
function least(values: readonly number[]): number {
  let lowest = Infinity;
  for (const value of values) lowest = Math.min(lowest, value);
  return lowest;
}

function greatest(values: readonly number[]): number {
  let highest = -Infinity;
  for (const value of values) highest = Math.max(highest, value);
  return highest;
}
