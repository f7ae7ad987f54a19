import { DatedList } from '../trace/dated-list.ts';
import type { Observer } from '../trace/observer.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';
import { signalIndex } from '../trace/signal-name.ts';
import type { Window } from './context.ts';
import { LevelCrossings } from './level-crossings.ts';
import type { EdgeRow } from './rows.ts';

/** Entries of any list kept unless the caller says otherwise. */
export const MOST_LISTED = 100_000;

/**
 * Lists the edges of a net: its passages through `level` (V), exact. High is above the level; before 0 the net counts as
 * low, so a net that is high once time 0 has settled has a rise at 0.
 *
 * @param options `most`: how many edges are listed at most, 100 000 if not given; the rest is counted.
 */
export function edgeObserver(
  net: string,
  level: number,
  window: Window,
  options: { readonly most?: number } = {},
): Observer & { result(): { readonly edges: readonly EdgeRow[]; readonly count: number; readonly cut: boolean } } {
  const { most = MOST_LISTED } = options;
  const edges = new DatedList<EdgeRow>(most, ({ to }, at) => ({ time: at.high, to }));
  let index = -1;
  const crossings = new LevelCrossings(level, (high, at) => {
    if (at.high < window.from || at.high >= window.until) return;
    edges.add({ time: at.high, to: high ? 'high' : 'low' }, at);
  });
  return {
    periods: new CountedPeriods(window, {
      visit(visitor) {
        crossings.visit(visitor);
        edges.visit(visitor);
      },
    }),
    begin(table) {
      index = signalIndex(table, { net });
    },
    segment(segment) {
      if (segment.start < window.until) crossings.segment(segment, index);
    },
    result: () => ({ edges: edges.entries, count: edges.count, cut: edges.count > edges.entries.length }),
  };
}
