import type { Guard } from '../device/contract.ts';
import type { Mode, Readout } from '../network/mode.ts';

const EPSILON = Number.EPSILON;

/** What a guard of a situation watches, what it does when it fires, and what to show for it. */
export interface ArmedGuard {
  /** Global number of the event, see `SituationGraph`. */
  readonly code: number;
  readonly rank: number;
  /** Set for the guards of reactors, so that the event can tell value and limit. */
  readonly guard: Guard | undefined;
  /** It watches sign (v(plus) - v(minus)) - offset, or with a branch sign i(branch) - offset. */
  readonly plus: number;
  readonly minus: number;
  /** -1 where a voltage is watched. */
  readonly branch: number;
  readonly sign: 1 | -1;
  readonly offset: number;
  /** Taken off what is watched, before the sign: so many times the current of a branch. */
  readonly less?: { readonly branch: number; readonly times: number } | undefined;
}

/** What the lines of guards are worked out from: a mode, and where its states and inputs stand and go. */
export interface Setting {
  readonly mode: Mode;
  readonly rest: Float64Array;
  readonly drift: Float64Array;
  readonly inputs: Float64Array;
  readonly inputSlopes: Float64Array;
}

/** The guards of a situation that can ever pass their limits, as the arrays of `Situation`. */
interface GuardLines {
  readonly guards: readonly ArmedGuard[];
  readonly rows: Float64Array;
  readonly constants: Float64Array;
  readonly slopes: Float64Array;
  readonly tolerances: Float64Array;
  readonly scales: Float64Array;
  readonly roots: Float64Array;
}

/** Works out how guards follow from the amplitudes; those that stand still, and not past their limits, are left out. */
export function guardLines(setting: Setting, armed: readonly ArmedGuard[], voltScale: number): GuardLines {
  const { mode, rest, drift, inputs, inputSlopes } = setting;
  const n = mode.stateCount;
  const most = armed.length;
  const guards: ArmedGuard[] = [];
  // One piece of memory: getting one costs more than working out a guard.
  const memory = new Float64Array(most * (n + 5));
  const list = (index: number): Float64Array => memory.subarray(index * most, (index + 1) * most);
  const [constants, slopes, tolerances, scales] = [list(0), list(1), list(2), list(3)];
  const rows = memory.subarray(5 * most);
  let steepest = 0;
  for (let j = 0; j < inputSlopes.length; j++) steepest = Math.max(steepest, Math.abs(inputSlopes[j]!));
  for (const guard of armed) {
    const { plus, minus, branch, sign, offset, less } = guard;
    const volts = branch < 0;
    const watched = volts ? mode.nodes.at(plus) : mode.branchCurrents.at(branch);
    const first = less === undefined ? watched : reduced(watched, mode.branchCurrents.at(less.branch), less.times);
    const second = volts ? mode.nodes.at(minus) : undefined;
    const scale = second ? first.scale + second.scale : first.scale;
    const at = guards.length * n;
    let constant = 0;
    let slope = 0;
    let moves = false;
    for (let k = 0; k < n; k++) {
      const weight = second ? difference(sign, first.state[k]!, second.state[k]!) : sign * first.state[k]!;
      rows[at + k] = weight;
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
    if (!moves && slope === 0 && constant <= rounding * voltScale) continue;
    const g = guards.push(guard) - 1;
    constants[g] = constant;
    // Nodes that ramp side by side leave a slope of pure rounding between them.
    slopes[g] = Math.abs(slope) > rounding * steepest ? slope : 0;
    tolerances[g] = rounding * voltScale + 16 * EPSILON * Math.abs(constant);
    scales[g] = scale;
  }
  const count = guards.length;
  return {
    guards,
    rows: rows.subarray(0, count * n),
    constants: constants.subarray(0, count),
    slopes: slopes.subarray(0, count),
    tolerances: tolerances.subarray(0, count),
    scales: scales.subarray(0, count),
    roots: memory.subarray(4 * most, 4 * most + count),
  };
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
