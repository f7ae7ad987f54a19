import type { Guard } from '../device/contract.ts';
import type { RunEvent } from '../trace/event.ts';
import type { SegmentView } from '../trace/frame.ts';
import type { Observer } from '../trace/observer.ts';
import { Agenda } from './agenda.ts';
import { CrossingFinder } from './crossing.ts';
import type { Outcome, OutcomeCode } from './outcome.ts';
import { type Program, signalTable } from './program.ts';
import type { Situation } from './situation.ts';
import { type Settled, SituationGraph } from './situation-graph.ts';
import type { Succession } from './succession.ts';

const EPSILON = Number.EPSILON;
/**
 * Two instants of one segment closer than this share of its length are one instant: the roundings of a few dozen segments
 * lie between them, no physics does.
 */
const SAME_INSTANT = 64 * EPSILON;
/** A part of the state that decays by less than this is stepped by what it changes, not by where it aims. */
const NEARLY_STILL = 0.9;
/** Within this share of a segment's length it is worth looking whether a guard and a known time are one instant. */
const NEARLY_SAME = 2 ** -33;
/** Events allowed at one instant: a multiple of the things that can switch, far above what settling needs. */
const MOST_PER_SWITCH = 16;
/** Events between two looks at the caller's wish to stop; a power of two. */
const EVENTS_PER_LOOK = 4096;

/** In place of a guard's number where the event came from the agenda. */
const NO_GUARD = -1;

/** Limits of an advance. */
export interface Limits {
  /** Events the whole run may handle. */
  readonly maxEvents: number;
  readonly signal?: { readonly aborted: boolean } | undefined;
  readonly onProgress?: ((share: number) => void) | undefined;
}

/**
 * Runs a program from event to event. Within a situation everything is a sum of exponentials, so a step is exact however
 * long it is; it ends at the first guard that fires, at the next entry of the agenda, or at the time asked for.
 *
 * At one instant the order is: pieces of branches (the network must be consistent before comparators are read), inputs
 * and timetables (they end the segment), reset, trigger, threshold.
 */
export class Stepper {
  private readonly graph: SituationGraph;
  private readonly agenda: Agenda;
  private readonly finder: CrossingFinder;
  private readonly eventObservers: readonly Observer[];
  private readonly segmentObservers: readonly Observer[];
  private readonly view: SegmentView;
  private readonly mostAtOnce: number;
  private situation: Situation | undefined;
  private z: Float64Array;
  private spare: Float64Array;
  private readonly coefficients: Float64Array;
  private readonly live: Int32Array;
  private liveCount = 0;
  private time = 0;
  private timeLow = 0;
  private handled = 0;
  private atOnce = 0;
  /** Rounding of the capacitor voltages (V) from the situation in which time last passed, see `Situation.noise`. */
  private noise = 0;
  private readonly recent: string[] = [];
  private failure: { code: OutcomeCode; message: string; parts: readonly string[] } | undefined;

  constructor(
    private readonly program: Program,
    private readonly observers: readonly Observer[],
  ) {
    const { network, branches, reactors, inputs, initial } = program;
    this.agenda = new Agenda(
      inputs.map((input) => input.wave),
      reactors,
    );
    this.graph = new SituationGraph(program, voltScale(program));
    const most = this.graph.largestStateCount;
    this.finder = new CrossingFinder(most);
    this.z = new Float64Array(most);
    this.spare = new Float64Array(most);
    let exits = reactors.length * 4;
    for (const branch of branches) exits += Math.max(...branch.pieces.map((piece) => piece.exits.length));
    this.coefficients = new Float64Array(most * exits);
    this.live = new Int32Array(exits);
    this.mostAtOnce = 64 + MOST_PER_SWITCH * (branches.length + reactors.length);
    this.eventObservers = observers.filter((observer) => observer.event !== undefined);
    this.segmentObservers = observers.filter((observer) => observer.segment !== undefined);
    for (const observer of observers) observer.begin?.(signalTable(program));

    const start = this.graph.find({
      pieces: branches.map((branch) => branch.start),
      states: reactors.map((reactor) => reactor.start),
      ...this.inputsNow(),
    });
    this.view = {
      start: 0,
      startLow: 0,
      length: 0,
      frame: {
        rates: new Float64Array(0),
        rows: new Float64Array(0),
        constants: new Float64Array(0),
        slopes: new Float64Array(0),
      },
      amplitudes: new Float64Array(most),
    };
    if ('shortedParts' in start) {
      this.fail('short', start.shortedParts);
      return;
    }
    this.situation = start;
    const mode = start.mode;
    for (let k = 0; k < start.stateCount; k++) {
      let value = 0;
      for (let c = 0; c < network.capacitors.length; c++) {
        value += mode.project[k * mode.capacitorCount + c]! * initial[c]!;
      }
      for (let j = 0; j < start.inputs.length; j++) {
        value += mode.projectInput[k * start.inputs.length + j]! * start.inputs[j]!;
      }
      this.z[k] = value;
    }
  }

  /** Goes on until the given time (s) or until something ends the run; tells how it stands. */
  advance(until: number, limits: Limits): Outcome {
    while (!this.failure && this.step(until, limits)) {
      /* one event after the other */
    }
    return this.outcome(until);
  }

  /** Tells the observers that the run is over. */
  finish(): void {
    for (const observer of this.observers) observer.end?.(this.time);
  }

  private outcome(until: number): Outcome {
    const common = { time: this.failure ? this.time : until, events: this.handled };
    if (!this.failure) return { code: 'reached', ok: true, ...common };
    return { ...this.failure, ok: false, ...common };
  }

  /** Handles the events from here up to the end of the next segment; false when `until` is reached or the run failed. */
  private step(until: number, limits: Limits): boolean {
    const situation = this.situation!;
    const n = situation.stateCount;
    const z = this.z;
    const rest = situation.rest;
    const amplitudes = this.view.amplitudes;
    for (let k = 0; k < n; k++) amplitudes[k] = z[k]! - rest[k]!;

    const next = this.agenda.next;
    const toNext = next.high - this.time - this.timeLow + next.low;
    const toEnd = until - this.time - this.timeLow;
    // What else is due at this instant comes before any comparator is read.
    const firing = toNext <= 0 && toEnd >= 0 ? NO_GUARD : this.guardPastLimit(situation, amplitudes);
    if (firing >= 0) {
      if (!this.count(limits, 0, until)) return false;
      this.follow(this.successionOfGuard(situation, firing, 0), firing, 0);
      return !this.failure;
    }

    let length = toNext <= toEnd ? toNext : toEnd;
    if (length < 0) length = 0;
    let ending = NO_GUARD;
    const live = this.live;
    const liveCount = length > 0 ? this.liveCount : 0;
    const likely = length > 0 ? situation.likely : NO_GUARD;
    // The guard that ended this situation last time goes first: its root usually rules the others out at one evaluation.
    for (let turn = likely >= 0 ? -1 : 0; turn < liveCount; turn++) {
      const g = turn < 0 ? likely : live[turn]!;
      if (turn >= 0 && g === likely) continue;
      // What happens at known times goes before a guard of the same instant; guards go by rank, the order of the list.
      const limit = ending < 0 ? length * (1 - SAME_INSTANT) : length;
      const found = this.finder.first(situation, g, this.coefficients, limit, ending >= 0 && g < ending);
      if (found > limit) continue;
      if (ending < 0 && length - found < NEARLY_SAME * length && this.standsOnLimit(situation, g, length)) continue;
      situation.roots[g] = found;
      if (ending < 0 || g < ending || found < length * (1 - SAME_INSTANT)) {
        ending = g;
        length = found;
      }
    }
    if (length > 0) situation.likely = ending;

    if (ending < 0 && toNext > toEnd) {
      this.pass(situation, length);
      this.time = until;
      this.timeLow = 0;
      return false;
    }
    if (!this.count(limits, length, until)) return false;
    this.pass(situation, length);
    if (ending >= 0) {
      this.follow(this.successionOfGuard(situation, ending, length), ending, length);
      return !this.failure;
    }
    this.time = next.high;
    this.timeLow = next.low;
    this.handleAgenda(situation, length);
    return !this.failure;
  }

  /**
   * The first guard that is past its limit already, or that stands on it to rounding and rises; -1 if none. Fills in the
   * coefficients of all guards and lists the live ones: those whose rising terms could carry them past their limit.
   */
  private guardPastLimit(situation: Situation, amplitudes: Float64Array): number {
    const n = situation.stateCount;
    const { rows, constants, slopes, tolerances, scales } = situation;
    const { coefficients, noise } = this;
    const guards = constants.length;
    let liveCount = 0;
    for (let g = 0, at = 0; g < guards; g++, at += n) {
      const constant = constants[g]!;
      let value = constant;
      let most = constant;
      for (let k = 0; k < n; k++) {
        const c = rows[at + k]! * amplitudes[k]!;
        coefficients[at + k] = c;
        value += c;
        if (c > 0) most += c;
      }
      const tolerance = tolerances[g]! + scales[g]! * noise;
      if (value > tolerance || (value >= -tolerance && this.rises(situation, g))) return g;
      if (most > 0 || slopes[g]! > 0) this.live[liveCount++] = g;
    }
    this.liveCount = liveCount;
    return -1;
  }

  /** Whether a guard is no further past its limit at a time than rounding; over a long interval it adds up. */
  private standsOnLimit(situation: Situation, g: number, time: number): boolean {
    return this.finder.valueOf(situation, g, this.coefficients, time) <= situation.tolerances[g]!;
  }

  /** Whether a guard that stands on its limit is about to pass it: the first derivative that is not rounding decides. */
  private rises(situation: Situation, g: number): boolean {
    const { stateCount: n, rates, idle } = situation;
    const coefficients = this.coefficients;
    const at = g * n;
    const slope = situation.slopes[g]!;
    let size = 0;
    let value = slope;
    let bound = slope < 0 ? -slope : slope;
    for (let k = idle; k < n; k++) {
      const c = coefficients[at + k]!;
      const term = rates[k]! * c;
      size += c < 0 ? -c : c;
      value -= term;
      bound += term < 0 ? -term : term;
    }
    if (size <= situation.tolerances[g]! && slope === 0) return false;
    if (Math.abs(value) > 64 * EPSILON * bound) return value > 0;
    for (let order = 2, sign = 1; order <= n + 1; order++, sign = -sign) {
      value = 0;
      bound = 0;
      for (let k = idle; k < n; k++) {
        const term = coefficients[at + k]! * rates[k]! ** order;
        value += sign * term;
        bound += Math.abs(term);
      }
      if (Math.abs(value) > 64 * EPSILON * bound) return value > 0;
    }
    return false;
  }

  /** Goes `length` seconds on within the situation and shows the segment to the observers. */
  private pass(situation: Situation, length: number): void {
    if (length === 0) return;
    this.noise = situation.noise;
    const { rates, rest, drift, idle, stateCount: n } = situation;
    const view = this.view;
    const z = this.z;
    for (let k = 0; k < idle; k++) z[k] = z[k]! + drift[k]! * length;
    const powers = this.finder.powersAt(length, rates, idle);
    const amplitudes = view.amplitudes;
    for (let k = idle; k < n; k++) {
      const power = powers[k]!;
      // A short step towards a far aim must not pick up the rounding of the aim.
      z[k] =
        power > NEARLY_STILL
          ? z[k]! + amplitudes[k]! * Math.expm1(-rates[k]! * length)
          : rest[k]! + amplitudes[k]! * power;
    }
    if (situation.drifts) for (let k = idle; k < n; k++) z[k] = z[k]! + drift[k]! * length;
    if (this.segmentObservers.length > 0) {
      view.start = this.time;
      view.startLow = this.timeLow;
      view.length = length;
      view.frame = situation.frame;
      for (const observer of this.segmentObservers) observer.segment!(view);
    }
    // Time as an unevaluated sum of two doubles (Knuth), so that ten million steps lose nothing.
    const step = length + this.timeLow;
    const sum = this.time + step;
    const part = sum - this.time;
    this.timeLow = this.time - (sum - part) + (step - part);
    this.time = sum;
  }

  private handleAgenda(situation: Situation, elapsed: number): void {
    const input = this.agenda.nextInput;
    if (input < 0) {
      const { reactor, event } = this.agenda.takeEvent();
      const code = this.graph.codeOf(reactor, event);
      const kept = situation.afterEvent[code];
      this.follow(
        kept ?? this.successionOfReactor(situation, reactor, event, elapsed, situation.afterEvent, code),
        NO_GUARD,
        elapsed,
      );
      return;
    }
    this.agenda.advanceInput();
    const source = this.agenda.sources[input]!;
    const perLevel = (situation.afterInput[input] ??= []);
    let succession: Succession | undefined;
    if (source.slope === 0) {
      for (const kept of perLevel) if (kept.level === source.level) succession = kept;
    }
    if (!succession) {
      const { pieces, states } = situation;
      const made = this.succession(situation, { pieces, states, ...this.inputsNow() }, elapsed, {
        part: this.program.inputs[input]!.part,
        kind: 'source',
        reactor: -1,
        reaction: undefined,
        schedules: false,
      });
      succession = made;
      if (this.repeats(situation, made) && perLevel.length < 64) perLevel.push({ ...made, level: source.level });
    }
    this.follow(succession, NO_GUARD, elapsed);
  }

  /** A succession can be kept when neither side depends on the time at which it happens. */
  private repeats(situation: Situation, succession: Succession): boolean {
    return situation.steady && (succession.passage === undefined || succession.passage.to.steady);
  }

  private successionOfGuard(situation: Situation, g: number, elapsed: number): Succession {
    const kept = situation.afterGuard[g];
    if (kept) return kept;
    const event = this.graph.event(situation.guards[g]!.code);
    if ('reactor' in event) {
      return this.successionOfReactor(situation, event.reactor, event.event, elapsed, situation.afterGuard, g);
    }
    const pieces = situation.pieces.slice();
    pieces[event.branch] = event.exit.to;
    const made = this.succession(situation, { pieces, states: situation.states, ...this.inputsNow() }, elapsed, {
      part: this.program.branches[event.branch]!.part,
      kind: 'piece',
      reactor: -1,
      reaction: undefined,
      schedules: false,
    });
    if (this.repeats(situation, made)) situation.afterGuard[g] = made;
    return made;
  }

  private successionOfReactor(
    situation: Situation,
    reactor: number,
    event: number,
    elapsed: number,
    store: (Succession | undefined)[],
    slot: number,
  ): Succession {
    const reaction = this.program.reactors[reactor]!.react(situation.states[reactor]!, event);
    const states = situation.states.slice();
    states[reactor] = reaction.state;
    const pieces = situation.pieces.slice();
    for (const [branch, piece] of reaction.pieces) pieces[branch] = piece;
    const made = this.succession(situation, { pieces, states, ...this.inputsNow() }, elapsed, {
      part: this.program.reactors[reactor]!.part,
      kind: 'source',
      reactor,
      reaction,
      schedules: reaction.cancel.length + reaction.schedule.length > 0,
    });
    if (this.repeats(situation, made)) store[slot] = made;
    return made;
  }

  private succession(
    situation: Situation,
    settled: Settled,
    elapsed: number,
    what: Pick<Succession, 'part' | 'kind' | 'reactor' | 'reaction' | 'schedules'>,
  ): Succession {
    const to = this.graph.find(settled);
    if ('shortedParts' in to) return { ...what, passage: undefined, shortedParts: to.shortedParts };
    return { ...what, passage: this.graph.passage(situation, to, elapsed), shortedParts: undefined };
  }

  /** Records an event, lets its reaction schedule, and takes up the next situation. */
  private follow(succession: Succession, guard: number, elapsed: number): void {
    if (this.eventObservers.length > 0) this.record(succession, guard, elapsed);
    if (this.atOnce > this.mostAtOnce - 32) this.recent.push(succession.part);
    const { passage } = succession;
    if (succession.schedules) {
      const { reactor } = succession;
      const reaction = succession.reaction!;
      for (const slot of reaction.cancel) this.agenda.cancel(reactor, slot);
      for (const { slot, after, event } of reaction.schedule) {
        this.agenda.schedule(reactor, slot, this.time, this.timeLow, after, event);
      }
    }
    if (!passage) {
      this.fail('short', succession.shortedParts!);
      return;
    }
    if (!passage.same) {
      const { matrix, offset, to } = passage;
      const z = this.z;
      const moved = this.spare;
      const m = this.situation!.stateCount;
      for (let k = 0; k < to.stateCount; k++) {
        let value = offset[k]!;
        for (let i = 0; i < m; i++) value += matrix[k * m + i]! * z[i]!;
        moved[k] = value;
      }
      this.z = moved;
      this.spare = z;
    }
    this.situation = passage.to;
  }

  private record(succession: Succession, fired: number, elapsed: number): void {
    const { time, timeLow } = this;
    const { part, reaction, kind } = succession;
    if (!reaction) {
      this.show({ time, timeLow, part, kind });
      return;
    }
    const guard = this.situation!.guards[fired]?.guard;
    for (let index = 0; index < reaction.records.length; index++) {
      const { kind: done, cause } = reaction.records[index]!;
      if (index === 0 && guard) {
        const { value, limit } = this.seen(guard, elapsed);
        this.show({ time, timeLow, part, kind: done, value, limit });
      } else if (cause === undefined) this.show({ time, timeLow, part, kind: done });
      else this.show({ time, timeLow, part, kind: done, cause });
    }
  }

  /** What a guard that fires sees (V or A), and the limit that it has met. */
  private seen({ watch, offset }: Guard, elapsed: number): { value: number; limit: number } {
    const situation = this.situation!;
    const { nodes, branchCurrents } = situation.mode;
    if ('branch' in watch) {
      const current = situation.valueOf(branchCurrents[watch.branch]!, this.z, elapsed);
      return { value: current, limit: watch.sign * offset };
    }
    const plus = situation.valueOf(nodes[watch.plus]!, this.z, elapsed);
    const minus = situation.valueOf(nodes[watch.minus]!, this.z, elapsed);
    return watch.seen === 'plus' ? { value: plus, limit: minus + offset } : { value: minus, limit: plus - offset };
  }

  private show(event: RunEvent): void {
    const observers = this.eventObservers;
    for (let i = 0; i < observers.length; i++) observers[i]!.event!(event);
  }

  /** Counts an event; false when the run may not go on. */
  private count(limits: Limits, length: number, until: number): boolean {
    this.handled++;
    if (length > EPSILON * this.time) this.atOnce = 0;
    else if (++this.atOnce > this.mostAtOnce) {
      this.fail('chatter', [...new Set(this.recent)]);
      return false;
    }
    if (this.atOnce === 0 && this.recent.length > 0) this.recent.length = 0;
    if (this.handled > limits.maxEvents) {
      this.fail('budget', [], limits.maxEvents);
      return false;
    }
    if ((this.handled & (EVENTS_PER_LOOK - 1)) === 0) {
      if (limits.signal?.aborted) {
        this.fail('stopped', []);
        return false;
      }
      limits.onProgress?.(this.time / until);
    }
    return true;
  }

  private fail(code: OutcomeCode, parts: readonly string[], budget = 0): void {
    const named = parts.join(', ');
    const messages: Record<OutcomeCode, string> = {
      reached: '',
      short: `${named} are joined with no resistance between different voltages. Put a resistance in the path, or open one of them.`,
      chatter: `${named} keep switching each other without time passing. Look for a comparator that drives its own limit.`,
      budget: `The run used up its ${budget} events. Ask for a shorter time or slower inputs.`,
      stopped: 'The run was stopped.',
    };
    this.failure = { code, message: messages[code], parts };
  }

  private inputsNow(): { inputs: Float64Array; inputSlopes: Float64Array } {
    const { sources } = this.agenda;
    const inputs = new Float64Array(sources.length + 1);
    const inputSlopes = new Float64Array(sources.length + 1);
    sources.forEach((source, j) => {
      inputSlopes[j] = source.slope;
      inputs[j] =
        source.level +
        (source.slope === 0 ? 0 : source.slope * (this.time - source.since.high + (this.timeLow - source.since.low)));
    });
    inputs[sources.length] = 1;
    return { inputs, inputSlopes };
  }
}

/** The largest voltage that a program's own numbers can make, at least 1 mV. */
function voltScale(program: Program): number {
  let scale = 1e-3;
  for (const { wave } of program.inputs) {
    const levels =
      wave.shape === 'constant'
        ? [wave.level]
        : wave.shape === 'pulses'
          ? [wave.rest, wave.pulse]
          : wave.shape === 'square'
            ? [wave.low, wave.high]
            : wave.points.map(([, value]) => value);
    for (const level of levels) scale = Math.max(scale, Math.abs(level));
  }
  for (const value of program.initial) scale = Math.max(scale, Math.abs(value));
  for (const branch of program.branches) {
    for (const piece of branch.pieces) {
      if (piece.law.kind === 'thevenin') scale = Math.max(scale, Math.abs(piece.law.offset));
    }
  }
  return scale;
}
