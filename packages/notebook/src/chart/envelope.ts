import type { Lane } from '@two-thirds/sim/document';
import { pixel, type Scale } from './scale.ts';

type Columns = Pick<Lane, 'first' | 'last' | 'low' | 'high'>;

/**
 * The outline of a lane as SVG path data: within each column from its first value to its last, reaching its lowest and
 * highest value on the way, so that a spike narrower than a column is still drawn at its full height. Points on a
 * level stretch are left out.
 *
 * @param left pixel of the left edge of the first column.
 * @param right pixel of the right edge of the last column.
 */
export function envelopePath(columns: Columns, y: Scale, left: number, right: number): string {
  const count = columns.first.length;
  const line = new LevelSavingLine();
  for (let index = 0; index < count; index += 1) {
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

/** Collects points and drops those that continue a level or upright stretch. */
class LevelSavingLine {
  private readonly points: [number, number][] = [];

  to(x: number, y: number): void {
    const point: [number, number] = [pixel(x), pixel(y)];
    const [before, last] = this.points.slice(-2);
    if (last !== undefined && last[0] === point[0] && last[1] === point[1]) return;
    if (before !== undefined && last !== undefined && before[1] === last[1] && last[1] === point[1]) this.points.pop();
    this.points.push(point);
  }

  path(): string {
    return this.points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${x} ${y}`).join('');
  }
}
