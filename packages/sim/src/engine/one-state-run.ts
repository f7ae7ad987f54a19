import { type Beat, beatOf } from '../signal/beat.ts';
import type { Prepared } from './graph-store.ts';
import { AlikeStretches } from './one-state-alike.ts';
import { BeatClock } from './one-state-clock.ts';
import { BEYOND, Course } from './one-state-course.ts';
import { type CycleCounter, EdgeTeller, type OnEdge } from './one-state-edges.ts';
import { NONE } from './one-state-found.ts';
import { CHANGING, type MovingInput, PlaceMaker, type Start, type WatchedSignal, type Way } from './one-state-place.ts';
import { Turns } from './one-state-turns.ts';
import { WaitingEvents } from './waiting-events.ts';

/** Events at one instant beyond which a run is left to the general engine, which names the parts that chatter. */
const MOST_AT_ONCE = 64;
/** Instants with edges that are told between two looks at the signal: a thousandth of a second or so. */
const LOOKS = 1024;

/** A stretch of a run (s): `from` belongs to it, `until` does not. */
interface Stretch {
  readonly from: number;
  readonly until: number;
}

/**
 * The short way through a run of a circuit with one capacitor, for studies that make ten thousands of them. It goes through
 * the same situations as the general engine, by the same rules (see `Stepper`), but only counts edges; a stretch of
 * time between two edges of an input that change nothing for the capacitor costs a few comparisons, and what follows where the
 * run stands as it did before, bit for bit, is not worked out again.
 *
 * Whatever does not fit - several states, ramps, contacts that move, a signal that passes its level on a curve, a short,
 * chatter - makes `run` give up, and the general engine has to answer.
 */
export class OneStateRun {
  /** When and what the edges are that are being told. */
  readonly edges: EdgeTeller;
  private readonly maker: PlaceMaker;
  /** Where a run begins with the input at rest, and where with the input raised; null where it cannot. */
  private readonly starts: (Start | null | undefined)[] = [];
  private readonly waiting: WaitingEvents;
  private readonly clock = new BeatClock();
  private readonly course = new Course(this.clock);
  private readonly turns: Turns;
  private readonly alike: AlikeStretches;

  /**
   * @param watched at most 30 signals.
   * @param input the input that follows a beat; all others must stand still. Undefined where none moves.
   */
  constructor(prepared: Prepared, watched: readonly WatchedSignal[], input: MovingInput | undefined) {
    this.maker = new PlaceMaker(prepared, watched, input);
    this.waiting = new WaitingEvents(prepared.program.reactors.map(({ slots }) => slots));
    this.edges = new EdgeTeller(watched.length);
    this.turns = new Turns(this.clock, this.course, this.edges);
    this.alike = new AlikeStretches(this.clock, this.course, this.edges, this.turns);
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

  /** Events of the last run, as the general engine counts them. */
  get events(): number {
    return this.turns.events;
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
   * @param cycles told of what repeats itself, instead of all its edges; all edges are told, if left out.
   * @param signal ends it, with false.
   * @returns false where the run has to be gone through by the general engine; edges told until then do not count.
   */
  run(
    beat: Beat | undefined,
    { from: since, until }: Stretch,
    maxEvents: number,
    onEdge: OnEdge,
    cycles?: CycleCounter,
    signal?: { readonly aborted: boolean },
  ): boolean {
    const { clock, course, waiting, edges, turns, maker } = this;
    clock.begin(beat, until);
    waiting.clear();
    edges.begin(since, onEdge);
    turns.clear(maxEvents, cycles);
    this.alike.clear();
    const start = this.startOf(clock.raised);
    if (!start) return false;
    course.begin(start.place, start.z);
    let begun = true;
    let atOnce = 0;
    let told = 0;
    for (;;) {
      const { place } = course;
      const due = clock.corner < waiting.next ? clock.corner : waiting.next;
      let way: Way | null;
      let ended = false;
      if (course.unread && due > clock.now) {
        const guard = course.look();
        if (guard === NONE) continue;
        if (guard === BEYOND || ++atOnce > MOST_AT_ONCE) return false;
        way = place.afterGuard[guard] ?? maker.afterGuard(place, guard);
      } else {
        ended = course.end < due;
        const next = ended ? course.end : due;
        if (next > clock.now) {
          if (place.highs !== edges.highs) {
            if (place.highs === CHANGING) return false;
            edges.at = clock.base + clock.now;
            // What is left may be more than nothing by rounding when the end has come.
            if (edges.at >= until) return true;
            const changed = edges.show(place.highs);
            if (changed > 0) {
              turns.note(changed);
              edges.tell(changed, place.highs);
              if (++told % LOOKS === 0 && signal?.aborted === true) return false;
            }
          }
          if (begun && waiting.next === Infinity) {
            begun = false;
            this.stretchBegins();
            if (turns.over) return true;
            continue;
          }
          if (next >= clock.left) return this.endsWithin(clock.left);
          clock.now = next;
          course.timePassed();
        }
        atOnce = 0;
        if (ended) {
          const guard = place.moving[course.ending]!;
          way = place.afterGuard[guard] ?? maker.afterGuard(place, guard);
        } else if (clock.corner <= waiting.next) {
          if (clock.turn()) this.setBack(beat!.period);
          if (clock.raised) begun = true;
          way = (clock.raised ? place.afterRaised.way : place.afterRest.way) ?? maker.afterInput(place, clock.raised);
        } else {
          waiting.take();
          way = maker.afterEvent(place, waiting.reactor, waiting.event);
        }
      }
      if (++turns.events > maxEvents || !way) return false;
      if (way.reaction) this.react(way);
      const { count } = course;
      course.follow(way, ended);
      if (beat === undefined && clock.now > 0 && course.count !== count) begun = true;
    }
  }

  /** The input has been raised, or without a beat the law has changed, and no event waits any more. */
  private stretchBegins(): void {
    const { clock } = this;
    if (clock.beat) this.alike.stretchBegins();
    else {
      clock.countFromNow();
      this.course.setBack(clock.passed);
    }
    this.turns.stretchBegins();
  }

  /** Whether the state keeps to its bounds to the end of the run. */
  private endsWithin(left: number): boolean {
    const { clock, course } = this;
    clock.now = left;
    course.settle();
    return Math.abs(course.z) <= course.place.reach;
  }

  private setBack(by: number): void {
    this.course.setBack(by);
    this.waiting.setBack(by);
  }

  private react({ reaction, reactor }: Way): void {
    const { waiting } = this;
    waiting.now = this.clock.now;
    for (const slot of reaction!.cancel) waiting.cancel(reactor, slot);
    for (const { slot, after, event } of reaction!.schedule) waiting.schedule(reactor, slot, after, event);
  }
}
