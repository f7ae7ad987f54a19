import type { Circuit } from '../circuit/description.ts';
import { standardDevices } from '../device/standard-devices.ts';
import type { Checkpoint } from '../engine/checkpoint.ts';
import { Audience } from '../engine/audience.ts';
import type { Outcome } from '../engine/outcome.ts';
import { buildProgram, type Program, signalTable } from '../engine/program.ts';
import { carriedOver } from '../engine/standing.ts';
import { Stepper } from '../engine/stepper.ts';
import type { Observer } from '../trace/observer.ts';
import { readSignalName, signalIndex } from '../trace/signal-name.ts';
import { DEFAULT_MAX_EVENTS } from './simulate.ts';

/** Events of the reactor of a contact: to its other position, and back. */
const TO_OTHER = 0;
const BACK = 1;

/** What a live run may be told. */
export interface LiveOptions {
  readonly observers?: readonly Observer[] | undefined;
  /** A checkpoint of a run of the same circuit to go on from. */
  readonly from?: Checkpoint | undefined;
  /** Events the run may handle; default `DEFAULT_MAX_EVENTS`. */
  readonly maxEvents?: number | undefined;
}

/**
 * A run that goes on as its caller lets time pass, and whose contacts and values can be changed on the way. The batch run
 * uses the same stepper: without changes both give the same, bit for bit, however the time is cut up.
 */
export class LiveRun {
  private program: Program;
  private stepper: Stepper;
  private readonly audience: Audience;
  private readonly maxEvents: number;

  /** A run of a checked circuit at time 0, or at the checkpoint. */
  constructor(circuit: Circuit, options: LiveOptions = {}) {
    this.maxEvents = options.maxEvents ?? DEFAULT_MAX_EVENTS;
    this.program = buildProgram(circuit, standardDevices);
    this.audience = new Audience(options.observers ?? [], signalTable(this.program));
    this.stepper = new Stepper(this.program, this.audience, options.from);
  }

  /** Where the run stands (s): the end of what observers have seen. */
  get time(): number {
    return this.stepper.now;
  }

  /**
   * Lets time pass up to `until` (s). With `atATime`, it pauses after that many events at most, so that a caller with
   * little time never waits long; call again to go on. A time that has passed already changes nothing. Throws a RangeError
   * when `until` is not a finite time.
   */
  advance(until: number, options: { readonly atATime?: number } = {}): Outcome {
    if (!Number.isFinite(until)) throw new RangeError(`live run: until must be a finite time; got ${until}.`);
    return this.stepper.advance(until, { maxEvents: this.maxEvents, atATime: options.atATime });
  }

  /** Presses a button, throws a switch, pulls a jumper or touches with a finger, now. Throws a RangeError for other parts. */
  press(part: string): void {
    this.contact(part, TO_OTHER);
  }

  /** Lets go again, now. Throws a RangeError for parts that cannot be pressed. */
  release(part: string): void {
    this.contact(part, BACK);
  }

  /**
   * Goes on with a changed circuit, now. Capacitors keep their voltages; where only values differ, latches and whatever is
   * under way go on as well, but they start anew where a value adds or takes away an element (a leakage that was none, a
   * bias current that was 0 A). Inputs and timetables are where they stand at the present time; what lies before it is
   * over. Parts and nets must be the same for observers to stay: otherwise a TypeError is thrown, and the run goes on
   * unchanged.
   */
  set(circuit: Circuit): void {
    const program = buildProgram(circuit, standardDevices);
    if (signals(program) !== signals(this.program)) {
      throw new TypeError('live run: nets and parts must stay the same; start a new run for another circuit.');
    }
    const standing = this.stepper.standing();
    if (!standing) return;
    this.stepper = new Stepper(program, this.audience, carriedOver(standing, this.program, program));
    this.program = program;
  }

  /** A net's voltage (V) or, as `current(R1)`, a part's current (A), now. Throws a RangeError for unknown names. */
  value(show: string): number {
    return this.stepper.signal(signalIndex(signalTable(this.program), readSignalName(show)));
  }

  /** The run as plain data, to be kept and taken up again; undefined when it has failed. */
  checkpoint(): Checkpoint | undefined {
    return this.stepper.checkpoint();
  }

  /** Tells the observers that the run is over. */
  finish(): void {
    this.stepper.finish();
  }

  private contact(part: string, event: number): void {
    const names = this.program.reactors.flatMap((reactor) => (reactor.contact ? [reactor.part] : []));
    const reactor = this.program.reactors.findIndex((candidate) => candidate.contact && candidate.part === part);
    if (reactor < 0) {
      throw new RangeError(
        `live run: part must be one that can be pressed (${names.join(', ') || 'none'}); got ${part}.`,
      );
    }
    this.stepper.inject(reactor, event);
  }
}

function signals(program: Program): string {
  return JSON.stringify([program.nodeNames, program.currents.map(({ part }) => part)]);
}
