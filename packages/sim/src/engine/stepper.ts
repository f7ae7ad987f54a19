import type { Observer } from '../trace/observer.ts';
import { Agenda } from './agenda.ts';
import { Audience } from './audience.ts';
import type { Checkpoint } from './checkpoint.ts';
import { CrossingFinder } from './crossing.ts';
import { EndingSearch } from './ending-search.ts';
import { EventCounter } from './event-counter.ts';
import { GuardCheck } from './guard-check.ts';
import { type FailureCode, failureMessage, type Outcome } from './outcome.ts';
import { type Program, signalTable } from './program.ts';
import type { Situation } from './situation.ts';
import { SituationGraph } from './situation-graph.ts';
import type { Standing } from './standing.ts';
import type { Succession } from './succession.ts';
import { SuccessionFinder } from './succession-finder.ts';
import { voltScale } from './volt-scale.ts';
import { WaysBack } from './ways-back.ts';

const EPSILON = Number.EPSILON;
/** A part of the state that decays by less than this is stepped by what it changes, not by where it aims. */
const NEARLY_STILL = 0.9;
/** In place of a guard's number where there is none. */
const NO_GUARD = -1;

/** Limits of an advance. */
export interface Limits {
  /** Events the whole run may handle. */
  readonly maxEvents: number;
  /** Events after which this advance pauses; never, if not given. */
  readonly atATime?: number | undefined;
  readonly signal?: { readonly aborted: boolean } | undefined;
  readonly onProgress?: ((share: number) => void) | undefined;
}

/**
 * Runs a program from event to event. Within a situation everything is a sum of exponentials, so a step is exact however
 * long it is; it ends at the first guard that fires or at the next entry of the agenda. A stop in between changes nothing:
 * the state stays that of the last event, so going on gives the same run, bit for bit.
 *
 * At one instant the order is: what the agenda holds, pieces of branches (the network must be consistent before
 * comparators are read), reset, trigger, threshold.
 */
export class Stepper {
  private readonly graph: SituationGraph;
  private readonly agenda: Agenda;
  private readonly finder: CrossingFinder;
  private readonly check: GuardCheck;
  private readonly successions: SuccessionFinder;
  private readonly audience: Audience;
  private readonly seesSegments: boolean;
  private readonly seesEvents: boolean;
  private readonly counter: EventCounter;
  private readonly search: EndingSearch;
  private readonly amplitudes: Float64Array;
  private situation: Situation | undefined;
  private z: Float64Array;
  private spare: Float64Array;
  /** Time of the last event, in two parts, and how far beyond it the observers have seen (s). */
  private time = 0;
  private timeLow = 0;
  private shown = 0;
  /** Rounding of the capacitor voltages (V) from the situation in which time last passed, see `Situation.noise`. */
  private noise = 0;
  /** Ways back of the branches that have moved at this instant, see `Succession.back`. */
  private readonly back = new WaysBack();
  private failure: { code: FailureCode; message: string; parts: readonly string[] } | undefined;

  /**
   * A run of the program from time 0, from a checkpoint of the same program, or from where a run of another version of
   * the circuit stands.
   */
  constructor(
    private readonly program: Program,
    observers: readonly Observer[] | Audience,
    from?: Checkpoint | Standing,
  ) {
    const { branches, reactors, inputs } = program;
    this.agenda = new Agenda(
      inputs.map((input) => input.wave),
      reactors,
    );
    this.graph = new SituationGraph(program, voltScale(program));
    this.successions = new SuccessionFinder(program, this.graph, this.agenda);
    const most = this.graph.largestStateCount;
    this.finder = new CrossingFinder(most);
    this.check = new GuardCheck(most, this.graph.mostGuards);
    this.z = new Float64Array(most);
    this.spare = new Float64Array(most);
    this.amplitudes = new Float64Array(most);
    this.counter = new EventCounter(branches.length + reactors.length);
    this.search = new EndingSearch(this.finder, this.check);
    this.audience = observers instanceof Audience ? observers : new Audience(observers, signalTable(program));
    this.seesSegments = this.audience.seesSegments;
    this.seesEvents = this.audience.seesEvents;
    if (from === undefined) this.begin();
    else if ('modal' in from) this.resume(from);
    else this.takeOver(from);
  }

  private begin(): void {
    const { branches, reactors } = this.program;
    const start = this.enter(
      branches.map((branch) => branch.start),
      reactors.map((reactor) => reactor.start),
    );
    if (start) this.graph.stateOf(start, this.program.initial, [], this.z);
  }

  private resume(from: Checkpoint): void {
    ({ time: this.time, timeLow: this.timeLow, shown: this.shown, noise: this.noise } = from);
    for (const event of from.back) this.back.add(event);
    this.counter.handled = from.handled;
    this.counter.atOnce = from.atOnce;
    this.agenda.resume(from.agenda);
    this.graph.remember(from.roots);
    this.enter(from.pieces, from.states);
    this.z.set(from.modal);
  }

  private takeOver(from: Standing): void {
    ({ time: this.time, timeLow: this.timeLow } = from);
    this.counter.handled = from.handled;
    this.agenda.resumeAt(from.agenda, { high: from.time, low: from.timeLow });
    const start = this.enter(from.pieces, from.states);
    if (start) this.graph.stateOf(start, from.capacitors, from.nodes, this.z);
  }

  /** Takes up the situation that pieces and states make now; undefined, with the run failed, where it is a short. */
  private enter(pieces: readonly number[], states: readonly number[]): Situation | undefined {
    const found = this.graph.find({ pieces, states, ...this.successions.inputsAt(this.time, this.timeLow) });
    if ('shortedParts' in found) {
      this.fail('short', found.shortedParts);
      return undefined;
    }
    this.situation = found;
    return found;
  }

  /** The run as it stands, as plain data; undefined when it has failed. Changes nothing. */
  checkpoint(): Checkpoint | undefined {
    const { situation } = this;
    if (this.failure || !situation) return undefined;
    const { time, timeLow, shown, noise } = this;
    const { handled, atOnce } = this.counter;
    return {
      version: 1,
      ...{ time, timeLow, shown, handled, atOnce, noise },
      back: this.back.list(),
      pieces: situation.pieces,
      states: situation.states,
      modal: [...this.z.subarray(0, situation.stateCount)],
      agenda: this.agenda.standing(),
      roots: this.graph.roots(),
    };
  }

  /**
   * What a run of a changed circuit can take over from this one; undefined when it has failed. This run is over then: its
   * state is worked out up to now, but its situation is not.
   */
  standing(): Standing | undefined {
    const situation = this.situation;
    if (this.failure || !situation) return undefined;
    const elapsed = this.settleNow();
    const { capacitorVoltages, nodes } = situation.mode;
    return {
      time: this.time,
      timeLow: this.timeLow,
      handled: this.counter.handled,
      pieces: situation.pieces,
      states: situation.states,
      capacitors: capacitorVoltages
        .slice(0, this.program.network.capacitors.length)
        .map((readout) => situation.valueOf(readout, this.z, elapsed)),
      nodes: nodes.map((readout) => situation.valueOf(readout, this.z, elapsed)),
      agenda: this.agenda.standing(),
    };
  }

  /** Lets an event of a reactor happen now (where the observers have seen to), as if it stood in its timetable. */
  inject(reactor: number, event: number): void {
    const situation = this.situation;
    if (this.failure || !situation) return;
    const elapsed = this.settleNow();
    this.counter.handled++;
    this.counter.atOnce = 0;
    this.follow(
      this.successions.ofReactor(situation, reactor, event, elapsed, this.time, this.timeLow),
      NO_GUARD,
      elapsed,
    );
  }

  /** Where the observers have seen to (s). */
  get now(): number {
    return this.time + (this.timeLow + this.shown);
  }

  /** A signal's value now, by its index in the signal table; NaN when the run never began. */
  signal(index: number): number {
    const { situation, shown } = this;
    if (!situation) return Number.NaN;
    const { constants, slopes, rows, rates } = situation.frame;
    let value = constants[index]! + slopes[index]! * shown;
    for (let k = 0; k < rates.length; k++) {
      const amplitude = this.z[k]! - situation.rest[k]!;
      value += rows[index * rates.length + k]! * amplitude * Math.exp(-rates[k]! * shown);
    }
    return value;
  }

  /** Works the state out up to where the observers have seen; returns how far that is into the situation (s). */
  private settleNow(): number {
    const situation = this.situation!;
    const elapsed = this.shown;
    for (let k = 0; k < situation.stateCount; k++) this.amplitudes[k] = this.z[k]! - situation.rest[k]!;
    this.pass(situation, elapsed);
    return elapsed;
  }

  /** Goes on until the given time (s) or until something ends the run; tells how it stands. */
  advance(until: number, limits: Limits): Outcome {
    const pauseAt = this.counter.handled + (limits.atATime ?? Infinity);
    while (!this.failure && this.step(until, limits)) {
      if (this.counter.handled >= pauseAt)
        return { code: 'paused', ok: true, time: this.time, events: this.counter.handled };
    }
    const common = { time: this.failure ? this.time : Math.max(until, this.now), events: this.counter.handled };
    if (!this.failure) return { code: 'reached', ok: true, ...common };
    return { ...this.failure, ok: false, ...common };
  }

  /** Tells the observers that the run is over. */
  finish(): void {
    this.audience.end(this.time + this.shown);
  }

  /** Handles the next event, and the time before it; false when `until` comes first or the run failed. */
  private step(until: number, limits: Limits): boolean {
    const situation = this.situation!;
    const { rest, stateCount: n } = situation;
    const { z, amplitudes, check } = this;
    for (let k = 0; k < n; k++) amplitudes[k] = z[k]! - rest[k]!;
    const next = this.agenda.next;
    const toNext = next.high - this.time - this.timeLow + next.low;
    const toEnd = until - this.time - this.timeLow;
    if (toEnd < 0) return false;
    // What else is due at this instant comes before any comparator is read.
    if (toNext > 0) {
      const firing = check.pastLimit(situation, amplitudes, this.noise, this.back);
      if (firing >= 0) {
        if (!this.count(limits, 0, until)) return false;
        this.follow(this.successionOf(situation, firing, 0), firing, 0);
        return !this.failure;
      }
    } else check.liveCount = 0;

    let length = toNext > 0 ? Math.min(toNext, toEnd) : 0;
    this.search.run(situation, length);
    const ending = this.search.guard;
    length = this.search.length;

    if (ending < 0 && toNext > toEnd) {
      this.show(situation, length);
      return false;
    }
    if (check.liveCount > 0) situation.likely = ending;
    if (!this.count(limits, length, until)) return false;
    this.show(situation, length);
    this.pass(situation, length);
    if (ending >= 0) {
      this.follow(this.successionOf(situation, ending, length), ending, length);
      return !this.failure;
    }
    this.time = next.high;
    this.timeLow = next.low;
    this.followAgenda(situation, length);
    return !this.failure;
  }

  /** Shows the observers the time up to `length` seconds into the situation, as far as they have not seen it. */
  private show(situation: Situation, length: number): void {
    if (length <= this.shown) return;
    if (this.seesSegments) {
      this.audience.segment(situation, this.amplitudes, this.time, this.timeLow, this.shown, length);
    }
    this.shown = length;
  }

  /** Goes `length` seconds on within the situation. */
  private pass(situation: Situation, length: number): void {
    this.shown = 0;
    if (length === 0) return;
    this.noise = situation.noise;
    this.back.clear();
    const { rates, rest, drift, idle, stateCount: n } = situation;
    const { z, amplitudes } = this;
    for (let k = 0; k < idle; k++) z[k] = z[k]! + drift[k]! * length;
    const powers = this.finder.powersAt(length, rates, idle);
    for (let k = idle; k < n; k++) {
      const power = powers[k]!;
      // A short step towards a far aim must not pick up the rounding of the aim.
      z[k] =
        power > NEARLY_STILL
          ? z[k]! + amplitudes[k]! * Math.expm1(-rates[k]! * length)
          : rest[k]! + amplitudes[k]! * power;
    }
    if (situation.drifts) for (let k = idle; k < n; k++) z[k] = z[k]! + drift[k]! * length;
    // Time as an unevaluated sum of two doubles (Knuth), so that ten million steps lose nothing.
    const step = length + this.timeLow;
    const sum = this.time + step;
    const part = sum - this.time;
    this.timeLow = this.time - (sum - part) + (step - part);
    this.time = sum;
  }

  private successionOf(situation: Situation, g: number, elapsed: number): Succession {
    return situation.afterGuard[g] ?? this.successions.ofGuard(situation, g, elapsed, this.time, this.timeLow);
  }

  private followAgenda(situation: Situation, elapsed: number): void {
    const { agenda, successions, time, timeLow } = this;
    const input = agenda.nextInput;
    if (input >= 0) {
      agenda.advanceInput();
      this.follow(successions.ofInput(situation, input, elapsed, time, timeLow), NO_GUARD, elapsed);
      return;
    }
    const { reactor, event } = agenda.takeEvent();
    this.follow(successions.ofReactor(situation, reactor, event, elapsed, time, timeLow), NO_GUARD, elapsed);
  }

  /** Shows an event, lets its reaction schedule, and takes up the next situation. */
  private follow(succession: Succession, guard: number, elapsed: number): void {
    const { time, timeLow } = this;
    const situation = this.situation!;
    if (this.seesEvents) this.audience.event(succession, situation, guard, this.z, elapsed, time, timeLow);
    if (this.counter.nearLimit) this.counter.note(succession.part);
    if (succession.schedules) {
      const { reactor } = succession;
      const reaction = succession.reaction!;
      for (const slot of reaction.cancel) this.agenda.cancel(reactor, slot);
      for (const { slot, after, event } of reaction.schedule) {
        this.agenda.schedule(reactor, slot, time, timeLow, after, event);
      }
    }
    const { passage } = succession;
    if (!passage) {
      this.fail('short', succession.shortedParts!);
      return;
    }
    const { to } = passage;
    if (!passage.same) {
      const { matrix, offset } = passage;
      const { z, spare } = this;
      const m = situation.stateCount;
      for (let k = 0; k < to.stateCount; k++) {
        let value = offset[k]!;
        for (let i = 0; i < m; i++) value += matrix[k * m + i]! * z[i]!;
        spare[k] = value;
      }
      this.z = spare;
      this.spare = z;
    }
    this.situation = to;
    const { back } = succession;
    if (back >= 0) this.back.add(back);
    else this.back.clear();
  }

  /** Counts an event; false when the run may not go on. */
  private count(limits: Limits, length: number, until: number): boolean {
    const failure = this.counter.count(length > EPSILON * this.time, limits);
    if (failure) this.fail(failure, failure === 'chatter' ? this.counter.takingPart : [], limits.maxEvents);
    else if (this.counter.timeToLook) limits.onProgress?.(this.time / until);
    return !failure;
  }

  private fail(code: FailureCode, parts: readonly string[], budget = 0): void {
    this.failure = { code, message: failureMessage(code, parts, budget), parts };
  }
}
