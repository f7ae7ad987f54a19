import { type Polyline, polylines, type Segment } from './polylines.ts';
import type { MapCrossing, MapPlan } from './map.ts';

/** A boundary in a map. */
export interface MapContour {
  /** The value of the reading along it, where levels were asked for; else null. */
  readonly level: number | null;
  /** The two regions it divides, where none were: ratios as text, `uneven`, `none`; else null. */
  readonly between: readonly [string, string] | null;
  /** Lines of points [x, y] in SI units, each point found by bisection along a line of the grid. */
  readonly lines: readonly Polyline[];
}

/** A crossing as a point on the rim of a cell. */
interface RimPoint {
  readonly key: string;
  readonly x: number;
  readonly y: number;
  readonly before: string;
  readonly after: string;
}

/**
 * Joins the crossings along the lines of the grid to boundaries, cell by cell: two points of one boundary on the rim of a
 * cell are joined; an odd one, where three regions meet, is joined to the middle of all points on that rim. Levels are
 * numbered by how many lie at or below a value, which is what the regions of points are then called.
 */
export function contoursOf(plan: Pick<MapPlan, 'x' | 'y' | 'levels'>, crossings: readonly MapCrossing[]): MapContour[] {
  const rims = new Rims(plan, crossings);
  const segments = new Map<string, Segment[]>();
  for (const rim of rims.all()) {
    const byBoundary = new Map<string, RimPoint[]>();
    for (const point of rim) {
      for (const name of boundariesOf(point, plan.levels)) {
        const known = byBoundary.get(name);
        if (known === undefined) byBoundary.set(name, [point]);
        else known.push(point);
      }
    }
    for (const [name, points] of byBoundary) {
      const joined = joinedPoints(points, rim);
      const known = segments.get(name);
      if (known !== undefined) known.push(...joined);
      else if (joined.length > 0) segments.set(name, joined);
    }
  }
  const { levels } = plan;
  return [...segments.keys()].sort(byName).map((name) => {
    const lines = polylines(segments.get(name) ?? []);
    if (levels !== undefined) return { level: levels[Number(name)] ?? null, between: null, lines };
    const [first = '', second = ''] = name.split('|');
    return { level: null, between: [first, second], lines };
  });
}

/** The boundaries that are crossed at a point: positions of levels, or the pair of regions. */
function boundariesOf({ before, after }: RimPoint, levels: MapPlan['levels']): string[] {
  if (levels === undefined) return [[before, after].sort(byName).join('|')];
  const [from, to] = [before, after].map(Number).sort((a, b) => a - b) as [number, number];
  // Where there is no value there is no level either.
  if (Number.isNaN(from) || Number.isNaN(to)) return [];
  return Array.from({ length: to - from }, (_, index) => String(from + index));
}

function joinedPoints(points: readonly RimPoint[], rim: readonly RimPoint[]): Segment[] {
  const segments: Segment[] = [];
  for (let index = 0; index + 1 < points.length; index += 2)
    segments.push({ a: points[index]!, b: points[index + 1]! });
  const odd = points.length % 2 === 1 ? points.at(-1) : undefined;
  if (odd === undefined || rim.length < 2) return segments;
  const mean = (pick: (point: RimPoint) => number): number =>
    rim.reduce((sum, point) => sum + pick(point), 0) / rim.length;
  const middle = { key: `middle ${rim.map(({ key }) => key).join(' ')}`, x: mean(({ x }) => x), y: mean(({ y }) => y) };
  return [...segments, { a: odd, b: middle }];
}

/** Numbers by size, words after them. */
function byName(a: string, b: string): number {
  const [first, second] = [a, b].map((name) => Number(name.split('|')[0])) as [number, number];
  if (Number.isNaN(first) !== Number.isNaN(second)) return Number.isNaN(first) ? 1 : -1;
  if (first !== second && !Number.isNaN(first)) return first - second;
  return a < b ? -1 : Number(a > b);
}

/** The points on the rim of each cell, in the order in which one goes round it. */
class Rims {
  readonly #plan: Pick<MapPlan, 'x' | 'y'>;
  readonly #onLines = new Map<string, RimPoint[]>();
  readonly #cells = new Map<string, readonly [number, number]>();

  constructor(plan: Pick<MapPlan, 'x' | 'y'>, crossings: readonly MapCrossing[]) {
    this.#plan = plan;
    for (const crossing of crossings) this.#add(crossing);
  }

  *all(): Generator<RimPoint[]> {
    const cells = [...this.#cells.values()].sort(([c1, r1], [c2, r2]) => r1 - r2 || c1 - c2);
    for (const [column, row] of cells) {
      yield [
        ...this.#on('x', column, row),
        ...this.#on('y', column + 1, row),
        ...this.#on('x', column, row + 1).toReversed(),
        ...this.#on('y', column, row).toReversed(),
      ];
    }
  }

  #add({ along, column, row, at, before, after }: MapCrossing): void {
    const { x, y } = this.#plan;
    const line = `${along} ${column} ${row}`;
    const known = this.#onLines.get(line) ?? [];
    known.push({
      key: `${line} ${known.length}`,
      x: along === 'x' ? at : x.points[column]!,
      y: along === 'x' ? y.points[row]! : at,
      before,
      after,
    });
    this.#onLines.set(line, known);
    const other = along === 'x' ? ([column, row - 1] as const) : ([column - 1, row] as const);
    for (const [c, r] of [[column, row] as const, other]) {
      const inside = c >= 0 && r >= 0 && c + 1 < x.points.length && r + 1 < y.points.length;
      if (inside) this.#cells.set(`${c} ${r}`, [c, r]);
    }
  }

  #on(along: 'x' | 'y', column: number, row: number): readonly RimPoint[] {
    return this.#onLines.get(`${along} ${column} ${row}`) ?? [];
  }
}
