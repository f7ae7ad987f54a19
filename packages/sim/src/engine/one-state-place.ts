import type { Reaction } from '../device/contract.ts';
import type { Prepared } from './graph-store.ts';
import { Found, NONE } from './one-state-found.ts';
import { SeveralStates } from './several-states.ts';
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
/** How one place goes over into another: the state becomes `factor z + offset`. */
export interface Way {
  readonly to: Place;
  /** Whether the state and its law stay what they are, so that it need not be worked out. */
  readonly continues: boolean;
  /** Whether its limits do as well. */
  readonly keepsLimits: boolean;
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
  /** Equal for places in which the state obeys the same law, and for those in which it also meets the same limits. */
  readonly law: number;
  readonly limits: number;
  /** Guards that follow the state, in their order. */
  readonly moving: readonly number[];
  /** The first guard past its limit whatever the state is, where none that follows the state comes before it; else NONE. */
  readonly standing: number;
  /** Whether any guard is past its limit whatever the state is. */
  readonly passes: boolean;
  /** One bit for each watched signal that is high, whatever the state is; or CHANGING. */
  readonly highs: number;
  /** The ways out, as they are met; null where a run cannot go on in places. */
  readonly afterGuard: (Way | null | undefined)[];
  readonly afterEvent: (Way | null | undefined)[];
  readonly afterRest: { way: Way | null | undefined };
  readonly afterRaised: { way: Way | null | undefined };
  /** Found for this place of late, which of them was used last, and which is the oldest. */
  readonly found: Found[];
  latest: Found;
  oldest: number;
}

/** A place, and the state with which a run begins there. */
export interface Start {
  readonly place: Place;
  readonly z: number;
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
  private readonly laws: { readonly states: number; readonly rate: number; readonly rest: number }[] = [];
  private readonly limits: (readonly number[])[] = [];
  private readonly sources: { level: number; readonly slope: 0 }[];
  private readonly finder: SuccessionFinder;
  private readonly states: SeveralStates;
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
    this.states = new SeveralStates(graph);
    this.farthest = 4 * graph.voltScale;
  }

  /** Where a run begins, with the input that moves at one of its levels; null where it cannot. */
  start(raised: boolean): Start | null {
    const { program, graph } = this.prepared;
    const { branches, reactors, inputs, initial, network } = program;
    // Strays of loose nets begin where the rest of the circuit has settled, see `firstVoltages`.
    if (network.held.length > 0) return null;
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
    const place = this.of(found);
    if (!place) return null;
    const z = new Float64Array(graph.largestStateCount + 1);
    graph.stateOf(found, initial, [], z);
    return { place, z: z[0]! };
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
    const continues = to.law === from.law && (stateless || passage.same);
    const keepsLimits = to.limits === from.limits;
    const factor = from.situation.stateCount === 0 || stateless ? 0 : passage.same ? 1 : passage.matrix[0]!;
    const offset = stateless || passage.same ? 0 : passage.offset[0]!;
    return { to, continues, keepsLimits, factor, offset, reaction: schedules ? reaction : undefined, reactor, back };
  }

  private make(situation: Situation): Place | null {
    const { stateCount: n, rates, idle, rest, drifts, steady, recurs, noise, constants, rows } = situation;
    // A mode that cannot be told ends the run by name once time passes in it; of several states the short way knows none.
    if (situation.mode.untold || situation.grows || this.states.possible(situation.pieces)) return null;
    if (n > 1 || drifts || !steady || !recurs) return null;
    const moving: number[] = [];
    let standing = NONE;
    let passes = false;
    for (let g = 0; g < constants.length; g++) {
      if (n === 1 && rows[g] !== 0) moving.push(g);
      else if (constants[g]! > situation.tolerances[g]!) {
        if (!passes && moving.length === 0) standing = g;
        passes = true;
      }
    }
    const rate = idle < n ? rates[0]! : 0;
    const found = new Found();
    return {
      situation,
      rate,
      rest: n === 1 ? rest[0]! : 0,
      noise,
      reach: this.reachOf(situation),
      law: this.lawOf(n, rate, n === 1 ? rest[0]! : 0),
      limits: this.limitsOf(situation, moving),
      moving,
      standing,
      passes,
      highs: this.highsOf(situation),
      afterGuard: [],
      afterEvent: [],
      afterRest: { way: undefined },
      afterRaised: { way: undefined },
      found: [found],
      latest: found,
      oldest: 0,
    };
  }

  /** A number for a law: the same for the same. */
  private lawOf(states: number, rate: number, rest: number): number {
    const { laws } = this;
    for (let i = 0; i < laws.length; i++) {
      const law = laws[i]!;
      if (law.states === states && law.rate === rate && law.rest === rest) return i;
    }
    return laws.push({ states, rate, rest }) - 1;
  }

  /** A number for the limits of the state: the same for the same. */
  private limitsOf({ rows, constants, tolerances }: Situation, moving: readonly number[]): number {
    const { limits } = this;
    for (let i = 0; i < limits.length; i++) {
      const other = limits[i]!;
      if (other.length !== 3 * moving.length) continue;
      let same = true;
      for (let m = 0; m < moving.length && same; m++) {
        const g = moving[m]!;
        same = other[3 * m] === rows[g] && other[3 * m + 1] === constants[g] && other[3 * m + 2] === tolerances[g];
      }
      if (same) return i;
    }
    return limits.push(moving.flatMap((g) => [rows[g]!, constants[g]!, tolerances[g]!])) - 1;
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
