import { NOTHING } from './map-raster.ts';

/** The pixels of one class as the data of one SVG path. */
export interface RasterShape {
  readonly value: number;
  readonly path: string;
}

interface OpenRun {
  readonly value: number;
  readonly from: number;
  readonly until: number;
  readonly top: number;
}

/** The classes of a raster as paths of rectangles, as high as equal rows reach; ascending by class. */
export function rasterShapes(raster: Int16Array, width: number): RasterShape[] {
  const paths = new Map<number, string[]>();
  let open = new Map<string, OpenRun>();
  const height = raster.length / width;
  const close = ({ value, from, until, top }: OpenRun, y: number): void => {
    const known = paths.get(value);
    const rectangle = `M${from} ${top}H${until}V${y}H${from}Z`;
    if (known === undefined) paths.set(value, [rectangle]);
    else known.push(rectangle);
  };
  for (let y = 0; y <= height; y++) {
    const next = new Map<string, OpenRun>();
    for (const { value, from, until } of y < height ? runsOf(raster, y * width, width) : []) {
      const key = `${value} ${from} ${until}`;
      next.set(key, open.get(key) ?? { value, from, until, top: y });
      open.delete(key);
    }
    for (const run of open.values()) close(run, y);
    open = next;
  }
  return [...paths].sort(([a], [b]) => a - b).map(([value, all]) => ({ value, path: all.join('') }));
}

function* runsOf(raster: Int16Array, start: number, width: number): Generator<Omit<OpenRun, 'top'>> {
  let from = 0;
  for (let x = 1; x <= width; x++) {
    const value = raster[start + from]!;
    if (x < width && raster[start + x] === value) continue;
    if (value !== NOTHING) yield { value, from, until: x };
    from = x;
  }
}

/** A place well inside the pixels of a class. */
export interface InnerPlace {
  readonly value: number;
  readonly x: number;
  readonly y: number;
  /** How far it is to the nearest other class or edge (pixels). */
  readonly room: number;
}

/** For each class the place of a raster that lies deepest in it: where its name is best written. */
export function innerPlaces(raster: Int16Array, width: number): InnerPlace[] {
  const height = raster.length / width;
  const rooms = new Float32Array(raster.length);
  const step = (at: number, x: number, y: number, dx: number, dy: number, cost: number): void => {
    const inside = x + dx >= 0 && x + dx < width && y + dy >= 0 && y + dy < height;
    const other = at + dy * width + dx;
    const room = inside && raster[other] === raster[at] ? rooms[other]! + cost : cost / 2;
    if (room < rooms[at]!) rooms[at] = room;
  };
  for (let at = 0; at < raster.length; at++) {
    const [x, y] = [at % width, Math.floor(at / width)];
    rooms[at] = Infinity;
    for (const [dx, dy, cost] of BEFORE) step(at, x, y, dx, dy, cost);
  }
  const best = new Map<number, InnerPlace>();
  for (let at = raster.length - 1; at >= 0; at--) {
    const [x, y] = [at % width, Math.floor(at / width)];
    for (const [dx, dy, cost] of BEFORE) step(at, x, y, -dx, -dy, cost);
    const value = raster[at]!;
    const room = rooms[at]!;
    if (value !== NOTHING && room > (best.get(value)?.room ?? 0))
      best.set(value, { value, x: x + 0.5, y: y + 0.5, room });
  }
  return [...best.values()].sort((a, b) => a.value - b.value);
}

/** Steps to the neighbours that come before a pixel, with their lengths. */
const BEFORE = [
  [-1, 0, 1],
  [0, -1, 1],
  [-1, -1, Math.SQRT2],
  [1, -1, Math.SQRT2],
] as const;
