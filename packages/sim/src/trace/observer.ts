import type { RunEvent } from './event.ts';
import type { SegmentView, SignalTable } from './frame.ts';

/**
 * Something that watches a run go by: an edge recorder, a reading, the fate ledger, a stored trace.
 *
 * 1. `begin` comes once, before anything else, with the names of all signals.
 * 2. Segments and events come in the order of time. All events of an instant come after the segment that ends there and
 *    before the segment that starts there; events at time 0 come before the first segment. Segments of length zero are
 *    not reported: only settled states are seen. A segment starts exactly where the one before it ended.
 * 3. `end` comes once, at the time the run stopped.
 * 4. An observer must not keep the segment view or its arrays.
 */
export interface Observer {
  begin?(signals: SignalTable): void;
  segment?(segment: SegmentView): void;
  event?(event: RunEvent): void;
  end?(time: number): void;
}
