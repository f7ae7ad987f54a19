import { envelopePath, pixel, type Scale } from '@two-thirds/sim/chart';
import type { SignalLane } from '@two-thirds/sim/document';

/** A signal in columns, see `SignalLane`. */
type Columns = Pick<SignalLane, 'first' | 'last' | 'low' | 'high'>;

/** Pixels between which something is drawn. */
interface Plot {
  readonly left: number;
  readonly right: number;
}

/** Columns that are looked at together are about this wide (pixels). */
const GROUP_WIDTH = 8;
/** A group that is gone through more often than this, up and down, is dense. */
const MOST_CROSSINGS = 3;

/** Columns from one on until another that is not one of them; dense ones with their bounds by group. */
interface Stretch {
  readonly from: number;
  until: number;
  readonly groups: Group[] | undefined;
}

interface Group {
  readonly from: number;
  readonly until: number;
  readonly low: number;
  readonly high: number;
}

/**
 * A signal as path data for a dashed line. Where it goes up and down so often that its dashes would run into each other, its
 * bounds stand for it: nothing could be told of the line itself, and to dash all of it would take longer than to draw
 * everything else.
 *
 * @param left pixel of the left edge of the first column.
 * @param right pixel of the right edge of the last column.
 * @param plot pixels between which it is drawn; columns outside are left out, those at its edges reach beyond.
 */
export function dashedPath(columns: Columns, y: Scale, left: number, right: number, plot: Plot): string {
  const count = columns.first.length;
  const width = (right - left) / count;
  const edge = (index: number): number => left + width * index;
  const begin = Math.max(0, Math.floor((plot.left - left) / width));
  const finish = Math.min(count, Math.ceil((plot.right - left) / width));
  return stretches(columns, begin, finish, Math.max(1, Math.round(GROUP_WIDTH / width)))
    .map(({ from, until, groups }) => {
      if (groups !== undefined)
        return bound(groups, edge, ({ high }) => y(high)) + bound(groups, edge, ({ low }) => y(low));
      // Within the outermost columns, so that no neighbour of them is taken for one by a rounding.
      const within = { left: edge(from) + width / 4, right: edge(until) - width / 4 };
      return envelopePath(columns, y, left, right, within);
    })
    .join('');
}

/** Stretches that are dense and that are not, in turn. */
function stretches({ low, high }: Columns, begin: number, finish: number, size: number): Stretch[] {
  const all: Stretch[] = [];
  for (let from = begin; from < finish; from += size) {
    const group = { from, until: Math.min(finish, from + size), low: Infinity, high: -Infinity };
    let way = 0;
    for (let index = from; index < group.until; index += 1) {
      const [least, most] = [low[index] ?? 0, high[index] ?? 0];
      group.low = Math.min(group.low, least);
      group.high = Math.max(group.high, most);
      way += most - least;
    }
    const isDense = way > MOST_CROSSINGS * (group.high - group.low);
    const before = all.at(-1);
    if (before !== undefined && (before.groups !== undefined) === isDense) {
      before.until = group.until;
      before.groups?.push(group);
    } else all.push({ from, until: group.until, groups: isDense ? [group] : undefined });
  }
  return all;
}

/** One bound of dense groups, through the middle of each. */
function bound(groups: readonly Group[], edge: (index: number) => number, y: (group: Group) => number): string {
  const points = groups.map((group) => `${pixel((edge(group.from) + edge(group.until)) / 2)} ${pixel(y(group))}`);
  const [first, last] = [groups[0], groups.at(-1)];
  if (first === undefined || last === undefined) return '';
  const start = `${pixel(edge(first.from))} ${pixel(y(first))}`;
  return `M${[start, ...points, `${pixel(edge(last.until))} ${pixel(y(last))}`].join('L')}`;
}
