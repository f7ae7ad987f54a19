import type { NumberMemory } from '../core/number-memory.ts';
import type { Readout } from '../network/mode.ts';
import type { Frame } from '../trace/frame.ts';
import type { Setting } from './guard-lines.ts';
import type { Program } from './program.ts';

/** The frame of a situation. Of all signals of a circuit a run mostly shows a few, so each is worked out when it is needed. */
export class SituationFrame implements Frame {
  readonly rates: Float64Array;
  readonly rows: Float64Array;
  readonly constants: Float64Array;
  readonly slopes: Float64Array;
  private readonly known: Uint8Array;
  private isWhole = false;

  constructor(
    private readonly setting: Setting,
    private readonly currents: Program['currents'],
    memory: NumberMemory,
  ) {
    const { mode } = setting;
    const count = mode.nodes.length + currents.length;
    this.rates = mode.rates;
    this.constants = memory.row(count);
    this.slopes = memory.row(count);
    this.rows = memory.row(count * mode.stateCount);
    this.known = new Uint8Array(count);
  }

  /** Has all signals worked out anew when they are needed. */
  forget(): void {
    this.known.fill(0);
    this.isWhole = false;
  }

  need(index?: number): void {
    if (index !== undefined) {
      if (this.known[index] === 0) this.workOut(index);
      return;
    }
    if (this.isWhole) return;
    for (let i = 0; i < this.known.length; i++) if (this.known[i] === 0) this.workOut(i);
    this.isWhole = true;
  }

  private workOut(index: number): void {
    const { rest, drift, inputs, inputSlopes, mode } = this.setting;
    this.known[index] = 1;
    const { state, input, inputSlope } = this.readout(index);
    const n = mode.stateCount;
    let constant = 0;
    let slope = 0;
    for (let k = 0; k < n; k++) {
      this.rows[index * n + k] = state[k]!;
      constant += state[k]! * rest[k]!;
      slope += state[k]! * drift[k]!;
    }
    for (let j = 0; j < inputs.length; j++) {
      constant += input[j]! * inputs[j]! + inputSlope[j]! * inputSlopes[j]!;
      slope += input[j]! * inputSlopes[j]!;
    }
    this.constants[index] = constant;
    this.slopes[index] = slope;
  }

  private readout(index: number): Omit<Readout, 'scale'> {
    const { mode, inputs } = this.setting;
    const nodes = mode.nodes.length;
    if (index < nodes) return mode.nodes.at(index);
    const total = {
      state: new Float64Array(mode.stateCount),
      input: new Float64Array(inputs.length),
      inputSlope: new Float64Array(inputs.length),
    };
    for (const { element, index: at, sign } of this.currents[index - nodes]!.elements) {
      const { state, input, inputSlope } = (element === 'branch' ? mode.branchCurrents : mode.capacitorCurrents).at(at);
      state.forEach((value, k) => (total.state[k]! += sign * value));
      input.forEach((value, j) => (total.input[j]! += sign * value));
      inputSlope.forEach((value, j) => (total.inputSlope[j]! += sign * value));
    }
    return total;
  }
}
