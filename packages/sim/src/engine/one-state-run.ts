import { type Beat, beatOf } from '../signal/beat.ts';
import type { Prepared } from './graph-store.ts';
import { type Found, NONE, Outlook } from './one-state-found.ts';
import {
  CHANGING,
  type MovingInput,
  type Place,
  PlaceMaker,
  type Start,
  type WatchedSignal,
  type Way,
} from './one-state-place.ts';
import { WaitingEvents } from './waiting-events.ts';

/** Events at one instant beyond which a run is left to the general engine, which names the parts that chatter. */
const MOST_AT_ONCE = 64;

/**
 * Called for each passage of a watched signal but the first through its level: which one, and whether it is high now. See
 * `OneStateRun.at`, `rises` and `falls`.
 */
export type OnEdge = (which: number, high: boolean) => void;

/** A stretch of a run (s): `from` belongs to it, `until` does not. */
interface Stretch {
  readonly from: number;
  readonly until: number;
}

/**
 * The short way through a run of a circuit with one capacitor, for studies that make ten thousands of them. It goes through
 * the same situations as the general engine, by the same rules (see `Stepper`), but only counts edges; a stretch of
 * time between two edges of an input that change nothing for the capacitor costs a few comparisons, and a stretch that has
 * been met before with the same voltage, bit for bit, is not worked out again.
 *
 * Times count from the beginning of the input's present stretch, so that nothing accumulates and what coincides at one stretch
 * does at every other.
 *
 * Whatever does not fit - several states, ramps, contacts that move, a signal that passes its level on a curve, a short,
 * chatter - makes `run` give up, and the general engine has to answer.
 */
export class OneStateRun {
  private readonly maker: PlaceMaker;
  /** Where a run begins with the input at rest, and where with the input raised; null where it cannot. */
  private readonly starts: (Start | null | undefined)[] = [];
  private readonly waiting: WaitingEvents;
  private readonly watched: number;
  private readonly outlook = new Outlook();
  /** Events of the last run that came to its end, as the general engine counts them. */
  events = 0;
  /** When the edge is that is being told (s). Fields, as in `Stepper`: numbers handed over in a call cost memory. */
  at = 0.5;
  /** Edges of the first watched signal since the last edge of another one, those at the same instant included. */
  rises = 0;
  falls = 0;

  /**
   * @param watched at most 30 signals.
   * @param input the input that follows a beat; all others must stand still. Undefined where none moves.
   */
  constructor(prepared: Prepared, watched: readonly WatchedSignal[], input: MovingInput | undefined) {
    this.watched = watched.length;
    this.maker = new PlaceMaker(prepared, watched, input);
    this.waiting = new WaitingEvents(prepared.program.reactors.map(({ slots }) => slots));
  }

  /**
   * The short way for a circuit in which one part's input follows a beat and all others stand still; undefined where its
   * wave is no beat.
   */
  static of(prepared: Prepared, watched: readonly WatchedSignal[], moving: string): OneStateRun | undefined {
    const index = prepared.program.inputs.findIndex(({ part }) => part === moving);
    const beat = index < 0 ? undefined : beatOf(prepared.program.inputs[index]!.wave);
    return beat && new OneStateRun(prepared, watched, { index, rest: beat.rest, raised: beat.raised });
  }

  /** Found once, also where there is none: a study asks ten thousands of times. */
  private startOf(raised: boolean): Start | null {
    const known = this.starts[raised ? 1 : 0];
    return known === undefined ? (this.starts[raised ? 1 : 0] = this.maker.start(raised)) : known;
  }

  /**
   * Goes from 0 to the end of a stretch, with the input in the given beat, and tells the edges that lie in the stretch, those
   * of one instant in the order of the signals. A signal that is high from the beginning has a rise at 0.
   *
   * @returns false where the run has to be gone through by the general engine; edges told until then do not count.
   */
  run(beat: Beat | undefined, { from: since, until }: Stretch, maxEvents: number, onEdge: OnEdge): boolean {
    const { waiting, outlook, maker, watched } = this;
    const { check } = outlook;
    this.rises = 0;
    this.falls = 0;
    waiting.clear();
    check.back.clear();
    let events = 0;
    let noise = 0;
    let raised = beat !== undefined && beat.delay === 0 && beat.count > 0;
    const start = this.startOf(raised);
    if (!start) return false;
    let { place, z } = start;

    // The clock: `now` counts from `base + baseLow`, where the present stretch of the input begins.
    let base = beat ? beat.delay : 0;
    let baseLow = 0;
    let now = beat ? -beat.delay : 0;
    let left = until - base;
    let stretch = 0;
    let corner = raised ? beat!.width : beat && beat.count > 0 ? 0 : Infinity;

    // The course of the state: it was z at `from`, and the guard at position `ending` ends it at `end`.
    let from = now;
    let end = Infinity;
    let ending = NONE;
    let last = 0;

    let unread = true;
    let shown = 0;
    let atOnce = 0;
    // What began what happens at this instant, and the events before it; undefined where it is more than guards firing.
    let cause: Found | undefined;
    let causeState = 0;
    let before = 0;
    // How things stood when the last stretch had begun, to see whether it changes anything but counts.
    let begun = false;
    let placeBefore: Place | undefined;
    let course = 0;
    let courseBefore = 0;
    let told = 0;
    let toldBefore = 0;
    let risesBefore = 0;
    let fallsBefore = 0;
    let eventsBefore = 0;
    let soonest = Infinity;
    for (;;) {
      const due = corner <= waiting.next ? corner : waiting.next;
      let way: Way | null;
      let state = z;
      if (unread && due > now && place.standing !== NONE && check.back.count === 0) {
        // Whatever the state is: it need not be worked out.
        if (++atOnce > MOST_AT_ONCE) return false;
        way = place.afterGuard[place.standing] ?? maker.afterGuard(place, place.standing);
        if (way && !way.continues && from !== now) {
          state = place.rest + (z - place.rest) * Math.exp(-place.rate * (now - from));
        }
      } else if (unread && due > now) {
        if (place.rate === 0) from = now;
        const passed = now - from;
        let found: Found | undefined = place.latest;
        if (found.entered !== z || (passed === 0 && (found.noise !== noise || found.back !== check.back.latest))) {
          outlook.z = z;
          outlook.passed = passed;
          check.noise = noise;
          found = outlook.of(place);
        }
        if (passed > 0 && found && (found.atOnce !== NONE || passed >= found.length)) {
          z = place.rest + (z - place.rest) * Math.exp(-place.rate * passed);
          from = now;
          course++;
          outlook.z = z;
          outlook.passed = 0;
          check.noise = noise;
          found = outlook.of(place);
        }
        if (!found) return false;
        const { goal } = found;
        if (goal !== undefined && from === now) {
          ({ place, z, ending, last } = goal);
          end = now + goal.length;
          course++;
          if (end < soonest) soonest = end;
          events += goal.events;
          unread = false;
          continue;
        }
        if (found.atOnce === NONE) {
          end = from + found.length;
          if (end < soonest) soonest = end;
          ({ ending, last } = found);
          unread = false;
          if (cause?.entered === causeState)
            cause.goal = { place, z, length: found.length, ending, last, events: events - before };
          continue;
        }
        if (++atOnce > MOST_AT_ONCE) return false;
        if (atOnce === 1 && from === now && check.back.count === 0) {
          cause = found;
          causeState = z;
          before = events;
        }
        way = place.afterGuard[found.atOnce] ?? maker.afterGuard(place, found.atOnce);
        state = z;
      } else {
        cause = undefined;
        if (begun && due > now) {
          begun = false;
          // Where the stretch before has come to the same place in the same course, so will those to come until it ends.
          const alike = place === placeBefore && course === courseBefore && told === toldBefore;
          if (alike && waiting.next === Infinity) {
            const { period, delay, count } = beat!;
            const first = end < soonest - period ? end : soonest - period;
            const room = (first < left ? first : left) / period - 2;
            if (room >= 1 && base - period >= since) {
              const times = Math.min(Math.floor(room), count - stretch - 1);
              this.rises += times * (this.rises - risesBefore);
              this.falls += times * (this.falls - fallsBefore);
              events += times * (events - eventsBefore);
              stretch += times;
              base = delay + stretch * period;
              left = until - base;
              from -= times * period;
              end -= times * period;
            }
          }
          placeBefore = place;
          courseBefore = course;
          toldBefore = told;
          risesBefore = this.rises;
          fallsBefore = this.falls;
          eventsBefore = events;
          soonest = end;
        }
        const next = end < due ? end : due;
        if (next > now) {
          const { highs } = place;
          if (highs !== shown) {
            if (highs === CHANGING) return false;
            const at = base + now;
            // What is left may be more than nothing by rounding when the end has come.
            if (at >= until) {
              this.events = events;
              return true;
            }
            if (((highs ^ shown) & 1) === 1 && at >= since) {
              if ((highs & 1) === 1) this.rises++;
              else this.falls++;
            }
            if ((highs ^ shown) > 1 && at >= since) {
              this.at = at;
              for (let which = 1; which < watched; which++) {
                if ((((highs ^ shown) >> which) & 1) === 1) onEdge(which, ((highs >> which) & 1) === 1);
              }
              this.rises = 0;
              this.falls = 0;
              told++;
            }
            shown = highs;
          }
          if (next >= left) {
            this.events = events;
            return Math.abs(place.rest + (z - place.rest) * Math.exp(-place.rate * (left - from))) <= place.reach;
          }
          now = next;
          noise = place.noise;
          if (check.back.count > 0) check.back.clear();
        }
        atOnce = 0;
        if (end < due) {
          way = place.afterGuard[place.moving[ending]!] ?? maker.afterGuard(place, place.moving[ending]!);
          state = last;
        } else {
          if (corner <= waiting.next) {
            if (raised) {
              raised = false;
              stretch++;
              corner = stretch < beat!.count ? beat!.period : Infinity;
              way = place.afterRest.way ?? maker.afterInput(place, false);
            } else {
              if (stretch > 0) {
                const { period, delay } = beat!;
                base = delay + stretch * period;
                left = until - base;
                now = 0;
                from -= period;
                end -= period;
                if (waiting.next !== Infinity) waiting.setBack(period);
              }
              begun = true;
              raised = true;
              corner = beat!.width;
              way = place.afterRaised.way ?? maker.afterInput(place, true);
            }
          } else {
            waiting.take();
            way = maker.afterEvent(place, waiting.reactor, waiting.event);
          }
          if (way && !way.continues && from !== now) {
            state = place.rest + (z - place.rest) * Math.exp(-place.rate * (now - from));
          }
        }
      }
      if (++events > maxEvents || !way) return false;

      if (way.reaction) {
        cause = undefined;
        waiting.now = now;
        this.react(way);
      }
      place = way.to;
      if (way.back >= 0) check.back.add(way.back);
      else if (check.back.count > 0) check.back.clear();
      if (way.continues) {
        if (!way.keepsLimits || place.passes) {
          const found = place.latest;
          // Mostly it has been looked at, and nothing fires for some time.
          const quiet = found.entered === z && found.atOnce === NONE && now > from && now - from < found.length;
          if (quiet) {
            end = from + found.length;
            if (end < soonest) soonest = end;
            ({ ending, last } = found);
          }
          unread = !quiet;
        }
      } else {
        if (!beat && now > 0) {
          // No stretch of an input to count from: count from here.
          const step = now + baseLow;
          const sum = base + step;
          baseLow = step - (sum - base);
          base = sum;
          left = until - base - baseLow;
          if (waiting.next !== Infinity) waiting.setBack(now);
          now = 0;
        }
        z = way.factor * state + way.offset;
        from = now;
        course++;
        end = Infinity;
        unread = true;
      }
    }
  }

  private react({ reaction, reactor }: Way): void {
    for (const slot of reaction!.cancel) this.waiting.cancel(reactor, slot);
    for (const { slot, after, event } of reaction!.schedule) this.waiting.schedule(reactor, slot, after, event);
  }
}
