import type { MapResult, VariedValue } from '../document/index.ts';
import { pointText } from './point-text.ts';
import { type Classes, mapClasses } from './map-classes.ts';
import { mapRaster, type RasterLine } from './map-raster.ts';
import { type QuantityAxis, quantityAxis, valueWords } from './quantity-axis.ts';
import { innerPlaces, type RasterShape, rasterShapes } from './raster-shapes.ts';
import { pixel } from './scale.ts';

/** A text somewhere on a map. */
interface MapLabel {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  /** Class of what it is written on; undefined for a label of a line. */
  readonly on: number | undefined;
}

/** A map laid out in pixels. */
export interface MapScene {
  readonly width: number;
  readonly height: number;
  readonly narrow: boolean;
  /** The plot. */
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly x: QuantityAxis;
  readonly y: QuantityAxis;
  readonly classes: Classes;
  /** Shapes within the plot, measured from its upper left corner. */
  readonly shapes: readonly RasterShape[];
  /** Lines on the page. */
  readonly lines: readonly string[];
  readonly labels: readonly MapLabel[];
}

/** Below this width axes and map stand close together (pixels). */
const NARROW = 560;
const TOP = 30;
const FOOT = 46;
/** Height of the plot to its width, and at the most. */
const SHAPE = 0.58;
const NARROW_SHAPE = 0.95;
const HIGHEST = 460;
/** Least room around a label in a region, and to a label of a line from the ends of the line (pixels). */
const LABEL_ROOM = 9;
/** Distance of ticks up the side, one line of text. */
const LINE = 26;

/** Lays out a map for a width in pixels. */
export function mapScene(result: MapResult, width: number): MapScene {
  const narrow = width < NARROW;
  const left = narrow ? 40 : 56;
  const right = Math.floor(width - (narrow ? 2 : 8));
  const plotWidth = right - left;
  const plotHeight = Math.round(Math.min(HIGHEST, plotWidth * (narrow ? NARROW_SHAPE : SHAPE)));
  const bottom = TOP + plotHeight;
  const x = axisOf(result.vary.x, result.x, left, right);
  const y = axisOf(result.vary.y, result.y, bottom, TOP, LINE);
  const classes = mapClasses(result);
  const rows = result.y.length - 1;
  const place = ([atX, atY]: readonly [number, number]): readonly [number, number] => [x.scale(atX), y.scale(atY)];
  const lines: RasterLine[] = result.contours.flatMap(({ between, lines: all }) =>
    all.map((line) => ({
      points: line.map((at) => place(at)).map(([px, py]) => [px - left, py - TOP] as const),
      between: between === null ? undefined : ([classes.named(between[0]), classes.named(between[1])] as const),
    })),
  );
  const raster = mapRaster({
    width: plotWidth,
    height: plotHeight,
    columns: result.x.map((at) => x.scale(at) - left),
    rows: result.y.map((at) => y.scale(at) - TOP).toReversed(),
    classAt: (column, row) => classes.at(column, rows - row),
    // Levels are drawn over a scale of colours; only regions end where their boundaries are.
    lines: classes.isNamed ? lines : [],
  });
  const inner = classes.isNamed ? innerPlaces(raster, plotWidth) : [];
  return {
    width,
    height: bottom + FOOT,
    narrow,
    left,
    top: TOP,
    right,
    bottom,
    x,
    y,
    classes,
    shapes: rasterShapes(raster, plotWidth),
    lines: lines.map(({ points }) =>
      points.map(([px, py], index) => `${index === 0 ? 'M' : 'L'}${pixel(px + left)} ${pixel(py + TOP)}`).join(''),
    ),
    labels: [
      ...inner
        .filter(({ room }) => room > LABEL_ROOM)
        .map((at) => ({ x: at.x + left, y: at.y + TOP, text: classes.nameOf(at.value), on: at.value }))
        .filter(({ text }) => text !== ''),
      ...lineLabels(result, place),
    ],
  };
}

/** The point of the grid nearest to a place on the page, as positions on the axes. */
export function nearestPoint(
  result: MapResult,
  scene: MapScene,
  x: number,
  y: number,
): { readonly column: number; readonly row: number } {
  return { column: nearest(result.x.map(scene.x.scale), x), row: nearest(result.y.map(scene.y.scale), y) };
}

/** The position of the place nearest to another. */
function nearest(places: readonly number[], at: number): number {
  let best = 0;
  for (let index = 1; index < places.length; index++) {
    if (Math.abs(places[index]! - at) < Math.abs(places[best]! - at)) best = index;
  }
  return best;
}

function axisOf(
  vary: VariedValue,
  points: readonly number[],
  start: number,
  end: number,
  spacing?: number,
): QuantityAxis {
  return quantityAxis({
    what: valueWords(vary.value, vary.unit),
    unit: vary.unit,
    from: points[0] ?? 0,
    until: points.at(-1) ?? 1,
    isLogarithmic: vary.scale === 'logarithmic',
    start,
    end,
    points,
    ...(spacing === undefined ? {} : { spacing }),
  });
}

/** The level of each line in the middle of the longest one that has it. */
function lineLabels(
  { contours, unit }: MapResult,
  place: (at: readonly [number, number]) => readonly [number, number],
): MapLabel[] {
  return contours.flatMap(({ level, lines }) => {
    const longest = [...lines].sort((a, b) => b.length - a.length)[0];
    const middle = longest?.[Math.floor(longest.length / 2)];
    if (level === null || middle === undefined) return [];
    const [x, y] = place(middle);
    return [{ x, y, text: pointText(level, unit), on: undefined }];
  });
}

/** Where the board stands now (pixels), if that is on the map. */
export function nowPlace({ vary }: MapResult, scene: MapScene): readonly [number, number] | undefined {
  if (vary.x.now === null || vary.y.now === null) return undefined;
  const [x, y] = [scene.x.scale(vary.x.now), scene.y.scale(vary.y.now)];
  const isInside = x >= scene.left - 1 && x <= scene.right + 1 && y >= scene.top - 1 && y <= scene.bottom + 1;
  return isInside ? [x, y] : undefined;
}
