import { subtractTwoPart } from '../core/two-part.ts';
import type { Periods } from '../trace/observer.ts';
import type { Agenda } from './agenda.ts';
import type { EventCounter } from './event-counter.ts';
import { equal, type Moment, PeriodSearch } from './period-search.ts';
import type { Situation } from './situation.ts';

/** A run is looked at again after this many times as many looks when its observers have to be shown more of it. */
const MORE_PATIENCE = 4;
/** Periods that are gone through at the end all the same, so that no rounding of the count can pass the end. */
const GONE_THROUGH = 2;

/**
 * Landmarks before the first look. Runs that are short enough to be gone through anyway are over sooner: they give the same
 * bits whoever else watches, and studies, which make thousands of them, do not pay for looks.
 */
const FIRST_LOOK = 1024;
/** Periods that observers are shown before the search rests for a while: some list may take long to fill. */
const MOST_SHOWN = 8;

/** A moment with its date (s, in two parts), and how far events and inputs were. */
interface DatedMoment extends Moment {
  readonly high: number;
  readonly low: number;
  readonly events: number;
  readonly corners: readonly number[];
}

/**
 * Takes a run that repeats itself on by whole periods without going through them. What repeats is proved by bits: when the
 * state, the agenda and the guesses of the roots are what they were a period ago, everything that follows is the same but
 * for its date. Observers are shown periods until all of them know what one does; then they are told how often it comes.
 */
export class PeriodSkipper {
  private readonly search = new PeriodSearch<DatedMoment>(FIRST_LOOK);
  private readonly inputsRepeat: boolean;
  private patience = FIRST_LOOK;
  /** Periods that the observers have been shown since the search began. */
  private shown = 0;

  constructor(
    private readonly agenda: Agenda,
    private readonly counter: EventCounter,
  ) {
    this.inputsRepeat = agenda.hasRepeatingInputs;
  }

  /**
   * Whether to look now, after an event that came `elapsed` seconds into its situation. Landmarks are the corners of inputs
   * that repeat themselves; without such, every event for which time has passed.
   */
  wants(situation: Situation, z: Float64Array, elapsed: number): boolean {
    return (this.inputsRepeat ? this.agenda.atRepeatingCorner : elapsed > 0) && this.search.wants(situation, z);
  }

  /** Looks at a moment; true when the run has been taken on: it has another date then. */
  look(
    at: Moment & { readonly high: number; readonly low: number },
    until: number,
    observers: readonly Periods[],
  ): boolean {
    const { agenda, counter, search } = this;
    const moment = {
      ...at,
      state: [...at.state, ...agenda.phase()],
      events: counter.handled,
      corners: agenda.marks,
    };
    if (!search.isBackAt(moment)) return false;
    const kept = search.kept!;
    const length = moment.events - kept.events;
    const proved = equal(kept.guesses, moment.guesses);
    const known = observers.reduce((least, observer) => Math.min(least, observer.begin(at.high)), until);
    search.keep(moment, length + 1);
    if (!proved || known === 0) {
      if (++this.shown > MOST_SHOWN) this.startAnew();
      return false;
    }
    const corners = moment.corners.map((corner, j) => corner - kept.corners[j]!);
    const period = subtractTwoPart(moment, kept);
    const left = Math.min(known - at.high, agenda.toSingular);
    const times = Math.min(Math.floor(left / period.high), agenda.periodsLeft(corners)) - GONE_THROUGH;
    this.startAnew();
    if (!(times > 0 && Number.isSafeInteger(times))) return false;
    const later = agenda.skip(times, corners, period);
    for (const observer of observers) observer.repeat(times, later);
    counter.skipped += times * length;
    return true;
  }

  private startAnew(): void {
    this.shown = 0;
    this.patience *= MORE_PATIENCE;
    this.search.keep(undefined, this.patience);
  }
}
