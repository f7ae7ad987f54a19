import { newGraphStore } from '../run/simulate.ts';
import type { Axis } from './axis.ts';
import { contoursOf, type MapContour } from './contours.ts';
import type { Question, StopSignal } from './evaluate.ts';
import { type PlacedOrder, tileOrders, type UnevenSample, unevenSample } from './map-uneven.ts';
import { probe, type Probe } from './probe.ts';
import { type FieldPoint, RatioField } from './ratio-field.ts';
import { NO_RATIO, ratioRegion, type StepRange } from './ratio-steps.ts';
import type { Study } from './study.ts';
import type { Subject } from './subject.ts';
import { tileCrossings } from './tile-crossings.ts';
import type { Unit } from '../quantity/index.ts';

/** Cells that a job covers along each axis. */
const TILE = 8;
/** Two quantities over ranges, and one reading. Plain data. */
export interface MapPlan extends Question {
  /** A timer whose pulses are explained at an uneven point of each tile; none if left out. */
  readonly timer?: string | undefined;
  readonly x: Axis;
  readonly y: Axis;
  /**
   * Ascending values of the reading whose contours are wanted. Left out: for a ratio, the boundaries between regions of one
   * ratio each; for others none.
   */
  readonly levels?: readonly number[] | undefined;
}

/** What was found at one point of a map. */
export interface MapPoint {
  /** Value of the reading (SI); null where there is none. */
  readonly z: number | null;
  readonly reason: string | null;
  readonly unit: Unit | null;
  /** For a ratio, its steps from output to output; null for others and where there are none. */
  readonly steps: StepRange;
  /** What it belongs to for the boundaries, see {@link MapPlan.levels}: points of one class have none between them. */
  readonly region: string;
}

/** A boundary crossed on the way from one point of the grid to the next, along x or along y. */
export interface MapCrossing {
  readonly along: 'x' | 'y';
  /** The point it starts from, as positions on the axes. */
  readonly column: number;
  readonly row: number;
  /** Where on the way the boundary is (SI). */
  readonly at: number;
  /** Regions before and after it. */
  readonly before: string;
  readonly after: string;
}

/** What one job gives: the points of a tile, those on its far sides shared with the next, and its own crossings. */
export interface MapTile {
  readonly column: number;
  readonly row: number;
  /** Rows of points, from the lowest y up. */
  readonly points: readonly (readonly MapPoint[])[];
  readonly crossings: readonly MapCrossing[];
  readonly sample: UnevenSample | null;
  /** Of some uneven points of the tile. */
  readonly orders: readonly PlacedOrder[];
}

/** A map as far as it was computed. */
export interface MapOutcome {
  /** Rows of points, from the lowest y up; null where none is computed yet. */
  readonly points: readonly (readonly (MapPoint | null)[])[];
  readonly contours: readonly MapContour[];
  /** The first uneven point that was looked at closely. */
  readonly sample: UnevenSample | null;
  /** Of some uneven points, up to four a tile: whether the order of their steps can be foretold. */
  readonly orders: readonly PlacedOrder[];
  /** Share of the jobs that was done; 1 for the whole map. */
  readonly share: number;
}

/** A map as a study: every job covers a tile of the grid and the crossings along its lines. */
export function mapStudy(plan: MapPlan, subject: Subject): Study<MapTile, MapOutcome> {
  const { x, y, levels, timer, ...asked } = plan;
  const question = { ...asked, graphs: newGraphStore() };
  const [columns, rows] = [x, y].map(({ points }) => Math.max(1, Math.ceil((points.length - 1) / TILE))) as [
    number,
    number,
  ];
  const jobCount = columns * rows;
  let field: RatioField | null | undefined;
  const theField = (): RatioField | null => (field ??= fieldOf(plan, subject) ?? null);
  /** Points of a field are few that differ. */
  const alike = new Map<number | null, MapPoint>();
  const fieldPoint = ({ reading: { value, reason }, steps }: FieldPoint): MapPoint => {
    const z = value as number | null;
    const known = alike.get(z);
    if (known?.reason === (reason ?? null) && known.steps?.least === steps?.least) return known;
    const point = pointOf(z, reason, null, steps, levels);
    alike.set(z, point);
    return point;
  };
  const look = (atX: number, atY: number, signal: StopSignal | undefined, comesAgain = true): MapPoint | undefined => {
    if (signal?.aborted === true) return undefined;
    const short = theField()?.at(atX, atY, signal, comesAgain);
    if (short !== undefined) return fieldPoint(short);
    const values = new Map([
      [x.name, atX],
      [y.name, atY],
    ]);
    const found = probe(subject, values, question, signal);
    return found === undefined ? undefined : mapPoint(found, levels);
  };
  return {
    jobCount,
    run(index, signal) {
      // Along the beat first where there is a field: its circuits then come again soon or not at all.
      const isDown = theField()?.beat === 'y';
      const column = (isDown ? Math.floor(index / rows) : index % columns) * TILE;
      const row = (isDown ? index % rows : Math.floor(index / columns)) * TILE;
      const xs = x.points.slice(column, column + TILE + 1);
      const ys = y.points.slice(row, row + TILE + 1);
      const points: MapPoint[][] = [];
      for (const atY of ys) {
        const line: MapPoint[] = [];
        for (const atX of xs) {
          const point = look(atX, atY, signal);
          if (point === undefined) return undefined;
          line.push(point);
        }
        points.push(line);
      }
      const lastRow = row + ys.length === y.points.length;
      const lastColumn = column + xs.length === x.points.length;
      const tile = { column, row, xs, ys, points, lastColumn, lastRow };
      const crossings = tileCrossings(tile, (atX, atY) => look(atX, atY, signal, false), field?.beat);
      if (crossings === undefined) return undefined;
      const sample = unevenSample(plan, subject, xs, ys, points, signal);
      const orders = sample && tileOrders(plan, subject, xs, ys, points, signal);
      return sample === undefined || orders === undefined
        ? undefined
        : { column, row, points, crossings, sample, orders: orders ?? [] };
    },
    collect(jobs) {
      const points: (MapPoint | null)[][] = y.points.map(() => x.points.map(() => null));
      const crossings: MapCrossing[] = [];
      const orders: PlacedOrder[] = [];
      let sample: UnevenSample | null = null;
      for (const tile of [...jobs.values()].sort((a, b) => a.row - b.row || a.column - b.column)) {
        for (const [j, line] of tile.points.entries()) {
          for (const [i, point] of line.entries()) points[tile.row + j]![tile.column + i] = point;
        }
        crossings.push(...tile.crossings);
        orders.push(...tile.orders);
        sample ??= tile.sample;
      }
      return { points, contours: contoursOf(plan, crossings), sample, orders, share: jobs.size / jobCount };
    },
  };
}

/** The short way to a ratio, where there is one. */
function fieldOf({ x, y, levels: _, timer: __, ...question }: MapPlan, subject: Subject): RatioField | undefined {
  const [firstX, firstY] = [x.points[0]!, y.points[0]!];
  const axes = { x: { name: x.name, at: firstX }, y: { name: y.name, at: firstY } };
  return RatioField.of(subject, axes, [x.points.at(-1)!, y.points.at(-1)!], question);
}

function mapPoint({ measured, units, steps }: Probe, levels: readonly number[] | undefined): MapPoint {
  const { value = null, reason } = measured[0] ?? {};
  return pointOf(value, reason, units[0] ?? null, steps[0] ?? null, levels);
}

function pointOf(
  value: number | null,
  reason: string | undefined,
  unit: Unit | null,
  range: StepRange,
  levels: readonly number[] | undefined,
): MapPoint {
  const region =
    levels === undefined
      ? ratioRegion(range)
      : value === null
        ? NO_RATIO
        : String(levels.filter((level) => value >= level).length);
  return { z: value, reason: reason ?? null, unit, steps: range, region };
}
