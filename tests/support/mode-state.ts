import type { Mode, Readout } from '#sim/network/mode.ts';

/** Inputs of a mode at local time 0: values, and how they change (V/s). The constant 1 that modes count last is added here. */
export interface ModeInputs {
  readonly values: readonly number[];
  readonly slopes?: readonly number[];
}

/**
 * A mode with a state in it: what the equations of `Mode` say, written out plainly (z_k' = -rate z_k + drive), so that
 * tests can ask for any readout at any time.
 */
export class ModeState {
  private readonly z: readonly number[];
  private readonly u: readonly number[];
  private readonly slope: readonly number[];

  /** @param voltages of all capacitors, then of the held nodes. */
  constructor(
    readonly mode: Mode,
    voltages: readonly number[],
    inputs: ModeInputs,
  ) {
    const { stateCount, capacitorCount, project, projectInput } = mode;
    this.u = [...inputs.values, 1];
    this.slope = [...(inputs.slopes ?? inputs.values.map(() => 0)), 0];
    const width = this.u.length;
    this.z = Array.from({ length: stateCount }, (_, k) => {
      const from = dot(project.subarray(k * capacitorCount, (k + 1) * capacitorCount), voltages);
      return from + dot(projectInput.subarray(k * width, (k + 1) * width), this.u);
    });
  }

  /** The modal state at a local time. */
  stateAt(time: number): number[] {
    const { rates, equilibrium, drift, driveSlope } = this.mode;
    const width = this.u.length;
    const row = (matrix: Float64Array, k: number): Float64Array => matrix.subarray(k * width, (k + 1) * width);
    return this.z.map((z, k) => {
      const rate = rates[k]!;
      const push = dot(row(driveSlope, k), this.slope);
      if (rate === 0) return z + (dot(row(drift, k), this.u) + push) * time;
      const follow = dot(row(equilibrium, k), this.slope);
      const rest = dot(row(equilibrium, k), this.u) + (push - follow) / rate;
      return rest + follow * time + (z - rest) * Math.exp(-rate * time);
    });
  }

  /** A readout at a local time. */
  at(readout: Readout, time = 0): number {
    const inputs = this.u.map((value, j) => value + this.slope[j]! * time);
    return dot(readout.state, this.stateAt(time)) + dot(readout.input, inputs) + dot(readout.inputSlope, this.slope);
  }
}

function dot(row: Float64Array, values: readonly number[]): number {
  return row.reduce((total, entry, k) => total + entry * values[k]!, 0);
}
