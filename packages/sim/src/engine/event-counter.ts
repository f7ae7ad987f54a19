import type { FailureCode } from './outcome.ts';

/** Events allowed at one instant: a multiple of the things that can switch, far above what settling needs. */
const MOST_PER_SWITCH = 16;
const LEAST_AT_ONCE = 64;
/** How many of the last events at one instant name the parts that take part in endless switching. */
const NAMED = 32;
/** Events between two looks at the caller's wish to stop. */
const EVENTS_PER_LOOK = 4096;

/** What a caller allows a run. */
export interface EventLimits {
  /** Events the whole run may handle. */
  readonly maxEvents: number;
  readonly signal?: { readonly aborted: boolean } | undefined;
}

/** What a step may do, and who wants to know how far the run is. */
export interface StepLimits extends EventLimits {
  readonly onProgress?: ((share: number) => void) | undefined;
}

/** Counts the events of a run and says when it may not go on. */
export class EventCounter {
  /** Events counted so far, and those of the present instant. */
  handled = 0;
  atOnce = 0;
  /** Events in periods of a run that were counted instead of being gone through. */
  skipped = 0;
  private readonly mostAtOnce: number;
  /** The count of events at which to look at the limits next. */
  private lookAt = 0;
  private readonly recent: string[] = [];

  /** @param switches how many things can switch at one instant. */
  constructor(switches: number) {
    this.mostAtOnce = LEAST_AT_ONCE + MOST_PER_SWITCH * switches;
  }

  /**
   * Counts one event; `later` tells whether time has passed since the one before. False when the run may only go on after
   * a look at `verdict`: every few thousand events, and at every event of an instant that has too many. Nearly every event
   * of a run comes by here, so there is nothing else in it.
   */
  count(later: boolean): boolean {
    this.atOnce = later ? 0 : this.atOnce + 1;
    this.handled++;
    return !this.due && !this.nearLimit;
  }

  /** All events of the run so far. */
  get total(): number {
    return this.handled + this.skipped;
  }

  /** Plans the next look at the limits, which may be others than at the last one. */
  planLook(limits: EventLimits): void {
    this.lookAt = Math.min(limits.maxEvents + 1, this.handled + EVENTS_PER_LOOK);
  }

  /** Whether a look at the limits is due, so that the caller may be told how far the run is as well. */
  get due(): boolean {
    return this.handled >= this.lookAt;
  }

  /** Why the run may not go on, if so. */
  verdict(limits: EventLimits): FailureCode | undefined {
    if (this.atOnce > this.mostAtOnce) return 'chatter';
    if (this.handled > limits.maxEvents) return 'budget';
    return limits.signal?.aborted ? 'stopped' : undefined;
  }

  /** Whether the present instant has so many events that their parts should be noted. */
  get nearLimit(): boolean {
    return this.atOnce > this.mostAtOnce - NAMED;
  }

  /** Notes the part of an event near the limit. */
  note(part: string): void {
    if (this.recent.length >= NAMED) this.recent.shift();
    this.recent.push(part);
  }

  /** Parts that take part in endless switching, each once. */
  get takingPart(): string[] {
    return [...new Set(this.recent)];
  }
}
