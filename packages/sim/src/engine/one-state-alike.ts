import type { BeatClock } from './one-state-clock.ts';
import type { Course } from './one-state-course.ts';
import type { EdgeTeller } from './one-state-edges.ts';
import type { Place } from './one-state-place.ts';
import type { Turns } from './one-state-turns.ts';

/** Share of a stretch that is left before the next thing happens, for what rounding does to dates. */
const TO_SPARE = 1e-6;

/**
 * Passes over stretches of an input that do what the one before did: where a stretch has led to the same place in the same
 * course and told nothing, so will those to come until a limit is met.
 */
export class AlikeStretches {
  private place: Place | undefined;
  private course = 0;
  private now = 0.5;
  private told = 0;
  private rises = 0;
  private falls = 0;
  private events = 0;

  constructor(
    private readonly clock: BeatClock,
    private readonly state: Course,
    private readonly edges: EdgeTeller,
    private readonly turns: Turns,
  ) {}

  /** Forgets how things stood. */
  clear(): void {
    this.place = undefined;
  }

  /** Looks how things stand now that a stretch has begun, and passes over those that are alike. */
  stretchBegins(): void {
    const { clock, state, edges, turns } = this;
    const { period, count: most } = clock.beat!;
    if (this.isAlike() && clock.base - period >= edges.since) {
      const first = Math.min(state.end, state.soonest - period, clock.left);
      const times = Math.min(Math.floor((first - clock.now) / period - TO_SPARE), most - clock.stretch - 1);
      if (times >= 1) {
        edges.rises += times * (edges.rises - this.rises);
        edges.falls += times * (edges.falls - this.falls);
        turns.events += times * (turns.events - this.events);
        clock.passOver(times);
        state.setBack(times * period);
      }
    }
    this.place = state.place;
    this.course = state.count;
    this.now = clock.now;
    this.told = edges.told;
    this.rises = edges.rises;
    this.falls = edges.falls;
    this.events = turns.events;
    state.soonest = state.end;
  }

  private isAlike(): boolean {
    const { clock, state, edges } = this;
    if (state.place !== this.place || state.count !== this.course) return false;
    return edges.told === this.told && clock.now === this.now;
  }
}
