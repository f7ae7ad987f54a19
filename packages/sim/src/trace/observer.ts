import type { TwoPart } from '../core/two-part.ts';
import type { EventKind, RunEvent } from './event.ts';
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
 * 5. A run that repeats itself for good need not be shown every period: observers that have `periods` are told of them
 *    instead, if all observers of the run have it.
 */
export interface Observer {
  begin?(signals: SignalTable): void;
  segment?(segment: SegmentView): void;
  event?(event: RunEvent): void;
  /**
   * Whether it takes no notice of events of the kinds `piece` and `source`, with which parts and inputs merely go over to
   * another straight piece: most events of a run are of these, and what nobody wants is not made.
   */
  readonly ignoresPieces?: boolean;
  /** Comes just before the events that it sets off; nothing of it is worked out unless somebody asks. */
  crossing?(crossing: Crossing): void;
  end?(time: number): void;
  readonly periods?: Periods | undefined;
}

/** A limit that something has passed, and how well the time is known. */
export interface Crossing {
  /** The part that watched for it, and what it did. */
  readonly part: string;
  readonly kind: EventKind;
  /** Seconds; `timeLow` is what the double `time` cannot hold. */
  readonly time: number;
  readonly timeLow: number;
  /** By how many seconds rounding may have moved the time: the more, the more nearly the limit is only grazed. */
  readonly offBy: number;
}

/** How an observer is told of whole periods of a run in place of being shown them. */
export interface Periods {
  /**
   * A period has ended and the next begins, at a date in seconds. Gives until when (s) every further period does to the
   * observer what the last one did; 0 while that is not certain, because too little was shown.
   */
  begin(now: number): number;
  /**
   * After a `begin` that gave a time: the period that has ended comes `times` more, each exactly like it, and the run then
   * goes on `later` (s) than where it is.
   */
  repeat(times: number, later: TwoPart): void;
}
