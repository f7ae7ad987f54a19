/** A boundary between two grid points, in pixels. */
export interface RasterLine {
  readonly points: readonly (readonly [x: number, y: number])[];
  /** The classes on its two sides where they are known. */
  readonly between: readonly [number, number] | undefined;
}

/** What the raster of a map is made of, all in pixels of the plot, y downwards. */
export interface RasterPlan {
  readonly width: number;
  readonly height: number;
  /** Columns from left to right, rows from top to bottom. */
  readonly columns: readonly number[];
  readonly rows: readonly number[];
  /** The class of a point of the grid by its column and row; NOTHING where nothing is known. */
  readonly classAt: (column: number, row: number) => number;
  readonly lines: readonly RasterLine[];
}

/** Class of places of which nothing is known. */
export const NOTHING = -1;

type Point = readonly [x: number, y: number];
interface Stretch {
  readonly a: Point;
  readonly b: Point;
  readonly between: readonly [number, number] | undefined;
}

/**
 * The class of every pixel, row after row: that of the nearest point of the grid that can be seen from it without
 * looking across a boundary. Where no point can be seen, inside a strip between two boundaries that the grid steps over,
 * it is what the nearest boundary has on that side.
 */
export function mapRaster(plan: RasterPlan): Int16Array {
  const { width, height, columns, rows, classAt } = plan;
  const raster = new Int16Array(width * height).fill(NOTHING);
  const cells = stretchesByCell(plan);
  const across = Array.from({ length: width }, (_, x) => cellOf(columns, x + 0.5));
  for (let y = 0; y < height; y++) {
    const row = cellOf(rows, y + 0.5);
    const nearRow = nearer(rows, row, y + 0.5);
    for (let x = 0; x < width; x++) {
      const column = across[x]!;
      const near = cells.get(row * columns.length + column);
      raster[y * width + x] =
        near === undefined
          ? classAt(nearer(columns, column, x + 0.5), nearRow)
          : seenClass(plan, [x + 0.5, y + 0.5], nearCorners(plan, column, row, [x + 0.5, y + 0.5]), near);
    }
  }
  return raster;
}

/** Of a place and the next, the one that is nearer. */
function nearer(places: readonly number[], index: number, at: number): number {
  const next = places[index + 1];
  return next !== undefined && next - at < at - places[index]! ? index + 1 : index;
}

interface Corner {
  readonly column: number;
  readonly row: number;
  readonly at: Point;
}

/** The four points of the grid around a pixel, nearest first. */
function nearCorners({ columns, rows }: RasterPlan, column: number, row: number, [x, y]: Point): Corner[] {
  const corners: Corner[] = [];
  for (const c of [column, column + 1]) {
    for (const r of [row, row + 1]) {
      const at: Point = [columns[c] ?? NaN, rows[r] ?? NaN];
      if (!Number.isNaN(at[0] + at[1])) corners.push({ column: c, row: r, at });
    }
  }
  const distance = ({ at }: Corner): number => (at[0] - x) ** 2 + (at[1] - y) ** 2;
  return corners.sort((a, b) => distance(a) - distance(b));
}

function seenClass(
  { classAt }: RasterPlan,
  pixel: Point,
  corners: readonly Corner[],
  near: readonly Stretch[],
): number {
  const seen = visible(pixel, corners, near);
  if (seen !== undefined) return classAt(seen.column, seen.row);
  const [nearest] = [...near].sort((a, b) => distanceTo(pixel, a) - distanceTo(pixel, b));
  const between = nearest?.between;
  const [corner] = corners;
  if (nearest === undefined || between === undefined) {
    return corner === undefined ? NOTHING : classAt(corner.column, corner.row);
  }
  const beyond = visible(beyondOf(pixel, nearest), corners, near);
  const other = beyond === undefined ? undefined : classAt(beyond.column, beyond.row);
  if (other === between[0]) return between[1];
  if (other === between[1]) return between[0];
  // Near the end of a boundary the other side may be a third region: what has no number lies between those that have.
  return Math.max(...between);
}

function visible(from: Point, corners: readonly Corner[], near: readonly Stretch[]): Corner | undefined {
  return corners.find(({ at }) => near.every((stretch) => !crosses(from, at, stretch)));
}

/** The place just on the other side of a stretch. */
function beyondOf(pixel: Point, stretch: Stretch): Point {
  const foot = footOn(pixel, stretch);
  const length = Math.hypot(foot[0] - pixel[0], foot[1] - pixel[1]) || 1;
  return [foot[0] + (foot[0] - pixel[0]) / length / 4, foot[1] + (foot[1] - pixel[1]) / length / 4];
}

function footOn([x, y]: Point, { a, b }: Stretch): Point {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / square));
  return [a[0] + share * dx, a[1] + share * dy];
}

function distanceTo(pixel: Point, stretch: Stretch): number {
  const foot = footOn(pixel, stretch);
  return Math.hypot(foot[0] - pixel[0], foot[1] - pixel[1]);
}

/** Whether the way from one place to another crosses a stretch. */
function crosses(from: Point, to: Point, { a, b }: Stretch): boolean {
  return side(a, b, from) !== side(a, b, to) && side(from, to, a) !== side(from, to, b);
}

function side(a: Point, b: Point, [x, y]: Point): boolean {
  return (b[0] - a[0]) * (y - a[1]) > (b[1] - a[1]) * (x - a[0]);
}

/** Stretches by the cell of the grid that they run through: each has both its ends on the rim of one. */
function stretchesByCell({ columns, rows, lines }: RasterPlan): Map<number, Stretch[]> {
  const cells = new Map<number, Stretch[]>();
  for (const { points, between } of lines) {
    for (let index = 0; index + 1 < points.length; index++) {
      const [a, b] = [points[index]!, points[index + 1]!];
      const key = cellOf(rows, (a[1] + b[1]) / 2) * columns.length + cellOf(columns, (a[0] + b[0]) / 2);
      const known = cells.get(key);
      if (known === undefined) cells.set(key, [{ a, b, between }]);
      else known.push({ a, b, between });
    }
  }
  return cells;
}

/** The last of ascending places that is not beyond this one, but not the very last. */
function cellOf(places: readonly number[], at: number): number {
  let low = 0;
  let high = Math.max(0, places.length - 2);
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (places[middle]! <= at) low = middle;
    else high = middle - 1;
  }
  return low;
}
