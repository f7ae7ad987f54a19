import { ColumnEnvelope, type Envelope } from './column-envelope.ts';
import { LanePeriods } from './lane-periods.ts';
import type { Observer } from './observer.ts';
import { type SignalName, signalIndex } from './signal-name.ts';

/** What `envelopeObserver` watches. */
export interface EnvelopeWindow {
  /** Start and end of the window (s). */
  readonly from: number;
  readonly until: number;
  /** How many columns, at least 1. */
  readonly columns: number;
}

/**
 * Sums up signals in columns while a run goes by, in memory that does not depend on the length of the run. The same
 * numbers as `StoredTrace.envelope`.
 *
 * @throws RangeError if the window has no length or no column; at `begin`, if the run has no such signal.
 */
export function envelopeObserver(
  signals: readonly SignalName[],
  window: EnvelopeWindow,
): Observer & {
  /** One envelope for each signal, in the order asked for. */
  result(): Envelope[];
  /** Lowest and highest value of one of them; `low` is above `high` where nothing was seen. */
  range(lane: number): { readonly low: number; readonly high: number };
} {
  const lanes = signals.map(() => new ColumnEnvelope(window.from, window.until, window.columns));
  const periods = new LanePeriods(window, lanes);
  let indices: number[] = [];
  return {
    periods,
    begin(table) {
      indices = signals.map((name) => signalIndex(table, name));
    },
    segment(segment) {
      if (segment.start + segment.length < window.from || segment.start > window.until) return;
      for (let lane = 0; lane < lanes.length; lane++) lanes[lane]!.add(segment.signal(indices[lane]!), segment);
      periods.take(segment, (lane) => segment.signal(indices[lane]!));
    },
    result: () => lanes.map((lane) => lane.result()),
    range: (lane) => lanes[lane]!.range(),
  };
}
