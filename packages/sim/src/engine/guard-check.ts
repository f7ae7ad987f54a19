import type { Situation } from './situation.ts';

const EPSILON = Number.EPSILON;
/**
 * An event past its limit by this many times the ordinary rounding is due, however badly its mode is conditioned: the
 * rounding of a current through megohms stands for many times that of a voltage.
 */
const CLEARLY = 2 ** 20;
/**
 * After this many moves of branches at one instant, ways back are taken only when they are clearly due: where everything
 * stands on its limits to rounding, directions are rounding too, and any of the pieces will do.
 */
const MOST_MOVES = 32;

/** Reads all guards of a situation at one instant. One checker serves one run; it keeps work space. */
export class GuardCheck {
  /** Coefficients of the guards, `stateCount` each, as the last check found them. */
  readonly coefficients: Float64Array;
  /** Guards that may yet pass their limit: the first `liveCount` entries. */
  readonly live: Int32Array;
  liveCount = 0;

  constructor(mostStates: number, mostGuards: number) {
    this.coefficients = new Float64Array(mostStates * mostGuards);
    this.live = new Int32Array(mostGuards);
  }

  /**
   * The first guard that is past its limit, or that stands on it to rounding and rises; -1 if none. Without one, fills in
   * the coefficients of all guards and lists the live ones: those whose rising terms could carry them past their limit.
   * `noise` is the rounding (V) of the capacitor voltages beyond the ordinary; `back` are events that only count when
   * they are clearly due, or by their direction, see `Succession.back`.
   */
  pastLimit(situation: Situation, amplitudes: Float64Array, noise: number, back: readonly number[]): number {
    const n = situation.stateCount;
    const { rows, constants, slopes, tolerances, scales } = situation;
    const { coefficients, live } = this;
    const guards = constants.length;
    const turning = back.length <= MOST_MOVES;
    let liveCount = 0;
    for (let g = 0, at = 0; g < guards; g++, at += n) {
      const constant = constants[g]!;
      let value = constant;
      let most = constant;
      for (let k = 0; k < n; k++) {
        const c = rows[at + k]! * amplitudes[k]!;
        coefficients[at + k] = c;
        value += c;
        if (c > 0) most += c;
      }
      const tolerance = noise === 0 ? tolerances[g]! : tolerances[g]! + scales[g]! * noise;
      if (value > tolerance && (value > CLEARLY * tolerance || !back.includes(situation.guards[g]!.code))) return g;
      if (value >= -tolerance) {
        // On its limit to rounding, and nothing but rounding to move it: it stands there.
        if (slopes[g] === 0 && this.sizeOf(situation, g) <= tolerance) continue;
        if (this.rises(situation, g, tolerance) && (turning || !back.includes(situation.guards[g]!.code))) return g;
      }
      if (most > 0 || slopes[g]! > 0) live[liveCount++] = g;
    }
    this.liveCount = liveCount;
    return -1;
  }

  /** How far the decaying terms of a guard can move it. */
  private sizeOf(situation: Situation, g: number): number {
    const { stateCount: n, idle } = situation;
    let size = 0;
    for (let k = g * n + idle; k < (g + 1) * n; k++) size += Math.abs(this.coefficients[k]!);
    return size;
  }

  /**
   * Whether a guard that stands on its limit is about to pass it: the first derivative that is not rounding decides. A
   * fast part of the state that has died out leaves coefficients of pure rounding, which its rate would blow up: each may
   * owe as much as the tolerance to rounding.
   */
  private rises(situation: Situation, g: number, tolerance: number): boolean {
    const { stateCount: n, rates, idle } = situation;
    const coefficients = this.coefficients;
    const at = g * n;
    const slope = situation.slopes[g]!;
    for (let order = 1, sign = -1; order <= n + 1; order++, sign = -sign) {
      let value = order === 1 ? slope : 0;
      let rounding = 64 * EPSILON * Math.abs(value);
      for (let k = idle; k < n; k++) {
        const c = coefficients[at + k]!;
        const speed = rates[k]! ** order;
        value += sign * c * speed;
        rounding += speed * (64 * EPSILON * Math.abs(c) + Math.min(Math.abs(c), tolerance));
      }
      if (Math.abs(value) > rounding) return value > 0;
    }
    return false;
  }
}
