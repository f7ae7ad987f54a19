import { CountedPeriods, type PeriodKeeper } from '../trace/period-visitor.ts';
import type { ReadingObserver, ReadingOutcome, Window } from './context.ts';
import { edgeFeed, type NetEdge } from './edge-feed.ts';

/** Takes in edges one by one, in constant memory but for capped lists, and then has a reading. */
export interface EdgeTally extends PeriodKeeper {
  /** One edge of the window, in the order of time. */
  edge(edge: NetEdge): void;
  /** The reading; `reached` is the window, cut where the run stopped early. */
  outcome(reached: Window): ReadingOutcome;
}

/** Makes a reading of the edges of some nets; edges of one instant come in the order of the nets. */
export function edgeReading(nets: readonly string[], level: number, window: Window, tally: EdgeTally): ReadingObserver {
  let reached = window.until;
  const feed = edgeFeed(
    nets.map((net) => ({ net, level })),
    window,
    (edge) => tally.edge(edge),
  );
  const periods = new CountedPeriods(window, {
    visit(visitor) {
      feed.visit(visitor);
      tally.visit(visitor);
    },
  });
  // Named one by one: copying them all takes longer than what a short run shows them.
  return {
    begin: feed.begin,
    segment: feed.segment,
    periods,
    end(time) {
      reached = Math.min(reached, time);
    },
    result: () => tally.outcome({ from: window.from, until: reached }),
  };
}
