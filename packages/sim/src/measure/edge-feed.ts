import { isAfter } from '../core/two-part.ts';
import type { Observer } from '../trace/observer.ts';
import type { Instant } from '../trace/instant.ts';
import type { PeriodKeeper } from '../trace/period-visitor.ts';
import { signalIndex } from '../trace/signal-name.ts';
import type { Window } from './context.ts';
import { LevelCrossings } from './level-crossings.ts';

/** A net and the level (V) above which it counts as high. */
export interface WatchedNet {
  readonly net: string;
  readonly level: number;
}

/** One edge of one of the watched nets; `which` is the net's position in the list. */
export interface NetEdge {
  readonly which: number;
  readonly high: boolean;
  readonly at: Instant;
}

/** Takes in a run, and keeps what it needs of it to find edges; its functions need no `this`. */
export interface EdgeFeed extends PeriodKeeper {
  readonly begin: NonNullable<Observer['begin']>;
  readonly segment: NonNullable<Observer['segment']>;
}

/**
 * Feeds the edges of some nets that lie in a window, in the order of time, to `onEdge`; edges of one instant in the
 * order of the nets.
 */
export function edgeFeed(nets: readonly WatchedNet[], window: Window, onEdge: (edge: NetEdge) => void): EdgeFeed {
  let indices: readonly number[] = [];
  // The edges of a segment, put in order as they come. The list is never emptied: it would take its memory anew each time.
  const found: NetEdge[] = [];
  let count = 0;
  const put = (edge: NetEdge): void => {
    let place = count++;
    for (; place > 0 && isAfter(found[place - 1]!.at, edge.at); place--) found[place] = found[place - 1]!;
    found[place] = edge;
  };
  const crossings = nets.map(
    ({ level }, which) =>
      new LevelCrossings(level, (high, at) => {
        if (at.high >= window.from && at.high < window.until) put({ which, high, at });
      }),
  );
  return {
    visit(visitor) {
      for (const crossing of crossings) crossing.visit(visitor);
    },
    begin(table) {
      indices = nets.map(({ net }) => signalIndex(table, { net }));
    },
    segment(segment) {
      if (segment.start >= window.until) return;
      for (let which = 0; which < nets.length; which++) crossings[which]!.segment(segment, indices[which]!);
      for (let i = 0; i < count; i++) onEdge(found[i]!);
      count = 0;
    },
  };
}
