import type { ExponentialSum } from '../core/exponential-sum.ts';
import { type Leaving, leavingOf, nextZero } from './leaving-a-limit.ts';
import type { Situation } from './situation.ts';
import { WaysBack } from './ways-back.ts';

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

/** Room that most situations do with: as many numbers lie on the heap, more would not. */
const FEW = 8;

/** How many tolerances from where it stood a guard is where no rounding takes it. */
const DEEP = 2;

/** By how many times the rounding of the terms of a guard its tolerance exceeds what is to be expected of it. */
const TOLERATED = 8;

/** Where a guard on its limit goes next. */
type Direction = -1 | 0 | 1;
const FALLS = -1;
const STANDS = 0;
const RISES = 1;

/** Reads all guards of a situation at one instant. One checker serves one run; it keeps work space. */
export class GuardCheck {
  /** Coefficients of the guards, `stateCount` each, as the last check found them. */
  coefficients = new Float64Array(FEW);
  /** Guards that may yet pass their limit: the first `liveCount` entries. */
  live = new Int32Array(FEW);
  liveCount = 0;
  /** Rounding (V) of the capacitor voltages beyond the ordinary, see `Situation.noise`. */
  noise = 0;
  /**
   * Guards that stand on their limits and leave them downwards, after no more to and fro than rounding, or upwards without
   * having fired: to which side, and from when on they are beyond what is rounding.
   */
  readonly leaving = new Map<number, Leaving>();
  /** Ways back of the branches that have moved at this instant, see `Succession.back`. */
  readonly back = new WaysBack();

  /** Tells that time has passed in a situation: its rounding stays in the state, and no branch has moved since. */
  timePassed(situation: Situation): void {
    this.noise = situation.noise;
    this.back.clear();
  }

  /**
   * The first guard that is past its limit, or that stands on it to rounding and rises; -1 if none. Without one, fills in
   * the coefficients of all guards and lists the live ones: those whose rising terms could carry them past their limit.
   * The ways back only count when they are clearly due, or by their direction.
   */
  pastLimit(situation: Situation, amplitudes: Float64Array): number {
    const n = situation.stateCount;
    const { rows, constants, slopes, tolerances, scales } = situation;
    const guards = constants.length;
    if (rows.length > this.coefficients.length) this.coefficients = new Float64Array(rows.length);
    if (guards > this.live.length) this.live = new Int32Array(guards);
    const { coefficients, live, noise, back } = this;
    const turning = back.count <= MOST_MOVES;
    if (this.leaving.size > 0) this.leaving.clear();
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
      if (value > tolerance && (value > CLEARLY * tolerance || !back.has(situation.guards[g]!.code))) return g;
      if (value >= -tolerance) {
        const direction = this.direction(situation, g);
        if (direction === STANDS) continue;
        if (direction === RISES) {
          if (turning || !back.has(situation.guards[g]!.code)) return g;
          this.way(situation, g, tolerance);
        }
      }
      if (most > 0 || slopes[g]! > 0) live[liveCount++] = g;
    }
    this.liveCount = situation.grows ? this.watchAll(guards) : liveCount;
    return -1;
  }

  /** Takes over the coefficient of a guard of one state, where it is known without a check. */
  know(g: number, coefficient: number): void {
    if (g >= this.coefficients.length) this.coefficients = new Float64Array(g + 1);
    this.coefficients[g] = coefficient;
  }

  /**
   * Whether what grows in a situation is no more than rounding to all its guards, so that rounding says where it goes. Where
   * a ramp drives it, it does not: what turns back by rounding comes again, with the ramp further on.
   */
  growsByRounding({ stateCount: n, rates, drift, tolerances, scales }: Situation): boolean {
    for (let k = 0; k < n && rates[k]! < 0; k++) {
      if (drift[k] !== 0) return false;
      for (let g = 0; g < tolerances.length; g++) {
        const rounding = tolerances[g]! / TOLERATED + scales[g]! * this.noise;
        if (Math.abs(this.coefficients[g * n + k]!) > rounding) return false;
      }
    }
    return true;
  }

  /**
   * When a guard fires that is leaving its limit (s, local), where `found` is when it first comes to it: downwards once it
   * comes back, upwards once it is there for certain.
   */
  firesAfter(situation: Situation, g: number, { side, from }: Leaving, found: number): number {
    if (side === RISES) return from;
    return found <= from ? nextZero(this.sumOf(situation, g), from) : found;
  }

  /** Where parts grow, any guard may pass its limit. */
  private watchAll(guards: number): number {
    for (let g = 0; g < guards; g++) this.live[g] = g;
    return guards;
  }

  /**
   * Where a guard that stands on its limit goes. With nothing but rounding to move it, it stands there; else the first
   * derivative that is not rounding decides. A fast part of the state that has died out leaves coefficients of pure
   * rounding, which its rate would blow up: each may owe as much as the tolerance to rounding.
   */
  private direction(situation: Situation, g: number): Direction {
    const { stateCount: n, rates, idle } = situation;
    const tolerance = situation.tolerances[g]! + situation.scales[g]! * this.noise;
    const coefficients = this.coefficients;
    const at = g * n;
    const slope = situation.slopes[g]!;
    // The first derivative, which nearly always decides, in one pass with the size of the terms.
    let size = 0;
    let value = slope;
    let rounding = 64 * EPSILON * (slope < 0 ? -slope : slope);
    for (let k = idle; k < n; k++) {
      const c = coefficients[at + k]!;
      const magnitude = c < 0 ? -c : c;
      const rate = rates[k]!;
      size += magnitude;
      value -= c * rate;
      rounding +=
        (rate < 0 ? -rate : rate) * (64 * EPSILON * magnitude + (magnitude < tolerance ? magnitude : tolerance));
    }
    if (slope === 0 && size <= tolerance) return STANDS;
    if (Math.abs(value) > rounding) {
      // The quickest rate bounds the second derivative well enough, mostly.
      const quickest = n > 0 ? rates[n - 1]! : 0;
      const deep = 2 * DEEP * (n + 1) * tolerance;
      const isSure = value * value > size * quickest * quickest * deep && !situation.grows;
      if (isSure || this.goesDeep(situation, g, value, deep)) return value > 0 ? RISES : FALLS;
    }
    for (let order = 2, sign = 1; order <= n + 1 && !(Math.abs(value) > rounding); order++, sign = -sign) {
      value = 0;
      rounding = 0;
      for (let k = idle; k < n; k++) {
        const c = coefficients[at + k]!;
        const speed = rates[k]! ** order;
        value += sign * c * speed;
        rounding += Math.abs(speed) * (64 * EPSILON * Math.abs(c) + Math.min(Math.abs(c), tolerance));
      }
    }
    return this.way(situation, g, tolerance) ?? (value > rounding ? RISES : FALLS);
  }

  /**
   * Whether a guard certainly comes as far from its limit as rounding could not bring it, the way it sets out: with its first
   * derivative D and a bound B of the second, it moves by D^2 / (2 B). Where parts grow there is no such bound.
   */
  private goesDeep({ stateCount: n, rates, idle, grows }: Situation, g: number, first: number, deep: number): boolean {
    if (grows) return false;
    let bend = 0;
    for (let k = idle; k < n; k++) bend += rates[k]! * rates[k]! * Math.abs(this.coefficients[g * n + k]!);
    return first * first > bend * deep;
  }

  /**
   * On which side of its limit a guard is first by more than rounding, where that cannot be told from its derivatives;
   * nothing if it never is. A guard that turned before it came below its limit would never be found to cross it, being past
   * it by rounding from the beginning. Both sides are as far, so that a comparator and its way back never go both.
   */
  private way(situation: Situation, g: number, tolerance: number): Direction | undefined {
    const leaving = leavingOf(this.sumOf(situation, g), DEEP * tolerance);
    if (leaving) this.leaving.set(g, leaving);
    return leaving?.side;
  }

  private sumOf({ stateCount: n, rates, constants, slopes }: Situation, g: number): ExponentialSum {
    const coefficients = this.coefficients.slice(g * n, g * n + n);
    return { constant: constants[g]!, slope: slopes[g]!, coefficients, rates };
  }
}
