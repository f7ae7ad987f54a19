import type { Mode, Readout } from '../network/mode.ts';
import type { Frame } from '../trace/frame.ts';
import { type ArmedGuard, guardLines } from './guard-lines.ts';
import type { Program } from './program.ts';
import { SituationFrame } from './situation-frame.ts';
import type { Succession } from './succession.ts';

const EPSILON = Number.EPSILON;

/**
 * Everything settled: one mode of the network, the state of every reactor, the value and slope of every input. Within it
 *
 *     z_k(t) = rest[k] + drift[k] t + amplitude_k exp(-rates[k] t)
 *
 * and guard g is constants[g] + slopes[g] t + sum_k rows[g n + k] amplitude_k exp(-rates[k] t), watched for becoming
 * positive. Guards come in the order in which they fire at one instant.
 */
export class Situation {
  readonly stateCount: number;
  readonly rates: Float64Array;
  /** How many of the first rates are zero. */
  readonly idle: number;
  readonly rest: Float64Array;
  readonly drift: Float64Array;
  readonly drifts: boolean;
  readonly guards: readonly ArmedGuard[];
  readonly rows: Float64Array;
  readonly constants: Float64Array;
  readonly slopes: Float64Array;
  /** Below these sizes a guard's value is rounding. */
  readonly tolerances: Float64Array;
  /** Bound of a guard's value per volt of state (1, or S for currents). */
  readonly scales: Float64Array;
  /**
   * Rounding (V) that the capacitor voltages take on in this situation beyond what `tolerances` allow for: a constant
   * current into a large resistance aims at thousands of volts. It stays in the state when the situation ends.
   */
  readonly noise: number;
  /** Last root found for each guard, a good guess for the next. */
  readonly roots: Float64Array;
  /** Guard that ended this situation last time. */
  likely = -1;
  /** What follows each event, filled in as it is met: by guard, by reactor event, by input and level. */
  readonly afterGuard: (Succession | undefined)[] = [];
  readonly afterEvent: (Succession | undefined)[] = [];
  readonly afterInput: (Succession[] | undefined)[] = [];
  private built: Frame | undefined;

  constructor(
    private readonly program: Program,
    readonly mode: Mode,
    readonly pieces: readonly number[],
    readonly states: readonly number[],
    /** Input values at local time 0, then 1. */
    readonly inputs: Float64Array,
    readonly inputSlopes: Float64Array,
    /** Whether it is kept and met again. */
    readonly recurs: boolean,
    /** Largest voltage in the circuit (V), the yardstick for rounding. */
    voltScale: number,
    armed: readonly ArmedGuard[],
  ) {
    const n = mode.stateCount;
    const nU = inputs.length;
    this.stateCount = n;
    this.steady = inputSlopes.every((slope) => slope === 0);
    this.rates = mode.rates;
    let idle = 0;
    while (idle < n && mode.rates[idle] === 0) idle++;
    this.idle = idle;
    this.rest = new Float64Array(n);
    this.drift = new Float64Array(n);
    for (let k = 0; k < n; k++) {
      let pull = 0;
      let push = 0;
      for (let j = 0; j < nU; j++) {
        pull += mode.driveSlope[k * nU + j]! * inputSlopes[j]!;
        push += mode.drift[k * nU + j]! * inputs[j]!;
        this.rest[k]! += mode.equilibrium[k * nU + j]! * inputs[j]!;
        this.drift[k]! += mode.equilibrium[k * nU + j]! * inputSlopes[j]!;
      }
      if (mode.rates[k] === 0) this.drift[k] = push + pull;
      else this.rest[k]! += (pull - this.drift[k]!) / mode.rates[k]!;
    }
    this.drifts = this.drift.some((value) => value !== 0);

    const aim = this.farthestAim();
    this.noise = aim > 4 * voltScale ? 16 * EPSILON * aim : 0;

    const lines = guardLines(this, armed, voltScale);
    this.guards = lines.guards;
    this.rows = lines.rows;
    this.constants = lines.constants;
    this.slopes = lines.slopes;
    this.tolerances = lines.tolerances;
    this.scales = lines.scales;
    this.roots = lines.roots;
  }

  /** Forgets the guesses of an earlier run. */
  begin(): void {
    this.likely = -1;
    this.roots.fill(0);
  }

  private farthestAim(): number {
    let farthest = 0;
    for (const { state } of this.mode.capacitorVoltages.all()) {
      let aim = 0;
      for (let k = 0; k < this.stateCount; k++) aim += Math.abs(state[k]! * this.rest[k]!);
      farthest = Math.max(farthest, aim);
    }
    return farthest;
  }

  /** True when the inputs stand still. */
  readonly steady: boolean;

  /** How the run's signals follow from the amplitudes. */
  get frame(): Frame {
    this.built ??= new SituationFrame(this, this.program.currents);
    return this.built;
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
