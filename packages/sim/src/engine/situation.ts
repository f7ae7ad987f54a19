import { NumberMemory } from '../core/number-memory.ts';
import type { Mode, Readout } from '../network/mode.ts';
import type { Frame } from '../trace/frame.ts';
import type { ArmedGuard } from './armed-guards.ts';
import { GuardLines } from './guard-lines.ts';
import { Outlook } from './outlook.ts';
import type { Program } from './program.ts';
import { SituationFrame } from './situation-frame.ts';
import type { Succession } from './succession.ts';

const EPSILON = Number.EPSILON;

/** The settled part of a run at one instant, from which a situation is found. */
export interface Settled {
  readonly pieces: readonly number[];
  readonly states: readonly number[];
  /** Input values at local time 0, then 1. */
  readonly inputs: Float64Array;
  readonly inputSlopes: Float64Array;
  /** Whether inputs on a slope are all just at the corner where it begins, so that they can be found like this again. */
  readonly recurs: boolean;
}

/**
 * Everything settled: one mode of the network, the state of every reactor, the value and slope of every input. Within it
 *
 *     z_k(t) = rest[k] + drift[k] t + amplitude_k exp(-rates[k] t)
 *
 * and guard g is constants[g] + slopes[g] t + sum_k rows[g n + k] amplitude_k exp(-rates[k] t), watched for becoming
 * positive. Guards come in the order in which they fire at one instant.
 *
 * A situation can take up other numbers, of its mode and of the inputs, in the same memory.
 */
export class Situation {
  readonly stateCount: number;
  readonly rates: Float64Array;
  /** How many of the first rates are zero; 0 where parts grow. */
  readonly idle: number;
  /** Whether rates come below zero, so that parts of the state grow. */
  readonly grows: boolean;
  readonly rest: Float64Array;
  readonly drift: Float64Array;
  drifts = false;
  /** Whether a drift changes with a slope of an input, so that what drifts is no straight line: no time may pass then. */
  curves = false;
  /** Whether time may pass in it only once it is looked at why: it is untold, curves, or grows. */
  isDoubtful = false;
  /** True when the inputs stand still. */
  steady = true;
  /** What becomes of it for all states, where it has one state at most and nothing stands against it. */
  outlook: Outlook | undefined;
  readonly pieces: readonly number[];
  readonly states: readonly number[];
  /** Input values at local time 0, then 1. */
  readonly inputs: Float64Array;
  readonly inputSlopes: Float64Array;
  /** Whether it is kept and met again. */
  readonly recurs: boolean;
  readonly guards: readonly ArmedGuard[];
  rows!: Float64Array;
  constants!: Float64Array;
  slopes!: Float64Array;
  /** Below these sizes a guard's value is rounding. */
  tolerances!: Float64Array;
  /** Bound of a guard's value per volt of state (1, or S for currents). */
  scales!: Float64Array;
  /** Last root found for each guard, a good guess for the next. */
  roots!: Float64Array;
  /**
   * Rounding (V) that the capacitor voltages take on in this situation beyond what `tolerances` allow for: a constant
   * current into a large resistance aims at thousands of volts. It stays in the state when the situation ends.
   */
  noise = 0;
  /** Guard that ended this situation last time. */
  likely = -1;
  /** What follows each event, filled in as it is met: by guard, by reactor event, by input and level. */
  afterGuard: (Succession | undefined)[] = [];
  afterEvent: (Succession | undefined)[] = [];
  afterInput: (Succession[] | undefined)[] = [];
  /** For the graph that keeps it: what it is found by, and a number for the program whose numbers it has. */
  key = '';
  modeKey = '';
  drive = -1;
  generation = -1;
  /** What followed with the numbers before. */
  former: Pick<Situation, 'afterGuard' | 'afterEvent' | 'afterInput'> | undefined;
  private readonly lines: GuardLines;
  private built: SituationFrame | undefined;

  /**
   * @param voltScale largest voltage in the circuit (V), the yardstick for rounding.
   * @param armed the guards of all pieces and states, in the order in which they fire at one instant.
   * @param memory where it has its rows.
   */
  constructor(
    private readonly program: Program,
    readonly mode: Mode,
    { pieces, states, inputs, inputSlopes, recurs }: Settled,
    voltScale: number,
    armed: readonly ArmedGuard[],
    private readonly memory = new NumberMemory(),
  ) {
    const n = mode.stateCount;
    this.stateCount = n;
    this.rates = mode.rates;
    let idle = 0;
    while (idle < n && mode.rates[idle] === 0) idle++;
    this.idle = idle;
    this.grows = n > 0 && mode.rates[0]! < 0;
    this.rest = memory.row(n);
    this.drift = memory.row(n);
    this.pieces = pieces;
    this.states = states;
    this.inputs = memory.copy(inputs);
    this.inputSlopes = memory.copy(inputSlopes);
    this.recurs = recurs;
    this.lines = new GuardLines(armed, n, memory);
    this.guards = this.lines.guards;
    this.workOut(voltScale);
  }

  /** Takes up what its mode has become, and other inputs. */
  renew({ inputs, inputSlopes }: Settled, voltScale: number): void {
    for (let j = 0; j < inputs.length; j++) {
      this.inputs[j] = inputs[j]!;
      this.inputSlopes[j] = inputSlopes[j]!;
    }
    this.likely = -1;
    const { afterGuard, afterEvent, afterInput } = this;
    this.former = { afterGuard, afterEvent, afterInput };
    this.afterGuard = [];
    this.afterEvent = [];
    this.afterInput = [];
    this.built?.forget();
    this.workOut(voltScale);
  }

  /** Lets go of what followed, when another situation takes its place: else each would hold all that came before it. */
  retire(): void {
    this.former = undefined;
    this.afterGuard = [];
    this.afterEvent = [];
    this.afterInput = [];
  }

  private workOut(voltScale: number): void {
    const { mode, inputs, inputSlopes, rest, drift, stateCount: n, lines } = this;
    const nU = inputs.length;
    this.steady = true;
    for (let j = 0; j < nU; j++) if (inputSlopes[j] !== 0) this.steady = false;
    this.drifts = false;
    this.curves = false;
    for (let k = 0; k < n; k++) {
      let pull = 0;
      let push = 0;
      let aim = 0;
      let speed = 0;
      for (let j = 0; j < nU; j++) {
        pull += mode.driveSlope[k * nU + j]! * inputSlopes[j]!;
        push += mode.drift[k * nU + j]! * inputs[j]!;
        aim += mode.equilibrium[k * nU + j]! * inputs[j]!;
        speed += mode.equilibrium[k * nU + j]! * inputSlopes[j]!;
      }
      if (mode.rates[k] === 0) {
        speed = push + pull;
        if (!this.steady && this.bends(k)) this.curves = true;
      } else aim += (pull - speed) / mode.rates[k]!;
      rest[k] = aim;
      drift[k] = speed;
      if (speed !== 0) this.drifts = true;
    }

    this.isDoubtful = this.curves || this.grows || mode.untold !== undefined;

    const aim = this.farthestAim();
    this.noise = aim > 4 * voltScale ? 16 * EPSILON * aim : 0;

    const isPlain = n <= 1 && this.idle === 0 && this.steady && !this.drifts && this.noise === 0;
    this.outlook = isPlain && !this.isDoubtful ? new Outlook() : undefined;

    lines.workOut(this, voltScale);
    this.rows = lines.rows;
    this.constants = lines.constants;
    this.slopes = lines.slopes;
    this.tolerances = lines.tolerances;
    this.scales = lines.scales;
    this.roots = lines.roots;
  }

  /** Whether the drift of an idle state changes with the inputs, by more than rounding: only what is amplified can do that. */
  private bends(k: number): boolean {
    const { mode, inputSlopes } = this;
    let bend = 0;
    let size = 0;
    for (let j = 0; j < inputSlopes.length; j++) {
      const part = mode.drift[k * inputSlopes.length + j]! * inputSlopes[j]!;
      bend += part;
      size += Math.abs(part);
    }
    return Math.abs(bend) > 32 * EPSILON * size;
  }

  /** Forgets the guesses of an earlier run. */
  begin(): void {
    this.likely = -1;
    this.roots.fill(0);
  }

  private farthestAim(): number {
    const { capacitorVoltages } = this.mode;
    let farthest = 0;
    for (let c = 0; c < capacitorVoltages.length; c++) {
      const { state } = capacitorVoltages.at(c);
      let aim = 0;
      for (let k = 0; k < this.stateCount; k++) aim += Math.abs(state[k]! * this.rest[k]!);
      farthest = Math.max(farthest, aim);
    }
    return farthest;
  }

  /** How the run's signals follow from the amplitudes. */
  get frame(): Frame {
    this.built ??= new SituationFrame(this, this.program.currents, this.memory);
    return this.built;
  }

  /** The parts of which a branch carries a gain times the current of another one. */
  get amplifying(): readonly string[] {
    const { branches } = this.program;
    const amplifies = (index: number): boolean =>
      branches[index]!.pieces[this.pieces[index]!]!.law.kind === 'controlled';
    return branches.filter((_, index) => amplifies(index)).map(({ part }) => part);
  }

  /** How fast a readout changes (its unit per s) for a modal state that it has come to after some time. */
  speedOf(readout: Readout, z: Float64Array, elapsed: number): number {
    const { rates, rest, drift, inputSlopes } = this;
    let speed = 0;
    for (let k = 0; k < this.stateCount; k++) {
      const left = z[k]! - rest[k]! - drift[k]! * elapsed;
      speed += readout.state[k]! * (drift[k]! - rates[k]! * left);
    }
    for (let j = 0; j < inputSlopes.length; j++) speed += readout.input[j]! * inputSlopes[j]!;
    return speed;
  }

  /** A readout's value at the situation's start for a modal state. */
  valueOf(readout: Readout, z: Float64Array, elapsed: number): number {
    let value = 0;
    for (let k = 0; k < this.stateCount; k++) value += readout.state[k]! * z[k]!;
    for (let j = 0; j < this.inputs.length; j++) {
      value += readout.input[j]! * (this.inputs[j]! + this.inputSlopes[j]! * elapsed);
      value += readout.inputSlope[j]! * this.inputSlopes[j]!;
    }
    return value;
  }
}
