import { GuardCheck } from './guard-check.ts';
import type { BeatClock } from './one-state-clock.ts';
import { NONE, Outlook } from './one-state-found.ts';
import type { Place, Way } from './one-state-place.ts';

/** In place of a guard's number where what a place leads to is beyond closed forms. */
export const BEYOND = -2;

/** The course of the one state of a run: it was z at `from`, and the guard at position `ending` ends it at `end`. */
export class Course {
  place!: Place;
  z = 0.5;
  from = 0.5;
  /** When a guard fires that follows the state (s; Infinity if none does), which one (its position), and the state then. */
  end = Infinity;
  ending = NONE;
  last = 0.5;
  /** Whether the limits have to be looked at before time may pass. */
  unread = true;
  /** How many courses there have been: a course goes on as long as its law does, whatever the place is. */
  count = 0;
  /** The earliest `end` since somebody set it back. */
  soonest = Infinity;
  private readonly check = new GuardCheck();
  private readonly outlook = new Outlook(this.check);

  constructor(private readonly clock: BeatClock) {}

  /** Begins in a place with a state. */
  begin(place: Place, z: number): void {
    this.place = place;
    this.enter(z);
    this.check.noise = 0;
    this.check.back.clear();
  }

  private enter(z: number): void {
    this.z = z;
    this.from = this.clock.now;
    this.end = Infinity;
    this.unread = true;
    this.count++;
  }

  /** Works the state out as it is now. */
  settle(): void {
    const { place, clock } = this;
    const length = clock.now - this.from;
    if (length === 0) return;
    this.z = place.rest + (this.z - place.rest) * Math.exp(-place.rate * length);
    this.from = clock.now;
  }

  /** Reads the limits: the guard that fires at once; NONE, when the end is known then; or BEYOND. */
  look(): number {
    const { place, check, outlook } = this;
    // Whatever the state is: it need not be worked out.
    if (place.standing !== NONE && check.back.count === 0) return place.standing;
    const { now } = this.clock;
    if (place.rate === 0) this.from = now;
    const passed = now - this.from;
    outlook.z = this.z;
    let found = outlook.of(place, passed === 0);
    if (passed > 0 && found && (found.atOnce !== NONE || passed >= found.length)) {
      this.settle();
      this.count++;
      outlook.z = this.z;
      found = outlook.of(place, true);
    }
    if (!found) return BEYOND;
    if (found.atOnce !== NONE) return found.atOnce;
    this.end = this.from + found.length;
    this.ending = found.ending;
    this.last = found.last;
    this.unread = false;
    if (this.end < this.soonest) this.soonest = this.end;
    return NONE;
  }

  /** Tells that time has passed in the present place. */
  timePassed(): void {
    this.check.timePassed(this.place.situation);
  }

  /** Goes over into the next place. @param ended whether it is the guard that ends the course that leads there. */
  follow(way: Way, ended: boolean): void {
    const { check } = this;
    if (ended || !way.continues) {
      if (ended) this.z = this.last;
      else this.settle();
      this.enter(way.continues ? this.z : way.factor * this.z + way.offset);
    } else if (!way.keepsLimits || way.to.passes) this.unread = true;
    this.place = way.to;
    if (way.back >= 0) check.back.add(way.back);
    else if (check.back.count > 0) check.back.clear();
  }

  /** Sets the clock back (s). */
  setBack(by: number): void {
    this.from -= by;
    this.end -= by;
  }
}
