import type { FailureCode } from './outcome.ts';

/** Events allowed at one instant: a multiple of the things that can switch, far above what settling needs. */
const MOST_PER_SWITCH = 16;
const LEAST_AT_ONCE = 64;
/** How many of the last events at one instant name the parts that take part in endless switching. */
const NAMED = 32;
/** Events between two looks at the caller's wish to stop; a power of two. */
const EVENTS_PER_LOOK = 4096;

/** Counts the events of a run and says when it may not go on. */
export class EventCounter {
  /** Events counted so far, and those of the present instant. */
  handled = 0;
  atOnce = 0;
  private readonly mostAtOnce: number;
  private readonly recent: string[] = [];

  /** @param switches how many things can switch at one instant. */
  constructor(switches: number) {
    this.mostAtOnce = LEAST_AT_ONCE + MOST_PER_SWITCH * switches;
  }

  /** Counts one event; `later` tells whether time has passed since the one before. */
  count(
    later: boolean,
    limits: { readonly maxEvents: number; readonly signal?: { readonly aborted: boolean } | undefined },
  ): FailureCode | undefined {
    this.handled++;
    if (later) {
      this.atOnce = 0;
      if (this.recent.length > 0) this.recent.length = 0;
    } else if (++this.atOnce > this.mostAtOnce) return 'chatter';
    if (this.handled > limits.maxEvents) return 'budget';
    return this.timeToLook && limits.signal?.aborted ? 'stopped' : undefined;
  }

  /** Every few thousand events: time to look at the world outside. */
  get timeToLook(): boolean {
    return (this.handled & (EVENTS_PER_LOOK - 1)) === 0;
  }

  /** Whether the present instant has so many events that their parts should be noted. */
  get nearLimit(): boolean {
    return this.atOnce > this.mostAtOnce - NAMED;
  }

  /** Notes the part of an event near the limit. */
  note(part: string): void {
    this.recent.push(part);
  }

  /** Parts that take part in endless switching, each once. */
  get takingPart(): string[] {
    return [...new Set(this.recent)];
  }
}
