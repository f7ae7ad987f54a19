import { Agenda } from './agenda.ts';
import { readAmplitudes } from './amplitudes.ts';
import type { Audience } from './audience.ts';
import type { Checkpoint } from './checkpoint.ts';
import { crossingError } from './conditioning.ts';
import { CrossingFinder } from './crossing.ts';
import { EndingSearch } from './ending-search.ts';
import { EventCounter, type StepLimits } from './event-counter.ts';
import { ForeseenStep } from './foreseen-step.ts';
import { GuardCheck } from './guard-check.ts';
import { type FailureCode, failureMessage } from './outcome.ts';
import { NO_GUARD } from './outlook.ts';
import { carryOver } from './passage.ts';
import { NEARLY_STILL } from './powers.ts';
import { whyNoTimePasses } from './standstill.ts';
import type { Program } from './program.ts';
import { startRun } from './run-start.ts';
import type { Situation } from './situation.ts';
import { SituationGraph } from './situation-graph.ts';
import type { Snapping } from './snapping.ts';
import type { Standing } from './standing.ts';
import type { Succession } from './succession.ts';
import { SuccessionFinder } from './succession-finder.ts';
import { voltScale } from './volt-scale.ts';

const EPSILON = Number.EPSILON;

/**
 * Takes a run of a program from event to event. Within a situation everything is a sum of exponentials, so a step is exact
 * however long it is; it ends at the first guard that fires or at the next entry of the agenda.
 *
 * At one instant the order is: what the agenda holds, pieces of branches (the network must be consistent before
 * comparators are read), reset, trigger, threshold.
 */
export class Stepper {
  readonly graph: SituationGraph;
  readonly agenda: Agenda;
  readonly check: GuardCheck;
  readonly counter: EventCounter;
  readonly finder: CrossingFinder;
  readonly successions: SuccessionFinder;
  private readonly seesSegments: boolean;
  private readonly seesEvents: boolean;
  private readonly search: EndingSearch;
  readonly amplitudes: Float64Array;
  private readonly foreseen: ForeseenStep;
  /** Absent where the run never began. */
  situation: Situation | undefined;
  /** The modal state at the last event. */
  z: Float64Array;
  private spare: Float64Array;
  /** Time of the last event, in two parts, and how far beyond it the observers have seen (s). */
  time = 0;
  timeLow = 0;
  shown = 0;
  /**
   * How long the situation had lasted when what is being handled happened (s). A field, as are all numbers that go from
   * one part of a step to the next: a number that is handed over in a call costs as much as a dozen multiplications.
   */
  elapsed = 0;
  /** Where transistors may drive each other on, what finds the state that follows. */
  snapping: Snapping | undefined;
  /** Why the run cannot go on; undefined as long as it can. */
  failure: { code: FailureCode; message: string; parts: readonly string[] } | undefined;

  /** A run of the program from where `startRun` says. */
  constructor(
    readonly program: Program,
    private readonly audience: Audience,
    from?: Checkpoint | Standing,
    graph?: SituationGraph,
  ) {
    const { branches, reactors, inputs } = program;
    this.graph = graph ?? new SituationGraph(program, voltScale(program));
    const { memory } = this.graph;
    this.agenda = new Agenda(
      inputs.map((input) => input.wave),
      reactors,
      memory,
    );
    this.successions = new SuccessionFinder(program, this.graph, this.agenda);
    const most = this.graph.largestStateCount;
    this.finder = new CrossingFinder(most, memory);
    this.check = new GuardCheck();
    this.z = memory.row(most);
    this.spare = memory.row(most);
    this.amplitudes = memory.row(most);
    this.counter = new EventCounter(branches.length + reactors.length);
    this.search = new EndingSearch(this.finder, this.check);
    this.foreseen = new ForeseenStep(this);
    this.seesSegments = audience.seesSegments;
    this.seesEvents = audience.seesEvents;
    const { situation, shown } = startRun(this, from);
    this.shown = shown;
    this.readTime();
    if ('shortedParts' in situation) this.fail('short', situation.shortedParts);
    else this.situation = situation;
  }

  /** Works the state out up to where the observers have seen. */
  settleNow(): void {
    const situation = this.situation!;
    this.elapsed = this.shown;
    readAmplitudes(situation, this.z, this.amplitudes);
    this.pass(situation);
  }

  /** Lets an event of a reactor happen now (where the observers have seen to), as if it stood in its timetable. */
  inject(reactor: number, event: number): void {
    const situation = this.situation;
    if (this.failure || !situation) return;
    this.settleNow();
    this.counter.handled++;
    this.counter.atOnce = 0;
    this.follow(this.successions.ofReactor(situation, reactor, event, this.elapsed), NO_GUARD);
  }

  /** Handles the next event, and the time before it; false when `until` comes first or the run failed. */
  step(until: number, limits: StepLimits): boolean {
    const situation = this.situation!;
    const { outlook } = situation;
    if (outlook !== undefined && this.check.noise === 0 && this.snapping === undefined) {
      if (outlook.covers(situation, this.z[0]!)) return this.foreseen.take(situation, outlook, until, limits);
    }
    return this.stepByLooking(situation, until, limits);
  }

  /** The same by a look at the guards. */
  stepByLooking(situation: Situation, until: number, limits: StepLimits): boolean {
    const { amplitudes, check } = this;
    readAmplitudes(situation, this.z, amplitudes);
    const toNext = this.agenda.toNext;
    const toEnd = until - this.time - this.timeLow;
    if (toEnd < 0) return false;
    // What else is due at this instant comes before any comparator is read.
    if (toNext > 0) {
      const firing = check.pastLimit(situation, amplitudes);
      if (this.snapping && this.snaps(this.snapping, situation, firing)) return !this.failure;
      if (firing >= 0) {
        this.elapsed = 0;
        if (!this.count(false, limits, until)) return false;
        this.follow(this.successionOf(situation, firing), firing);
        return !this.failure;
      }
      if (situation.isDoubtful) {
        const reason = whyNoTimePasses(situation, check);
        if (reason) {
          this.fail(reason, situation.mode.untold?.parts ?? situation.amplifying);
          return false;
        }
      }
    } else check.liveCount = 0;

    const { search } = this;
    search.length = toNext > 0 ? Math.min(toNext, toEnd) : 0;
    const ending = search.run(situation);
    this.elapsed = search.length;
    if (ending < 0 && toNext > toEnd) {
      this.show();
      return false;
    }
    if (check.liveCount > 0) situation.likely = ending;
    if (!this.count(this.elapsed > EPSILON * this.time, limits, until)) return false;
    this.show();
    this.pass(situation);
    if (ending >= 0) {
      this.follow(this.successionOf(situation, ending), ending);
      return !this.failure;
    }
    this.followAgenda(situation);
    return !this.failure;
  }

  /** Shows the observers the time up to `elapsed` in the situation, as far as they have not seen it. */
  show(): void {
    const { elapsed } = this;
    if (elapsed <= this.shown) return;
    if (this.seesSegments) this.audience.segment(this);
    this.shown = elapsed;
  }

  /** Goes on within the situation to `elapsed`. */
  private pass(situation: Situation): void {
    const length = this.elapsed;
    this.shown = 0;
    if (length === 0) return;
    this.check.timePassed(situation);
    const { rates, rest, idle, stateCount: n } = situation;
    const { z, amplitudes } = this;
    const powers = this.finder.powers.at(length, rates, idle);
    for (let k = idle; k < n; k++) {
      const power = powers[k]!;
      // A short step towards a far aim must not pick up the rounding of the aim.
      z[k] =
        power > NEARLY_STILL
          ? z[k]! + amplitudes[k]! * Math.expm1(-rates[k]! * length)
          : rest[k]! + amplitudes[k]! * power;
    }
    if (situation.drifts) for (let k = 0; k < n; k++) z[k] = z[k]! + situation.drift[k]! * length;
    this.snapping?.leave(situation, this.z, length);
    this.agenda.pass(length);
    this.readTime();
  }

  /** Reads the time off the agenda, which has gone on. */
  readTime(): void {
    this.agenda.tellTime(this);
  }

  /** Where transistors may drive each other on: whether the circuit goes on in another state, or this is not decided. */
  private snaps(snapping: Snapping, situation: Situation, firing: number): boolean {
    const next = snapping.next(situation, this.z, situation.guards[firing], this.check.back);
    if (next === undefined) return false;
    if ('parts' in next) this.fail('undecided', next.parts);
    else {
      this.elapsed = 0;
      this.counter.count(false);
      this.follow(this.successions.ofPieces(situation, next.pieces, next.changes), NO_GUARD);
    }
    return true;
  }

  successionOf(situation: Situation, g: number): Succession {
    return situation.afterGuard[g] ?? this.successions.ofGuard(situation, g, this.elapsed);
  }

  followAgenda(situation: Situation): void {
    const { agenda, successions, elapsed } = this;
    const input = agenda.nextInput;
    if (input >= 0) {
      agenda.advanceInput();
      this.readTime();
      this.follow(successions.ofInput(situation, input, elapsed), NO_GUARD);
      return;
    }
    const { reactor, event } = agenda.takeEvent();
    this.readTime();
    this.follow(successions.ofReactor(situation, reactor, event, elapsed), NO_GUARD);
  }

  /** Shows an event, lets its reaction schedule, and takes up the next situation. */
  follow(succession: Succession, guard: number): void {
    if (this.seesEvents || succession.schedules || this.counter.nearLimit) this.react(succession, guard);
    const { passage } = succession;
    if (!passage) {
      this.fail('short', succession.shortedParts!);
      return;
    }
    if (!passage.same) {
      const { z, spare } = this;
      carryOver(passage, z, this.situation!.stateCount, spare);
      this.z = spare;
      this.spare = z;
    }
    this.situation = passage.to;
    const { back } = succession;
    if (back >= 0) this.check.back.add(back);
    else {
      this.check.back.clear();
      this.snapping?.jump(succession.kind);
    }
  }

  private react(succession: Succession, guard: number): void {
    const { agenda } = this;
    if (this.audience.seesCrossings && guard >= 0 && this.elapsed > 0) {
      const situation = this.situation!;
      const powers = this.finder.powers.at(this.elapsed, situation.rates, situation.idle);
      const offBy = crossingError(situation, guard, this.check.coefficients, this.elapsed, powers);
      this.audience.crossing(succession, offBy, this);
    }
    if (this.seesEvents) this.audience.event(succession, guard, this);
    if (this.counter.nearLimit) this.counter.note(succession.part);
    if (!succession.schedules) return;
    const { reactor, reaction } = succession;
    for (const slot of reaction!.cancel) agenda.cancel(reactor, slot);
    for (const { slot, after, event } of reaction!.schedule) agenda.schedule(reactor, slot, after, event);
  }

  /** Counts an event, `later` than the one before or at the same instant; false when the run may not go on. */
  count(later: boolean, limits: StepLimits, until: number): boolean {
    return this.counter.count(later) || this.mayGoOn(limits, until);
  }

  private mayGoOn(limits: StepLimits, until: number): boolean {
    const { counter } = this;
    const failure = counter.verdict(limits);
    if (failure) this.fail(failure, failure === 'chatter' ? counter.takingPart : [], limits.maxEvents);
    else if (counter.due) {
      counter.planLook(limits);
      limits.onProgress?.(this.time / until);
    }
    return !failure;
  }

  private fail(code: FailureCode, parts: readonly string[], budget = 0): void {
    this.failure = { code, message: failureMessage(code, parts, budget), parts };
  }
}
