import type { Observer, Periods } from '../trace/observer.ts';
import { Audience } from './audience.ts';
import { CHECKPOINT_VERSION, type Checkpoint } from './checkpoint.ts';
import type { StepLimits } from './event-counter.ts';
import type { Outcome } from './outcome.ts';
import { PeriodSkipper } from './period-skipper.ts';
import { type Program, signalTable } from './program.ts';
import type { SituationGraph } from './situation-graph.ts';
import { Snap } from './snap.ts';
import type { Standing } from './standing.ts';
import { Stepper } from './stepper.ts';

/** Limits of an advance. */
export interface Limits extends StepLimits {
  /** Events after which this advance pauses; never, if not given. */
  readonly atATime?: number | undefined;
  /** Whether periods of a run that repeats itself may be counted instead of being gone through; not, if not given. */
  readonly countPeriods?: boolean | undefined;
}

/**
 * Drives a run: step by step to a time, or until something ends it. A stop in between changes nothing: the state stays that
 * of the last event, so going on gives the same run, bit for bit.
 */
export class Driver {
  private readonly audience: Audience;
  private readonly stepper: Stepper;
  private readonly skipping: PeriodSkipper;

  /**
   * A run of the program from time 0, from a checkpoint of the same program, or from where a run of another version of
   * the circuit stands.
   *
   * @param graph to run in; a new one, if not given.
   */
  constructor(
    private readonly program: Program,
    observers: readonly Observer[] | Audience,
    from?: Checkpoint | Standing,
    graph?: SituationGraph,
  ) {
    this.audience = observers instanceof Audience ? observers : new Audience(observers, signalTable(program));
    this.stepper = new Stepper(program, this.audience, from, graph);
    this.stepper.snapping = Snap.of(this.stepper.graph, from);
    this.skipping = new PeriodSkipper(this.stepper.agenda, this.stepper.counter);
  }

  /** Goes on until the given time (s) or until something ends the run; tells how it stands. */
  advance(until: number, limits: Limits): Outcome {
    const { stepper, skipping } = this;
    const { counter } = stepper;
    const pauseAt = counter.handled + (limits.atATime ?? Infinity);
    counter.planLook(limits);
    const periods = limits.countPeriods ? this.audience.periods : undefined;
    while (!stepper.failure && stepper.step(until, limits)) {
      if (counter.handled >= pauseAt) return { code: 'paused', ok: true, time: stepper.time, events: counter.total };
      if (periods && skipping.wants(stepper.situation!, stepper.z, stepper.elapsed)) this.skipPeriods(until, periods);
    }
    const { failure } = stepper;
    const common = { time: failure ? stepper.time : Math.max(until, this.now), events: counter.total };
    return failure ? { ...failure, ok: false, ...common } : { code: 'reached', ok: true, ...common };
  }

  /** Looks whether the run repeats itself, and if so goes on by as many periods as fit. */
  private skipPeriods(until: number, periods: readonly Periods[]): void {
    const { stepper } = this;
    const { z, time, timeLow, counter, check, graph } = stepper;
    const situation = stepper.situation!;
    const state = [...z.subarray(0, situation.stateCount), check.noise, counter.atOnce, ...check.back.list()];
    const moment = { situation, state, guesses: graph.guesses(), high: time, low: timeLow };
    if (this.skipping.look(moment, until, periods)) stepper.readTime();
  }

  /** Tells the observers that the run is over. */
  finish(): void {
    const { time, shown } = this.stepper;
    this.audience.end(time + shown);
  }

  /** Lets an event of a reactor happen now (where the observers have seen to), as if it stood in its timetable. */
  inject(reactor: number, event: number): void {
    this.stepper.inject(reactor, event);
  }

  /** Where the observers have seen to (s). */
  get now(): number {
    const { time, timeLow, shown } = this.stepper;
    return time + (timeLow + shown);
  }

  /** A signal's value now, by its index in the signal table; NaN when the run never began. */
  signal(index: number): number {
    const { situation, shown, z } = this.stepper;
    if (!situation) return Number.NaN;
    const { frame } = situation;
    frame.need?.(index);
    const { constants, slopes, rows, rates } = frame;
    let value = constants[index]! + slopes[index]! * shown;
    for (let k = 0; k < rates.length; k++) {
      const amplitude = z[k]! - situation.rest[k]!;
      value += rows[index * rates.length + k]! * amplitude * Math.exp(-rates[k]! * shown);
    }
    return value;
  }

  /** The run as it stands, as plain data; undefined when it has failed. Changes nothing. */
  checkpoint(): Checkpoint | undefined {
    const { situation, failure, shown, check, counter, z, agenda, graph, snapping } = this.stepper;
    if (failure || !situation) return undefined;
    const { noise, back } = check;
    const { handled, atOnce } = counter;
    return {
      version: CHECKPOINT_VERSION,
      ...{ shown, handled, atOnce, noise },
      back: back.list(),
      pieces: situation.pieces,
      states: situation.states,
      modal: [...z.subarray(0, situation.stateCount)],
      agenda: agenda.standing(),
      roots: graph.roots(),
      ...(snapping?.before === undefined ? {} : { before: snapping.before }),
    };
  }

  /**
   * What a run of a changed circuit can take over from this one; undefined when it has failed. This run is over then: its
   * state is worked out up to now, but its situation is not.
   */
  standing(): Standing | undefined {
    const { stepper } = this;
    const { situation } = stepper;
    if (stepper.failure || !situation) return undefined;
    stepper.settleNow();
    const { elapsed, z } = stepper;
    const { capacitorVoltages, nodes } = situation.mode;
    return {
      handled: stepper.counter.handled,
      pieces: situation.pieces,
      states: situation.states,
      capacitors: capacitorVoltages
        .all()
        .slice(0, this.program.network.capacitors.length)
        .map((readout) => situation.valueOf(readout, z, elapsed)),
      nodes: nodes.all().map((readout) => situation.valueOf(readout, z, elapsed)),
      agenda: stepper.agenda.standing(),
    };
  }
}
