import type { Lane } from '../document/index.ts';
import type { Plot } from './bars.ts';
import { pixel, type Scale } from './scale.ts';

/** A signal in columns, see `Lane`. */
export type Columns = Pick<Lane, 'first' | 'last' | 'low' | 'high'>;

/**
 * The outline of a lane as SVG path data: within each column from its first value to its last, reaching its lowest and
 * highest value on the way, so that a spike narrower than a column is still drawn at its full height. Points on a
 * level stretch are left out.
 *
 * @param left pixel of the left edge of the first column.
 * @param right pixel of the right edge of the last column.
 * @param plot what is drawn of it; columns outside are left out, those at its edges reach beyond.
 */
export function envelopePath(
  columns: Columns,
  y: Scale,
  left: number,
  right: number,
  plot: Plot = { left, right },
): string {
  const count = columns.first.length;
  const line = new LevelSavingLine();
  const [begin, finish] = shownColumns(count, left, right, plot);
  for (let index = begin; index < finish; index += 1) {
    const first = columns.first[index] ?? 0;
    const last = columns.last[index] ?? 0;
    const low = columns.low[index] ?? 0;
    const high = columns.high[index] ?? 0;
    const start = left + ((right - left) * index) / count;
    const end = left + ((right - left) * (index + 1)) / count;
    line.to(start, y(first));
    if (low < Math.min(first, last) || high > Math.max(first, last)) {
      const middle = (start + end) / 2;
      const [near, far] = high - first < first - low ? [high, low] : [low, high];
      line.to(middle, y(near));
      line.to(middle, y(far));
    }
    line.to(end, y(last));
  }
  return line.path();
}

/**
 * The band between two signals in columns as SVG path data, closed: along the ends of the columns of the one, back along
 * those of the other.
 */
export function bandPath(upper: Columns, lower: Columns, y: Scale, left: number, right: number, plot: Plot): string {
  const count = upper.first.length;
  const [begin, finish] = shownColumns(count, left, right, plot);
  const edge = ({ first, last }: Columns): string[] =>
    Array.from({ length: Math.max(0, finish - begin) }, (_, step) => begin + step).flatMap((index) => [
      `${pixel(left + ((right - left) * index) / count)} ${pixel(y(first[index] ?? 0))}`,
      `${pixel(left + ((right - left) * (index + 1)) / count)} ${pixel(y(last[index] ?? 0))}`,
    ]);
  const points = [...edge(upper), ...edge(lower).reverse()];
  return points.length === 0 ? '' : `M${points.join('L')}Z`;
}

/** First and last (excluded) of the columns that reach into the plot. */
function shownColumns(count: number, left: number, right: number, plot: Plot): [number, number] {
  const place = (at: number): number => ((at - left) / (right - left)) * count;
  return [Math.max(0, Math.floor(place(plot.left))), Math.min(count, Math.ceil(place(plot.right)))];
}

/** Collects points and drops those that continue a level or upright stretch. */
class LevelSavingLine {
  private readonly points: [number, number][] = [];

  to(x: number, y: number): void {
    const [atX, atY] = [pixel(x), pixel(y)];
    const { points } = this;
    const last = points[points.length - 1];
    if (last !== undefined && last[0] === atX && last[1] === atY) return;
    const before = points[points.length - 2];
    if (before !== undefined && last !== undefined && before[1] === last[1] && last[1] === atY) points.pop();
    points.push([atX, atY]);
  }

  path(): string {
    return this.points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${x} ${y}`).join('');
  }
}
