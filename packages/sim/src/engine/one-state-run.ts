import type { Beat } from '../signal/beat.ts';
import type { Prepared } from './graph-store.ts';
import { GuardCheck } from './guard-check.ts';
import {
  CHANGING,
  type MovingInput,
  NONE,
  type Place,
  PlaceMaker,
  type WatchedSignal,
  type Way,
} from './one-state-place.ts';
import { WaitingEvents } from './waiting-events.ts';

/** Events at one instant beyond which a run is left to the general engine, which names the parts that chatter. */
const MOST_AT_ONCE = 64;

/** Called for each passage of a watched signal through its level: which one, whether it is high now, and when (s). */
export type OnEdge = (which: number, high: boolean, at: number) => void;

/** A place, and the state with which a run begins there. */
interface Start {
  readonly place: Place;
  readonly z: number;
}

/** What of a place has to be read before time can pass. */
const NOTHING = 0;
const STANDING = 1;
const ALL = 2;

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
  private readonly check = new GuardCheck();
  private readonly amplitudes = new Float64Array(1);
  /** Events of the last run, as the general engine counts them. */
  events = 0;

  /**
   * @param watched at most 30 signals.
   * @param input the input that follows a beat; all others must stand still. Undefined where none moves.
   */
  constructor(
    private readonly prepared: Prepared,
    watched: readonly WatchedSignal[],
    private readonly input: MovingInput | undefined,
  ) {
    this.maker = new PlaceMaker(prepared, watched, input);
    this.waiting = new WaitingEvents(prepared.program.reactors.map(({ slots }) => slots));
  }

  private startOf(raised: boolean): Start | null {
    const { program, graph } = this.prepared;
    const { branches, reactors, inputs, initial } = program;
    if (reactors.some(({ timetable }) => timetable.length > 0)) return null;
    const values = new Float64Array(inputs.length + 1).fill(1);
    for (const [j, { wave }] of inputs.entries()) {
      if (j === this.input?.index) values[j] = raised ? this.input.raised : this.input.rest;
      else if (wave.shape === 'constant') values[j] = wave.level;
      else return null;
    }
    const found = graph.find({
      pieces: branches.map((branch) => branch.start),
      states: reactors.map((reactor) => reactor.start),
      inputs: values,
      inputSlopes: new Float64Array(inputs.length + 1),
      recurs: true,
    });
    if ('shortedParts' in found) return null;
    const place = this.maker.of(found);
    if (!place) return null;
    const z = new Float64Array(graph.largestStateCount + 1);
    graph.stateOf(found, initial, [], z);
    return { place, z: z[0]! };
  }

  /**
   * Goes from 0 to `until` (s), with the input in the given beat, and tells the edges in between, those of one instant in the
   * order of the signals. A signal that is high from the beginning has a rise at 0.
   *
   * @returns false where the run has to be gone through by the general engine; edges told until then do not count.
   */
  run(beat: Beat | undefined, until: number, maxEvents: number, onEdge: OnEdge): boolean {
    const { waiting, check, maker } = this;
    waiting.clear();
    check.back.clear();
    check.noise = 0;
    this.events = 0;
    let raised = beat !== undefined && beat.delay === 0 && beat.count > 0;
    const start = (this.starts[raised ? 1 : 0] ??= this.startOf(raised));
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

    let unread = ALL;
    let shown = 0;
    let atOnce = 0;
    for (;;) {
      const due = corner <= waiting.next ? corner : waiting.next;
      let way: Way | null;
      let state = z;
      if (unread !== NOTHING && due > now) {
        let guard = place.standing;
        if (unread === ALL) {
          const known = place.entered === z && place.enteredNoise === check.noise && check.back.count === 0;
          if (!known && !this.settle(place, z)) return false;
          guard = place.atOnce;
          end = from + place.length;
          ending = place.ending;
          last = place.last;
        }
        if (guard === NONE) {
          unread = NOTHING;
          continue;
        }
        // A course that has not been looked at for its end has to be once this is done.
        if (unread === STANDING) unread = NOTHING;
        if (++atOnce > MOST_AT_ONCE) return false;
        way = place.afterGuard[guard] ?? maker.afterGuard(place, guard);
        if (way && !way.continues) state = stateAt(place, z, now - from);
      } else {
        const next = end < due ? end : due;
        if (next > now) {
          const { highs } = place;
          if (highs !== shown) {
            if (highs === CHANGING) return false;
            const at = base + now;
            // What is left may be more than nothing by rounding when the end has come.
            if (at >= until) return true;
            for (let which = 0, changed = highs ^ shown; changed !== 0; which++, changed >>= 1) {
              if ((changed & 1) === 1) onEdge(which, ((highs >> which) & 1) === 1, at);
            }
            shown = highs;
          }
          if (next >= left) return Math.abs(stateAt(place, z, left - from)) <= place.reach;
          now = next;
          atOnce = 0;
          check.noise = place.noise;
          check.back.clear();
        } else if (++atOnce > MOST_AT_ONCE) return false;
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
                waiting.setBack(period);
              }
              raised = true;
              corner = beat!.width;
              way = place.afterRaised.way ?? maker.afterInput(place, true);
            }
          } else {
            const { reactor, event } = waiting.take();
            way = maker.afterEvent(place, reactor, event);
          }
          if (way && !way.continues) state = stateAt(place, z, now - from);
        }
      }
      if (++this.events > maxEvents || !way) return false;

      if (way.reaction) this.react(way, now);
      place = way.to;
      if (way.back >= 0) check.back.add(way.back);
      else if (check.back.count > 0) check.back.clear();
      if (way.continues) {
        if (unread === NOTHING && place.standing !== NONE) unread = STANDING;
      } else {
        if (!beat && now > 0) {
          // No stretch of an input to count from: count from here.
          const step = now + baseLow;
          const sum = base + step;
          baseLow = step - (sum - base);
          base = sum;
          left = until - base - baseLow;
          waiting.setBack(now);
          now = 0;
        }
        z = way.factor * state + way.offset;
        from = now;
        end = Infinity;
        unread = ALL;
      }
    }
  }

  /** Finds what a place entered with a state leads to; false where that is beyond closed forms. */
  private settle(place: Place, z: number): boolean {
    const { check, amplitudes } = this;
    const { situation, rate, rest, moving, reach } = place;
    if (Math.abs(z) > reach) return false;
    const { constants, tolerances, scales } = situation;
    const turning = check.back.count > 0;
    amplitudes[0] = z - rest;
    place.entered = turning ? Number.NaN : z;
    place.enteredNoise = check.noise;
    place.atOnce = check.pastLimit(situation, amplitudes);
    place.length = Infinity;
    place.ending = NONE;
    if (place.atOnce !== NONE || rate === 0) return true;
    for (let position = 0; position < moving.length; position++) {
      const g = moving[position]!;
      const c = check.coefficients[g]!;
      const level = constants[g]!;
      const tolerance = tolerances[g]! + scales[g]! * check.noise;
      if (c >= 0 || level < -tolerance) continue;
      // A limit that is only just reached: the general engine says when.
      if (level <= tolerance) return false;
      const length = Math.log(-c / level) / rate;
      if (!(length > 0)) continue;
      if (length >= place.length) continue;
      place.length = length;
      place.ending = position;
      place.last = rest + amplitudes[0]! * (-level / c);
    }
    return true;
  }

  private react({ reaction, reactor }: Way, now: number): void {
    for (const slot of reaction!.cancel) this.waiting.cancel(reactor, slot);
    for (const { slot, after, event } of reaction!.schedule) this.waiting.schedule(reactor, slot, now + after, event);
  }
}

/** The state of a place, entered with z, after a time (s). */
function stateAt({ rate, rest }: Place, z: number, time: number): number {
  return time === 0 ? z : rest + (z - rest) * Math.exp(-rate * time);
}
