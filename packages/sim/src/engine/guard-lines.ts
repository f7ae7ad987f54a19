import type { NumberMemory } from '../core/number-memory.ts';
import type { Mode, Readout } from '../network/mode.ts';
import type { ArmedGuard } from './armed-guards.ts';

const EPSILON = Number.EPSILON;

/** What the lines of guards are worked out from: a mode, and where its states and inputs stand and go. */
export interface Setting {
  readonly mode: Mode;
  readonly rest: Float64Array;
  readonly drift: Float64Array;
  readonly inputs: Float64Array;
  readonly inputSlopes: Float64Array;
}

/**
 * The guards of a situation that can ever pass their limits, as the arrays of `Situation`: how they follow from the
 * amplitudes. Those that stand still, and not past their limits, are left out.
 */
export class GuardLines {
  readonly guards: ArmedGuard[] = [];
  rows!: Float64Array;
  constants!: Float64Array;
  slopes!: Float64Array;
  tolerances!: Float64Array;
  scales!: Float64Array;
  roots!: Float64Array;
  /** One piece of memory for all: getting one costs more than working out a guard. */
  private readonly memory: Float64Array;
  private count = -1;
  /** What the guards were worked out for last. */
  private inputs: Float64Array | undefined;
  private voltScale = Number.NaN;
  /** Of guards that were left out since: the version of the voltages that they watch, and their limit. */
  private readonly leftOut: number[] = [];
  private readonly limits: number[] = [];

  constructor(
    private readonly armed: readonly ArmedGuard[],
    private readonly stateCount: number,
    private readonly all: NumberMemory,
  ) {
    this.memory = all.row(armed.length * (stateCount + 5));
  }

  /** Works the guards out for a setting of as many states; what was worked out before is gone. */
  workOut(setting: Setting, voltScale: number): void {
    const { memory, armed, guards, stateCount: n } = this;
    const { mode, rest, drift, inputs, inputSlopes } = setting;
    const most = armed.length;
    const [ofConstants, ofSlopes, ofTolerances, ofScales, ofRoots, ofRows] = [
      0,
      most,
      2 * most,
      3 * most,
      4 * most,
      5 * most,
    ];
    let steepest = 0;
    for (let j = 0; j < inputSlopes.length; j++) steepest = Math.max(steepest, Math.abs(inputSlopes[j]!));
    this.takeUp(setting, voltScale);
    const { leftOut, limits } = this;
    let count = 0;
    for (let index = 0; index < most; index++) {
      const guard = armed[index]!;
      const { plus, minus, branch, sign, offset, less } = guard;
      const volts = branch < 0;
      // Of the same voltages and inputs the same follows.
      const version = volts && less === undefined ? mode.nodes.version(plus) + mode.nodes.version(minus) : -1;
      if (version >= 0 && leftOut[index] === version && limits[index] === offset) continue;
      const watched = volts ? mode.nodes.at(plus) : mode.branchCurrents.at(branch);
      const first = less === undefined ? watched : reduced(watched, mode.branchCurrents.at(less.branch), less.times);
      const second = volts ? mode.nodes.at(minus) : undefined;
      const scale = second ? first.scale + second.scale : first.scale;
      const at = ofRows + count * n;
      let constant = 0;
      let slope = 0;
      let moves = false;
      for (let k = 0; k < n; k++) {
        const weight = second ? difference(sign, first.state[k]!, second.state[k]!) : sign * first.state[k]!;
        memory[at + k] = weight;
        if (weight === 0) continue;
        constant += weight * rest[k]!;
        slope += weight * drift[k]!;
        moves = true;
      }
      for (let j = 0, last = inputs.length - 1; j <= last; j++) {
        let input = second ? difference(sign, first.input[j]!, second.input[j]!) : sign * first.input[j]!;
        if (j === last) input -= offset;
        const inputSlope = second
          ? difference(sign, first.inputSlope[j]!, second.inputSlope[j]!)
          : sign * first.inputSlope[j]!;
        constant += input * inputs[j]! + inputSlope * inputSlopes[j]!;
        slope += input * inputSlopes[j]!;
      }
      const rounding = 32 * EPSILON * (volts ? Math.max(scale, 1) : scale);
      if (!moves && slope === 0 && constant <= rounding * voltScale) {
        leftOut[index] = version;
        limits[index] = offset;
        continue;
      }
      guards[count] = guard;
      memory[ofConstants + count] = constant;
      // Nodes that ramp side by side leave a slope of pure rounding between them.
      memory[ofSlopes + count] = Math.abs(slope) > rounding * steepest ? slope : 0;
      memory[ofTolerances + count] = rounding * voltScale + 16 * EPSILON * Math.abs(constant);
      memory[ofScales + count] = scale;
      memory[ofRoots + count] = 0;
      count++;
    }
    if (count === this.count) return;
    this.count = count;
    guards.length = count;
    const { buffer, byteOffset } = memory;
    this.constants = partOf(buffer, byteOffset, ofConstants, count);
    this.slopes = partOf(buffer, byteOffset, ofSlopes, count);
    this.tolerances = partOf(buffer, byteOffset, ofTolerances, count);
    this.scales = partOf(buffer, byteOffset, ofScales, count);
    this.roots = partOf(buffer, byteOffset, ofRoots, count);
    this.rows = partOf(buffer, byteOffset, ofRows, count * n);
  }

  /** Takes note of the inputs and the yardstick: where they are others, no guard is left out for what it was before. */
  private takeUp({ inputs, inputSlopes }: Setting, voltScale: number): void {
    const count = inputs.length;
    const known = (this.inputs ??= this.all.row(2 * count));
    let same = voltScale === this.voltScale;
    for (let j = 0; j < count && same; j++) same = known[j] === inputs[j] && known[count + j] === inputSlopes[j];
    if (same) return;
    this.voltScale = voltScale;
    for (let j = 0; j < count; j++) {
      known[j] = inputs[j]!;
      known[count + j] = inputSlopes[j]!;
    }
    this.leftOut.length = 0;
  }
}

/** So many numbers from an index on of a row that begins at a byte of a buffer; `subarray` takes twice as long. */
function partOf(buffer: ArrayBufferLike, byte: number, from: number, length: number): Float64Array {
  return new Float64Array(buffer, byte + from * Float64Array.BYTES_PER_ELEMENT, length);
}

/** sign (p - q), where what cancels to rounding is zero. */
function difference(sign: 1 | -1, p: number, q: number): number {
  const result = sign * (p - q);
  return Math.abs(result) <= 8 * EPSILON * (Math.abs(p) + Math.abs(q)) ? 0 : result;
}

/** One readout less so many times another. */
function reduced(one: Readout, other: Readout, times: number): Readout {
  const rest = (a: Float64Array, b: Float64Array): Float64Array =>
    a.map((value, k) => difference(1, value, times * b[k]!));
  return {
    state: rest(one.state, other.state),
    input: rest(one.input, other.input),
    inputSlope: rest(one.inputSlope, other.inputSlope),
    scale: one.scale + Math.abs(times) * other.scale,
  };
}
