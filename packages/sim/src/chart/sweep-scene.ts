import type { SweepResult } from '../document/index.ts';
import { type QuantityAxis, quantityAxis, valueWords } from './quantity-axis.ts';
import { pixel, type Scale } from './scale.ts';
import { MARK_HEIGHT } from './strip-lane.ts';
import { type RegionStrip, regionStrips } from './region-strips.ts';
import { ruleLine, spaced, type SweepRuleLine } from './sweep-rules.ts';

/** One reading as a line of a sweep. */
interface SweepLine {
  readonly name: string;
  /** Position among all readings: decides ink, dash and shape. */
  readonly index: number;
  readonly path: string;
  /** What is drawn lightly: from a jump to the next point, where only the two ends are known and they differ. */
  readonly bridges: string;
  /** Points that were computed, where there is room to tell them apart. */
  readonly dots: readonly { readonly x: number; readonly y: number }[];
}

/** Readings of one unit over each other. */
export interface SweepPanel {
  readonly top: number;
  readonly bottom: number;
  readonly axis: QuantityAxis;
  readonly lines: readonly SweepLine[];
  readonly rules: readonly SweepRuleLine[];
  readonly unitWords: string;
}

/** A place of the cursor: a point, or one side of a mark. */
export interface SweepStop {
  readonly x: number;
  readonly values: readonly (number | null)[];
  readonly pattern: string | null;
  /** The mark it stands at. */
  readonly mark: number | undefined;
  /** Position among the points; undefined for marks. */
  readonly point: number | undefined;
}

/** A sweep laid out in pixels. */
export interface SweepScene {
  readonly width: number;
  readonly height: number;
  readonly narrow: boolean;
  readonly left: number;
  readonly right: number;
  readonly x: QuantityAxis;
  /** Where the axis of the varied value is. */
  readonly foot: number;
  readonly strips: readonly RegionStrip[];
  readonly panels: readonly SweepPanel[];
  /** Where the computed points are along the axis. */
  readonly rug: readonly number[];
  /** Places of jumps; those that fall together are one. */
  readonly jumps: readonly number[];
  /** Where the board stands now. */
  readonly now: number | undefined;
  /** All places that the cursor can stand at, ascending. */
  readonly stops: readonly SweepStop[];
}

const NARROW = 560;
const PANEL = 116;
const STRIP = 22;
/** A row of pulses is as high as their marks, with air. */
const PULSES = MARK_HEIGHT + 8;
const STRIP_GAP = 8;
const NAME_LINE = 20;
const LINE = 24;
/** Points closer than this are not drawn one by one (pixels). */
const DOT_ROOM = 7;
/** A reading that hardly changes is not blown up: the panel shows at least this share of its value. */
const LEAST_SPAN = 0.02;
const AIR = 0.08;
/** The same where the text of a rule needs room above or below its line. */
const RULED_AIR = 0.2;
/** A jump and the point beside it that differ by more than this are joined by a bridge only (pixels). */
const BRIDGE = 4;

/** Lays out a sweep for a width in pixels. */
export function sweepScene(result: SweepResult, width: number): SweepScene {
  const narrow = width < NARROW;
  const left = narrow ? 40 : 120;
  const right = Math.floor(width - (narrow ? 4 : 8));
  const x = quantityAxis({
    what: valueWords(result.vary.value, result.vary.unit),
    unit: result.vary.unit,
    from: result.x[0] ?? 0,
    until: result.x.at(-1) ?? 1,
    isLogarithmic: result.vary.scale === 'logarithmic',
    start: left,
    end: right,
    points: result.x,
  });
  let top = narrow ? NAME_LINE : 4;
  const strips = regionStrips(result, x.scale, [left, right]).map((strip) => {
    const high = strip.kind === 'fates' ? PULSES : STRIP;
    const placed = { ...strip, top, bottom: top + high };
    top += high + STRIP_GAP + (narrow ? NAME_LINE : 0);
    return placed;
  });
  const stops = sweepStops(result);
  const panels = unitsOf(result).map((unit) => {
    top += narrow ? 0 : 10;
    const bottom = top + PANEL;
    const panel = panelOf(result, unit, x.scale, stops, [top, bottom]);
    top = bottom + 14 + (narrow ? NAME_LINE : 0);
    return panel;
  });
  const foot = top - 8 - (narrow ? NAME_LINE : 0);
  const { now } = result.vary;
  const isInside = now !== null && now >= (result.x[0] ?? 0) && now <= (result.x.at(-1) ?? 0);
  return {
    width,
    height: foot + 46,
    narrow,
    left,
    right,
    x,
    foot,
    strips,
    panels,
    rug: result.x.map((at) => pixel(x.scale(at))),
    jumps: [...new Set(result.marks.map(({ below }) => Math.round(x.scale(below) * 2) / 2))],
    now: isInside ? pixel(x.scale(now)) : undefined,
    stops,
  };
}

/** Position of the stop nearest to a place; marks win within their reach. @param reach pixels. */
export function nearestStop({ stops, x }: SweepScene, at: number, reach: number): number {
  let best = 0;
  let least = Infinity;
  for (const [index, stop] of stops.entries()) {
    const distance = Math.abs(x.scale(stop.x) - at);
    const felt = stop.mark === undefined ? distance : distance <= reach ? distance / 4 : Infinity;
    if (felt < least) [best, least] = [index, felt];
  }
  return best;
}

/** The points of a sweep and both sides of each of its marks, ascending. */
function sweepStops({ x, series, fates, marks }: SweepResult): SweepStop[] {
  const points = x.map((at, point) => ({
    x: at,
    values: series.map(({ values }) => values[point] ?? null),
    pattern: fates?.patterns[point] ?? null,
    mark: undefined,
    point,
  }));
  const sides = marks.flatMap(({ below, above, valuesBelow, valuesAbove }, mark) => [
    { x: below, values: valuesBelow, pattern: null, mark, point: undefined },
    { x: above, values: valuesAbove, pattern: null, mark, point: undefined },
  ]);
  return [...points, ...sides].sort((a, b) => a.x - b.x);
}

function unitsOf({ series }: SweepResult): (string | null)[] {
  return [...new Set(series.map(({ unit }) => unit))];
}

function panelOf(
  { series, against, x: places }: SweepResult,
  unit: string | null,
  x: Scale,
  stops: readonly SweepStop[],
  [top, bottom]: readonly [number, number],
): SweepPanel {
  const own = series.flatMap((each, index) => (each.unit === unit ? [{ ...each, index }] : []));
  const rules = against.filter(({ reading }) => own.some(({ name }) => name === reading));
  const seen = [
    ...stops.flatMap(({ values }) => own.map(({ index }) => values[index] ?? null)),
    ...rules.flatMap(({ values }) => values),
  ].filter((value) => value !== null);
  const [from, until, isLogarithmic] = reachOf(seen, unit === null, rules.length > 0 ? RULED_AIR : AIR);
  const axis = quantityAxis({
    what: '',
    unit: own[0]?.unit ?? null,
    from,
    until,
    isLogarithmic,
    start: bottom,
    end: top,
    spacing: LINE,
  });
  return {
    top,
    bottom,
    axis,
    unitWords: axis.title.replace(/^ in /, ''),
    rules: spaced(
      rules.map(({ reading, text, values }) => {
        const of = own.find(({ name }) => name === reading)?.values ?? [];
        return ruleLine(text, places, values, of, x, axis.scale);
      }),
    ),
    lines: own.map(({ name, index }) => ({
      name,
      index,
      ...linePath(stops, index, x, axis.scale),
      dots: dotsOf(stops, index, x, axis.scale),
    })),
  };
}

/** From where to where a panel reaches, and whether by ratio. */
function reachOf(seen: readonly number[], isCount: boolean, air: number): [number, number, boolean] {
  if (seen.length === 0) return [0, 1, false];
  const [least, most] = [Math.min(...seen), Math.max(...seen)];
  if (least > 0 && most / least > 100) return [least / 1.2, most * 1.2, true];
  if (isCount) return [Math.min(0, Math.floor(least)), Math.ceil(most + 0.4), false];
  const span = Math.max(most - least, LEAST_SPAN * Math.max(Math.abs(most), Math.abs(least)), Number.MIN_VALUE);
  const middle = (most + least) / 2;
  return [middle - span * (0.5 + air), middle + span * (0.5 + air), false];
}

/**
 * A line through all stops, broken where there is no value and between the two sides of a mark; apart from it the bridges
 * from a mark to a point that differs from it.
 */
function linePath(stops: readonly SweepStop[], index: number, x: Scale, y: Scale): { path: string; bridges: string } {
  let path = '';
  let bridges = '';
  let before: SweepStop | undefined;
  for (const stop of stops) {
    const [from, to] = [before?.values[index] ?? null, stop.values[index] ?? null];
    const here = to === null ? '' : `${pixel(x(stop.x))} ${pixel(y(to))}`;
    if (before === undefined || from === null || to === null) path += to === null ? '' : `M${here}`;
    else if (before.mark !== undefined && before.mark === stop.mark && from !== to) path += `M${here}`;
    else if (before.mark !== stop.mark && Math.abs(y(from) - y(to)) > BRIDGE) {
      bridges += `M${pixel(x(before.x))} ${pixel(y(from))}L${here}`;
      path += `M${here}`;
    } else path += `L${here}`;
    before = stop;
  }
  return { path, bridges };
}

function dotsOf(stops: readonly SweepStop[], index: number, x: Scale, y: Scale): { x: number; y: number }[] {
  const points = stops.filter(({ point }) => point !== undefined);
  const room = points.every((stop, each) => each === 0 || x(stop.x) - x(points[each - 1]?.x ?? 0) >= DOT_ROOM);
  if (!room) return [];
  return points.flatMap((stop) => {
    const value = stop.values[index] ?? null;
    return value === null ? [] : [{ x: pixel(x(stop.x)), y: pixel(y(value)) }];
  });
}
