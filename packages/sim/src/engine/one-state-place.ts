import type { Reaction } from '../device/contract.ts';
import type { Prepared } from './graph-store.ts';
import type { Situation } from './situation.ts';
import type { Succession } from './succession.ts';
import { SuccessionFinder } from './succession-finder.ts';

/** A signal, by its index in the signal table, and the level (V or A) above which it counts as high. */
export interface WatchedSignal {
  readonly signal: number;
  readonly level: number;
}

/** In place of `Place.highs` where a watched signal passes its level within the place. */
export const CHANGING = -1;
/** In place of a guard's number where there is none. */
export const NONE = -1;

/** How one place goes over into another: the state becomes `factor z + offset`. */
export interface Way {
  readonly to: Place;
  /** Whether state, law and limits of the state stay what they are, so that nothing has to be worked out anew. */
  readonly continues: boolean;
  readonly factor: number;
  readonly offset: number;
  /** What the reaction does to the events that wait; undefined where it leaves them alone. */
  readonly reaction: Reaction | undefined;
  readonly reactor: number;
  /** See `Succession.back`. */
  readonly back: number;
}

/** A situation with at most one state, whose inputs stand still: z(t) = rest + (z - rest) exp(-rate t). */
export interface Place {
  readonly situation: Situation;
  readonly rate: number;
  readonly rest: number;
  /** See `Situation.noise`. */
  readonly noise: number;
  /** A bound of the state that all runs of circuits keep to; one that does not is left to the general engine. */
  readonly reach: number;
  /** Equal for places in which the state obeys the same law and meets the same limits. */
  readonly course: number;
  /** Guards that follow the state, in their order. */
  readonly moving: readonly number[];
  /** The first guard past its limit whatever the state is; NONE if there is none. */
  readonly standing: number;
  /** One bit for each watched signal that is high, whatever the state is; or CHANGING. */
  readonly highs: number;
  /** The ways out, as they are met; null where a run cannot go on in places. */
  readonly afterGuard: (Way | null | undefined)[];
  readonly afterEvent: (Way | null | undefined)[];
  readonly afterRest: { way: Way | null | undefined };
  readonly afterRaised: { way: Way | null | undefined };
  /** The state with which the place was last entered anew, its rounding beyond the ordinary, and what was found for it. */
  entered: number;
  enteredNoise: number;
  /** Guard that fires at once, or NONE. */
  atOnce: number;
  /** How long until a moving guard fires (s; Infinity if none does), which one (its position), and the state then. */
  length: number;
  ending: number;
  last: number;
}

/** What an input does that is the only one to move: its index, and its two levels. */
export interface MovingInput {
  readonly index: number;
  readonly rest: number;
  readonly raised: number;
}

/**
 * Makes places of the situations of a graph, and the ways between them, each when it is first met. All that may be kept of
 * them is: a study runs through the same few places over and over.
 */
export class PlaceMaker {
  private readonly places = new Map<Situation, Place | null>();
  private readonly courses = new Map<string, number>();
  private readonly sources: { level: number; readonly slope: 0 }[];
  private readonly finder: SuccessionFinder;
  /** More than any capacitor voltage can reach (V), rounding included. */
  private readonly farthest: number;

  constructor(
    private readonly prepared: Prepared,
    private readonly watched: readonly WatchedSignal[],
    private readonly input: MovingInput | undefined,
  ) {
    const { program, graph } = prepared;
    this.sources = program.inputs.map(() => ({ level: 0, slope: 0 }));
    // On levels alone an input is never looked up by the time since its corner.
    this.finder = new SuccessionFinder(program, graph, { sources: this.sources, sinceCorner: () => 0 });
    this.farthest = 4 * graph.voltScale;
  }

  /** The place of a situation; null where there can be none. */
  of(situation: Situation): Place | null {
    let place = this.places.get(situation);
    if (place === undefined) {
      place = this.make(situation);
      this.places.set(situation, place);
    }
    return place;
  }

  /** What follows when a guard fires. */
  afterGuard(place: Place, guard: number): Way | null {
    this.stand(place);
    return (place.afterGuard[guard] ??= this.way(place, this.finder.ofGuard(place.situation, guard, 0)));
  }

  /** What follows an event of a reactor. */
  afterEvent(place: Place, reactor: number, event: number): Way | null {
    const code = this.prepared.graph.codeOf(reactor, event);
    this.stand(place);
    return (place.afterEvent[code] ??= this.way(place, this.finder.ofReactor(place.situation, reactor, event, 0)));
  }

  /** What follows when the input that moves goes to a level. */
  afterInput(place: Place, raised: boolean): Way | null {
    const { input } = this;
    const known = raised ? place.afterRaised : place.afterRest;
    if (known.way === undefined && input) {
      this.stand(place);
      this.sources[input.index]!.level = raised ? input.raised : input.rest;
      known.way = this.way(place, this.finder.ofInput(place.situation, input.index, 0));
    }
    return known.way ?? null;
  }

  /** Puts the inputs to where they are in a place. */
  private stand({ situation }: Place): void {
    this.sources.forEach((source, j) => (source.level = situation.inputs[j]!));
  }

  private way(from: Place, succession: Succession): Way | null {
    const { passage, reaction, schedules, reactor, back } = succession;
    const to = passage ? this.of(passage.to) : null;
    if (!passage || !to) return null;
    const stateless = to.situation.stateCount === 0;
    const continues = to.course === from.course && (stateless || passage.same);
    const factor = from.situation.stateCount === 0 || stateless ? 0 : passage.same ? 1 : passage.matrix[0]!;
    const offset = stateless || passage.same ? 0 : passage.offset[0]!;
    return { to, continues, factor, offset, reaction: schedules ? reaction : undefined, reactor, back };
  }

  private make(situation: Situation): Place | null {
    const { stateCount: n, rates, idle, rest, drifts, steady, recurs, noise, constants, slopes, rows } = situation;
    if (n > 1 || drifts || !steady || !recurs || slopes.some((slope) => slope !== 0)) return null;
    const moving: number[] = [];
    let standing = NONE;
    for (let g = 0; g < constants.length; g++) {
      if (n === 1 && rows[g] !== 0) moving.push(g);
      else if (standing === NONE && constants[g]! > situation.tolerances[g]!) standing = g;
    }
    const rate = idle < n ? rates[0]! : 0;
    return {
      situation,
      rate,
      rest: n === 1 ? rest[0]! : 0,
      noise,
      reach: this.reachOf(situation),
      course: this.courseOf(situation, moving),
      moving,
      standing,
      highs: this.highsOf(situation),
      afterGuard: [],
      afterEvent: [],
      afterRest: { way: undefined },
      afterRaised: { way: undefined },
      entered: Number.NaN,
      enteredNoise: 0,
      atOnce: NONE,
      length: Infinity,
      ending: NONE,
      last: 0,
    };
  }

  private courseOf(situation: Situation, moving: readonly number[]): number {
    const { stateCount: n, rates, rest, rows, constants, tolerances } = situation;
    const limits = moving.map((g) => [rows[g], constants[g], tolerances[g]]);
    const key = n === 0 ? '' : JSON.stringify([rates[0], rest[0], limits]);
    const course = this.courses.get(key) ?? this.courses.size;
    this.courses.set(key, course);
    return course;
  }

  private highsOf(situation: Situation): number {
    const { frame, stateCount: n } = situation;
    let highs = 0;
    for (const [bit, { signal, level }] of this.watched.entries()) {
      frame.need?.(signal);
      let constant = frame.constants[signal]!;
      let reach = 0;
      if (n === 1) {
        const row = frame.rows[signal]!;
        constant -= row * situation.rest[0]!;
        reach = Math.abs(row) * this.reachOf(situation);
      }
      if (constant - reach > level) highs |= 1 << bit;
      else if (constant + reach > level) return CHANGING;
    }
    return highs;
  }

  /** The state is a capacitor's voltage times the root of what it weighs. */
  private reachOf({ stateCount: n, mode }: Situation): number {
    if (n === 0) return 0;
    let reach = Infinity;
    for (const { state } of mode.capacitorVoltages.all()) {
      const weight = Math.abs(state[0]!);
      if (weight > 0) reach = Math.min(reach, this.farthest / weight);
    }
    return reach;
  }
}
