import type { CapturedEdge, CapturedNet, CaptureResult } from '../document/index.ts';
import { linearScale, pixel, type Scale } from './scale.ts';
import { bandOf, samplePath } from './sample-line.ts';
import { type PlacedTick, timeAxis, valueAxis } from './ticks.ts';

/** A lane of a capture: a net with what was measured and what was predicted, or what is left between the two. */
export interface CaptureLane {
  readonly kind: 'net' | 'left';
  readonly title: string;
  /** The unit in words. */
  readonly unit: string;
  readonly top: number;
  readonly bottom: number;
  readonly ticks: readonly PlacedTick[];
  readonly zero: number;
  /** What was measured, or, in a lane of what is left, predicted less measured. */
  readonly measured: string;
  /** From the lowest to the highest sample between those that are kept. */
  readonly band: string;
  readonly predicted: string;
  /** The noise of the measurement about zero, in a lane of what is left. */
  readonly noise: readonly [top: number, bottom: number] | undefined;
  readonly y: Scale;
}

/** One edge: how much earlier or later it comes than predicted. */
export interface EdgeStem {
  readonly x: number;
  readonly y: number;
  readonly to: 'high' | 'low';
  readonly net: string;
}

/** Edges over time: predicted less measured. */
export interface EdgeLane {
  readonly top: number;
  readonly bottom: number;
  readonly zero: number;
  readonly ticks: readonly PlacedTick[];
  readonly unit: string;
  readonly stems: readonly EdgeStem[];
}

/** A capture over its prediction, laid out in pixels. */
export interface CaptureScene {
  readonly width: number;
  readonly height: number;
  readonly narrow: boolean;
  readonly left: number;
  readonly right: number;
  readonly x: Scale;
  readonly lanes: readonly CaptureLane[];
  readonly edges: EdgeLane | undefined;
  readonly axis: { readonly top: number; readonly title: string; readonly ticks: readonly PlacedTick[] };
  /** The edge by which the two are laid over each other, in pixels; undefined where they are not laid by an edge. */
  readonly aligned: number | undefined;
  /** Stretches without samples, in pixels. */
  readonly gaps: readonly { readonly x: number; readonly width: number }[];
}

const NARROW = 560;
const NAMES = 128;
const NARROW_TICKS = 44;
const NAME_LINE = 22;
const COURSE = 132;
const LOGIC = 56;
const LEFT = 54;
const EDGES = 60;
const GAP = 20;
const AXIS = 44;
/** What is left is not blown up beyond so many times the noise. */
const LEAST_NOISES = 4;
/** A voltage that changes by this share of its range from one sample to the next but one jumps. */
const JUMP = 0.4;
/** Edges that fit to this are not blown up further (s). */
const LEAST_SPAN = 1e-9;

/** Lays a capture out for a width in pixels; undefined where there is no sample. */
export function captureScene(result: CaptureResult, width: number): CaptureScene | undefined {
  const { times, nets, edges } = result;
  const [begin, end] = [times[0], times.at(-1)];
  if (begin === undefined || end === undefined || !(end > begin)) return undefined;
  const narrow = width < NARROW;
  const left = narrow ? NARROW_TICKS : NAMES;
  const right = Math.max(left + 10, width - 14);
  const x = linearScale(begin, end, left, right);
  const offset = result.offset ?? 0;
  const gaps = result.gaps.first.map(({ from, until }) => ({ from: from + offset, until: until + offset }));
  const nameLine = narrow ? NAME_LINE : 0;
  const lanes: CaptureLane[] = [];
  let top = 12;
  for (const net of nets) {
    const lane = netLane(net, times, x, top + nameLine, gaps);
    lanes.push(lane);
    top = lane.bottom + GAP;
    const rest =
      net.role === 'course' ? leftLane(net, times, x, top + nameLine, gaps, jumpSpans(net, times, edges)) : undefined;
    if (rest === undefined) continue;
    lanes.push(rest);
    top = rest.bottom + GAP;
  }
  const edgeLane = edgesOf(edges, x, top + nameLine);
  if (edgeLane !== undefined) top = edgeLane.bottom + GAP;
  const { title, ticks } = timeAxis(begin, end, right - left);
  const axis = { top: top - GAP + 10, title, ticks: ticks.map(({ at, label }) => ({ at: pixel(x(at)), label })) };
  return {
    width,
    height: axis.top + AXIS,
    narrow,
    left,
    right,
    x,
    lanes,
    edges: edgeLane,
    axis,
    aligned: alignedAt(edges, x),
    gaps: gaps.map(({ from, until }) => ({ x: pixel(x(from)), width: pixel(x(until) - x(from)) })),
  };
}

/** The first edge that lies exactly where it is predicted: that is how it was laid. */
function alignedAt(edges: readonly CapturedEdge[], x: Scale): number | undefined {
  const edge = edges.find(({ residual }) => residual !== null && Math.abs(residual) < LEAST_SPAN);
  return edge === undefined ? undefined : pixel(x(edge.measured));
}

type Gaps = readonly { readonly from: number; readonly until: number }[];

function netLane(net: CapturedNet, times: readonly number[], x: Scale, top: number, gaps: Gaps): CaptureLane {
  const { measured, low, high, predicted, role } = net;
  const known = predicted.filter((value) => value !== null);
  const bottom = top + (role === 'course' ? COURSE : LOGIC);
  const y = reach([least(low), least(known), 0], [greatest(high), greatest(known), 0], top, bottom);
  return {
    kind: 'net',
    title: net.net,
    ...y,
    top,
    bottom,
    measured: samplePath(times, measured, x, y.y, gaps),
    band: bandOf(times, low, high, x, y.y),
    predicted: samplePath(times, predicted, x, y.y),
    noise: undefined,
  };
}

/**
 * From every measured jump of a net to the predicted one, and a sample beyond: what lies between says nothing but when
 * they come, which their edges say.
 */
function jumpSpans({ net, measured }: CapturedNet, times: readonly number[], edges: readonly CapturedEdge[]): Gaps {
  const high = greatest(measured) - least(measured);
  return edges.flatMap((edge) => {
    if (edge.net !== net || edge.predicted === null) return [];
    const at = nearestSample(times, edge.measured);
    const [before, after] = [Math.max(0, at - 1), Math.min(times.length - 1, at + 1)];
    if (Math.abs((measured[after] ?? 0) - (measured[before] ?? 0)) < JUMP * high) return [];
    const step = ((times[after] ?? 0) - (times[before] ?? 0)) / 2;
    return [
      { from: Math.min(edge.measured, edge.predicted) - step, until: Math.max(edge.measured, edge.predicted) + step },
    ];
  });
}

/** What is left between prediction and measurement; undefined where nothing is predicted. */
function leftLane(
  { net, measured, predicted, noise }: CapturedNet,
  times: readonly number[],
  x: Scale,
  top: number,
  gaps: Gaps,
  jumps: Gaps,
): CaptureLane | undefined {
  const isApart = (time: number): boolean => jumps.some(({ from, until }) => time >= from && time <= until);
  const rest = predicted.map((value, index) =>
    value === null || isApart(times[index] ?? 0) ? null : value - (measured[index] ?? value),
  );
  const known = rest.filter((value) => value !== null);
  if (known.length === 0) return undefined;
  const bottom = top + LEFT;
  const y = reach([least(known), -LEAST_NOISES * noise], [greatest(known), LEAST_NOISES * noise], top, bottom);
  return {
    kind: 'left',
    title: `${net} apart`,
    ...y,
    top,
    bottom,
    measured: samplePath(times, rest, x, y.y, gaps),
    band: '',
    predicted: '',
    noise: [pixel(y.y(noise)), pixel(y.y(-noise))],
  };
}

function reach(
  lows: readonly number[],
  highs: readonly number[],
  top: number,
  bottom: number,
): Pick<CaptureLane, 'y' | 'ticks' | 'unit' | 'zero'> {
  const [low, high] = [least(lows), greatest(highs)];
  const room = high > low ? (high - low) * 0.06 : 1;
  const y = linearScale(low < 0 ? low - room : low, high + room, bottom, top);
  const { ticks, title } = valueAxis(low, high, 'V', bottom - top);
  return { y, unit: title, zero: pixel(y(0)), ticks: ticks.map(({ at, label }) => ({ at: pixel(y(at)), label })) };
}

function edgesOf(edges: readonly CapturedEdge[], x: Scale, top: number): EdgeLane | undefined {
  const known = edges.flatMap(({ net, to, measured, residual }) =>
    residual === null ? [] : [{ net, to, measured, residual }],
  );
  if (known.length === 0) return undefined;
  const bottom = top + EDGES;
  const residuals = known.map(({ residual }) => residual);
  const [low, high] = [least([...residuals, -LEAST_SPAN]), greatest([...residuals, LEAST_SPAN])];
  const y = linearScale(low, high, bottom - 6, top + 6);
  const { ticks, title } = valueAxis(low, high, 's', EDGES);
  return {
    top,
    bottom,
    zero: pixel(y(0)),
    unit: title,
    ticks: ticks.map(({ at, label }) => ({ at: pixel(y(at)), label })),
    stems: known.map(({ net, to, measured, residual }) => ({ net, to, x: pixel(x(measured)), y: pixel(y(residual)) })),
  };
}

// Not Math.min(...list): a capture may have more samples than a call takes arguments.
function least(values: readonly number[]): number {
  return values.reduce((lowest, value) => Math.min(lowest, value), Infinity);
}

function greatest(values: readonly number[]): number {
  return values.reduce((highest, value) => Math.max(highest, value), -Infinity);
}

/** Position of the sample nearest to an instant. @param times ascending (s). */
export function nearestSample(times: readonly number[], time: number): number {
  let [from, until] = [0, times.length - 1];
  while (until - from > 1) {
    const middle = (from + until) >> 1;
    if ((times[middle] ?? 0) <= time) from = middle;
    else until = middle;
  }
  return Math.abs((times[from] ?? 0) - time) <= Math.abs((times[until] ?? 0) - time) ? from : Math.max(0, until);
}
