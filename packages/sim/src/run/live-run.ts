import type { Circuit } from '../circuit/description.ts';
import type { Bounce } from '../device/bounce.ts';
import { standardDevices } from '../device/standard-devices.ts';
import { type Checkpoint, isCheckpointOf } from '../engine/checkpoint.ts';
import { Audience } from '../engine/audience.ts';
import type { Outcome } from '../engine/outcome.ts';
import { buildProgram, type Program, signalTable } from '../engine/program.ts';
import { Driver } from '../engine/driver.ts';
import type { Observer } from '../trace/observer.ts';
import { readSignalName, signalIndex } from '../trace/signal-name.ts';
import { Hands, type HandStanding } from './hands.ts';
import { type GoneLimit, takenOver } from './taken-over.ts';
import { DEFAULT_MAX_EVENTS } from './simulate.ts';

/** Events of the reactor of a contact: to its other position, and back. */
const TO_OTHER = 0;
const BACK = 1;

/** A checkpoint of a live run: what hands have done belongs to it. */
export interface LiveCheckpoint extends Checkpoint {
  readonly hands: readonly HandStanding[];
}

/** What a live run may be told. */
export interface LiveOptions {
  readonly observers?: readonly Observer[] | undefined;
  /** A checkpoint of a run of the same circuit, with the same `faults`, to go on from. */
  readonly from?: Checkpoint | LiveCheckpoint | undefined;
  /** Events the run may handle; default `DEFAULT_MAX_EVENTS`. */
  readonly maxEvents?: number | undefined;
  /** Whether parts beyond their limits make `fault` events; default true. */
  readonly faults?: boolean | undefined;
}

/**
 * A run that goes on as its caller lets time pass, and whose contacts and values can be changed on the way. The batch run
 * uses the same driver: without changes both give the same, bit for bit, however the time is cut up.
 */
export class LiveRun {
  private circuit: Circuit;
  private program: Program;
  private driver: Driver;
  private readonly observers: readonly Observer[];
  private readonly audience: Audience;
  private readonly maxEvents: number;
  private readonly faults: boolean;
  private readonly hands: Hands;
  /** Events handled, as far as the driver has told. */
  private handled: number;

  /** A run of a checked circuit at time 0, or at the checkpoint. Throws a TypeError where that is none of such a circuit. */
  constructor(circuit: Circuit, options: LiveOptions = {}) {
    const { observers = [], from, maxEvents = DEFAULT_MAX_EVENTS, faults = true } = options;
    this.circuit = circuit;
    this.observers = observers;
    this.maxEvents = maxEvents;
    this.faults = faults;
    this.program = buildProgram(circuit, standardDevices, faults);
    if (from !== undefined && !isCheckpointOf(this.program, from)) {
      throw new TypeError(
        'live run: from must be a checkpoint of a run of the same circuit, with the same faults; got something else. Keep each checkpoint with its circuit, or start a new run.',
      );
    }
    this.audience = new Audience(observers, signalTable(this.program));
    this.driver = new Driver(this.program, this.audience, from);
    this.hands = new Hands(from !== undefined && 'hands' in from ? from.hands : []);
    this.handled = from?.handled ?? 0;
  }

  /** Where the run stands (s): the end of what observers have seen. */
  get time(): number {
    return this.driver.now;
  }

  /**
   * Lets time pass up to `until` (s). With `atATime`, it pauses after that many events at most, so that a caller with
   * little time never waits long; call again to go on. A time that has passed already changes nothing. Throws a RangeError
   * when `until` is not a finite time.
   */
  advance(until: number, options: { readonly atATime?: number } = {}): Outcome {
    if (!Number.isFinite(until)) throw new RangeError(`live run: until must be a finite time; got ${until}.`);
    const pauseAt = this.handled + (options.atATime ?? Infinity);
    for (;;) {
      const rebound = this.hands.next;
      const end = rebound !== undefined && rebound.at <= until ? rebound.at : until;
      const outcome = this.driver.advance(end, { maxEvents: this.maxEvents, atATime: pauseAt - this.handled });
      this.handled = outcome.events;
      if (outcome.code !== 'reached' || rebound === undefined || rebound.at > until) return outcome;
      this.hands.take(rebound.part);
      this.driver.inject(this.contactOf(rebound.part), rebound.pressed ? TO_OTHER : BACK);
      this.handled++;
      if (this.handled >= pauseAt) return { ...outcome, code: 'paused', events: this.handled };
    }
  }

  /**
   * Presses a button, throws a switch, pulls a jumper or touches with a finger, now. A contact with `bounce` then bounces
   * as time passes, the same way for the same presses. Throws a RangeError for other parts.
   */
  press(part: string): void {
    this.work(part, true);
  }

  /** Lets go again, now. Throws a RangeError for parts that cannot be pressed. */
  release(part: string): void {
    this.work(part, false);
  }

  /**
   * Goes on with a changed circuit, now. Capacitors keep their voltages; where only values differ, latches and whatever is
   * under way go on as well, but they start anew where a value adds or takes away an element (a leakage that was none, a
   * bias current that was 0 A). Inputs and timetables are where they stand at the present time; what lies before it is
   * over. A fault lasts for as long as its limit is exceeded; one whose limit is gone is told to be over. Parts and nets
   * must be the same for observers to stay: otherwise a TypeError is thrown, and the run goes on unchanged.
   *
   * @returns whether latches and contacts went on; where they began anew nobody presses anything.
   */
  set(circuit: Circuit): boolean {
    const program = buildProgram(circuit, standardDevices, this.faults);
    if (signals(program) !== signals(this.program)) {
      throw new TypeError('live run: nets and parts must stay the same; start a new run for another circuit.');
    }
    const standing = this.driver.standing();
    if (!standing) return true;
    const { standing: next, gone } = takenOver(standing, this.program, program);
    for (const limit of gone) this.tellOver(limit);
    this.driver = new Driver(program, this.audience, next);
    this.program = program;
    this.circuit = circuit;
    // Pieces are handed on as they are, or made anew.
    return next.pieces === standing.pieces;
  }

  /** A net's voltage (V) or, as `current(R1)`, a part's current (A), now. Throws a RangeError for unknown names. */
  value(show: string): number {
    return this.driver.signal(signalIndex(signalTable(this.program), readSignalName(show)));
  }

  /** The run as plain data, to be kept and taken up again; undefined when it has failed. */
  checkpoint(): LiveCheckpoint | undefined {
    const checkpoint = this.driver.checkpoint();
    return checkpoint && { ...checkpoint, hands: this.hands.standing() };
  }

  /** Tells the observers that the run is over. */
  finish(): void {
    this.driver.finish();
  }

  private work(part: string, pressed: boolean): void {
    const reactor = this.contactOf(part);
    const bounce = this.circuit.parts.find(({ name }) => name === part)?.values['bounce'] as Bounce | undefined;
    this.hands.change(part, { at: this.time, pressed }, bounce);
    this.driver.inject(reactor, pressed ? TO_OTHER : BACK);
    this.handled++;
  }

  private contactOf(part: string): number {
    const { reactors } = this.program;
    const found = reactors.findIndex((candidate) => candidate.contact && candidate.part === part);
    if (found >= 0) return found;
    const names = reactors.flatMap((reactor) => (reactor.contact ? [reactor.part] : []));
    throw new RangeError(
      `live run: part must be one that can be pressed (${names.join(', ') || 'none'}); got ${part}.`,
    );
  }

  private tellOver({ part, note }: GoneLimit): void {
    const event = { time: this.time, timeLow: 0, part, kind: 'fault', fault: { ...note, phase: 'clear' } } as const;
    for (const observer of this.observers) observer.event?.(event);
  }
}

function signals(program: Program): string {
  return JSON.stringify([program.nodeNames, program.currents.map(({ part }) => part)]);
}
