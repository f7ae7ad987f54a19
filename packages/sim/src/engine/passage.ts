import type { Situation } from './situation.ts';
import type { Passage } from './succession.ts';

/**
 * How the modal state goes over from one situation, `elapsed` seconds after its start, to another: the capacitors keep
 * their voltages, and those of a loop share their charge.
 *
 * @param own number of the network's capacitors; the others of a mode are strays.
 */
export function passageBetween(from: Situation, to: Situation, elapsed: number, own: number): Passage {
  const n = to.stateCount;
  const m = from.stateCount;
  const nU = from.inputs.length;
  const mode = to.mode;
  const offset = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    for (let j = 0; j < nU; j++) offset[k]! += mode.projectInput[k * nU + j]! * to.inputs[j]!;
  }
  const before = new Float64Array(nU);
  for (let j = 0; j < nU; j++) before[j] = from.inputs[j]! + from.inputSlopes[j]! * elapsed;
  if (from.mode === mode) {
    for (let k = 0; k < n; k++) {
      for (let j = 0; j < nU; j++) offset[k]! -= mode.projectInput[k * nU + j]! * before[j]!;
    }
    return { to, same: isZero(offset), matrix: unit(n), offset };
  }
  const matrix = new Float64Array(n * m);
  for (let c = 0; c < mode.capacitorCount; c++) {
    const readout = c < own ? from.mode.capacitorVoltages.at(c) : from.mode.nodes.at(mode.held[c - own]!);
    // How fast inputs change plays no part: a voltage follows from charges and inputs alone.
    let fixed = 0;
    for (let j = 0; j < nU; j++) fixed += readout.input[j]! * before[j]!;
    for (let k = 0; k < n; k++) {
      const weight = mode.project[k * mode.capacitorCount + c]!;
      if (weight === 0) continue;
      for (let i = 0; i < m; i++) matrix[k * m + i]! += weight * readout.state[i]!;
      offset[k]! += weight * fixed;
    }
  }
  return { to, same: n === m && isZero(offset) && isUnit(matrix, n), matrix, offset };
}

/** Writes the state that a passage makes of one of m parts. */
export function carryOver({ to, matrix, offset }: Passage, z: Float64Array, m: number, result: Float64Array): void {
  for (let k = 0, at = 0; k < to.stateCount; k++) {
    let value = offset[k]!;
    for (let i = 0; i < m; i++, at++) value += matrix[at]! * z[i]!;
    result[k] = value;
  }
}

function isZero(offset: Float64Array): boolean {
  for (let k = 0; k < offset.length; k++) if (offset[k] !== 0) return false;
  return true;
}

/** Two modes with the same independent capacitors and vectors pass the state on unchanged; what else is there is rounding. */
function isUnit(matrix: Float64Array, n: number): boolean {
  for (let k = 0, at = 0; k < n; k++) {
    for (let i = 0; i < n; i++, at++) {
      if (Math.abs(matrix[at]! - (i === k ? 1 : 0)) > 4 * Number.EPSILON) return false;
    }
  }
  return true;
}

function unit(n: number): Float64Array {
  const result = new Float64Array(n * n);
  for (let i = 0; i < n; i++) result[i * n + i] = 1;
  return result;
}
