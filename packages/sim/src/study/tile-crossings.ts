import { BoundaryPoints } from './boundary-points.ts';
import { BoundaryTrack } from './boundary-track.ts';
import { findChanges } from './changes.ts';
import type { MapCrossing, MapPoint } from './map.ts';

/** How many boundaries are found between two points. */
const MOST = 16;
/** How closely boundaries are found along the lines of the grid (share of the place). */
const PRECISION = 1e-6;
/** The same where looks are cheap: good guesses for where they are dear. */
const FINE_PRECISION = 1e-9;

/** A tile of the grid, with the points of its far sides; along those only where the map ends there. */
interface Tile {
  readonly column: number;
  readonly row: number;
  readonly xs: readonly number[];
  readonly ys: readonly number[];
  /** Rows of points, from the lowest y up. */
  readonly points: readonly (readonly MapPoint[])[];
  readonly lastColumn: boolean;
  readonly lastRow: boolean;
}

type Axis = 'x' | 'y';
type Look = (x: number, y: number) => MapPoint | undefined;

/**
 * Finds the boundaries along the lines of a tile, first along one axis and then, by what is known of them from there, along the
 * other.
 *
 * @param look what is seen at a place between points; undefined stops the search.
 * @param cheap the axis along which a look costs next to nothing; undefined where none does.
 * @returns first those along x; undefined when it was stopped.
 */
export function tileCrossings(tile: Tile, look: Look, cheap: Axis | undefined): MapCrossing[] | undefined {
  const known = new BoundaryPoints();
  const [first, second]: [Axis, Axis] = cheap === 'y' ? ['y', 'x'] : ['x', 'y'];
  const some = alongLines(tile, first, look, cheap === undefined ? PRECISION : FINE_PRECISION, known);
  if (some === undefined) return undefined;
  for (const { column, row, at, before, after } of some)
    known.add(at, first === 'x' ? tile.ys[row - tile.row]! : tile.xs[column - tile.column]!, before, after);
  const others = alongLines(tile, second, look, PRECISION, known);
  if (others === undefined) return undefined;
  return first === 'x' ? [...some, ...others] : [...others, ...some];
}

function alongLines(
  { column, row, xs, ys, points, lastColumn, lastRow }: Tile,
  along: Axis,
  look: Look,
  precision: number,
  known: BoundaryPoints,
): MapCrossing[] | undefined {
  const isX = along === 'x';
  const [places, lines] = isX ? [xs, ys] : [ys, xs];
  // The far sides belong to the next tile, but for those where the map ends.
  const count = lines.length - ((isX ? lastRow : lastColumn) ? 0 : 1);
  const crossings: MapCrossing[] = [];
  const track = new BoundaryTrack();
  for (let index = 0; index < count; index++) {
    const line = lines[index]!;
    track.nextLine(line);
    for (let start = 0; start + 1 < places.length; start++) {
      const [seen, next] = isX
        ? [points[index]![start]!, points[index]![start + 1]!]
        : [points[start]![index]!, points[start + 1]![index]!];
      if (seen.region === next.region) continue;
      const [from, to] = [places[start]!, places[start + 1]!];
      const changes = findChanges(
        { at: from, seen },
        { at: to, seen: next },
        (at) => (isX ? look(at, line) : look(line, at)),
        ({ region }) => region,
        { precision, most: MOST, guess: ({ region }) => known.guess(region, line, from, to) ?? track.guess(region) },
      );
      if (changes === undefined) return undefined;
      for (const { below, above, seenBelow, seenAbove } of changes) {
        const at = below + (above - below) / 2;
        track.add(seenBelow.region, at);
        const place = isX ? { column: column + start, row: row + index } : { column: column + index, row: row + start };
        crossings.push({ along, ...place, at, before: seenBelow.region, after: seenAbove.region });
      }
    }
  }
  return crossings;
}
