import type { Lane } from '../document/index.ts';
import type { Plot } from './bars.ts';
import { hundredths, hundredthsText, pixel, type Scale } from './scale.ts';

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
  const { first, last, low, high } = columns;
  const count = first.length;
  const line = new LevelSavingLine();
  const [begin, finish] = shownColumns(count, left, right, plot);
  const edge = (index: number): number => left + ((right - left) * index) / count;
  let start = edge(begin);
  let startsAt = hundredths(start);
  for (let index = begin; index < finish; index += 1) {
    const [from, to, least, most] = [first[index] ?? 0, last[index] ?? 0, low[index] ?? 0, high[index] ?? 0];
    const end = edge(index + 1);
    const endsAt = hundredths(end);
    line.to(startsAt, hundredths(y(from)));
    if (least < Math.min(from, to) || most > Math.max(from, to)) {
      const middle = hundredths((start + end) / 2);
      const isHighNear = most - from < from - least;
      line.to(middle, hundredths(y(isHighNear ? most : least)));
      line.to(middle, hundredths(y(isHighNear ? least : most)));
    }
    line.to(endsAt, hundredths(y(to)));
    start = end;
    startsAt = endsAt;
  }
  return line.path();
}

/**
 * What {@link envelopePath} gives for a signal that has the same value in every one of so many columns: a straight line
 * along those that are shown.
 */
export function levelPath(value: number, count: number, y: Scale, left: number, right: number, plot: Plot): string {
  const [begin, finish] = shownColumns(count, left, right, plot);
  if (finish <= begin) return '';
  const line = new LevelSavingLine();
  for (const index of [begin, finish])
    line.to(hundredths(left + ((right - left) * index) / count), hundredths(y(value)));
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

/** Collects points, in hundredths of pixels, and drops those that continue a level stretch. */
class LevelSavingLine {
  private readonly xs: number[] = [];
  private readonly ys: number[] = [];

  to(x: number, y: number): void {
    const { xs, ys } = this;
    const last = ys.length - 1;
    if (last >= 0 && ys[last] === y) {
      if (xs[last] === x) return;
      if (last > 0 && ys[last - 1] === y) {
        xs[last] = x;
        return;
      }
    }
    xs.push(x);
    ys.push(y);
  }

  path(): string {
    const { xs, ys } = this;
    let data = '';
    for (let index = 0; index < xs.length; index += 1)
      data += `${index === 0 ? 'M' : 'L'}${hundredthsText(xs[index] ?? 0)} ${hundredthsText(ys[index] ?? 0)}`;
    return data;
  }
}
