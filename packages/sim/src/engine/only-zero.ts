import type { GuardedSums } from './crossing.ts';
import type { Powers } from './powers.ts';

const EPSILON = Number.EPSILON;
/** Newton needs about five rounds; beyond this many the bracket is halved until it closes. */
const NEWTON_ROUNDS = 60;

/**
 * Finds the zero of a guard that is known to have just one on t > 0: f is negative before it and positive after it, and the
 * level that f tends to is positive.
 *
 * What is searched is set before a search: numbers handed over in a call cost as much as the search itself.
 */
export class OnlyZero {
  /** Evaluations of a sum so far, for tests that bound the cost. */
  evaluations = 0;
  /** The level that the guard tends to: its constant and what its idle rates hold. */
  level = 0;
  /** Up to where a zero is looked for (s). */
  limit = 0;

  constructor(private readonly powers: Powers) {}

  /**
   * The zero of guard g, or Infinity when it comes after the limit. The last root is tried first when it lies before the
   * limit. With `tie`, a guard that stands on its limit to rounding when `limit` comes crosses then.
   */
  of(guards: GuardedSums, g: number, coefficients: Float64Array, tie: boolean): number {
    const { limit } = this;
    const guess = guards.roots[g]!;
    if (!(guess > 0 && guess < limit)) {
      const value = this.valueAt(limit, guards, g, coefficients);
      if (value < 0) return tie && value >= -guards.tolerances[g]! ? limit : Infinity;
    }
    // In a run that repeats itself the last root is the root: Newton begins there, and finds so at one evaluation.
    // From here on the limit plays no part: where a caller stops in between must not show in the last bit of a root.
    return this.newton(guards, g, coefficients);
  }

  /** The guard with the level set, at a local time. */
  valueAt(time: number, { rates, idle }: GuardedSums, g: number, coefficients: Float64Array): number {
    const n = rates.length;
    this.evaluations++;
    const powers = this.powers.at(time, rates, idle);
    let value = this.level;
    for (let k = idle; k < n; k++) value += coefficients[g * n + k]! * powers[k]!;
    return value;
  }

  /** Newton steps in u = exp(-rates[idle] t), exact when one slow term dominates, kept inside the bracket. */
  private newton(guards: GuardedSums, g: number, coefficients: Float64Array): number {
    const { rates, idle } = guards;
    const { level } = this;
    const n = rates.length;
    const at = g * n;
    const slowest = rates[idle]!;
    let low = 0;
    let high = Infinity;
    let time = guards.roots[g]!;
    for (let round = 0; round < NEWTON_ROUNDS; round++) {
      if (!(time > low && time < high)) {
        if (high === Infinity) high = this.farEnd(guards, g, coefficients);
        if (high <= low) return high;
        const start = round === 0 ? Math.log(-coefficients[at + idle]! / level) / slowest : 0;
        time = start > low && start < high ? start : low + (high - low) / 2;
        if (time === low || time === high) return high;
      }
      const powers = this.powers.at(time, rates, idle);
      let value = level;
      let slope = 0;
      let bend = 0;
      let size = level;
      this.evaluations++;
      for (let k = idle; k < n; k++) {
        const term = coefficients[at + k]! * powers[k]!;
        const first = rates[k]! * term;
        value += term;
        slope -= first;
        bend += rates[k]! * first;
        size += term < 0 ? -term : term;
      }
      if (value < 0) low = time;
      else high = time;
      if ((value < 0 ? -value : value) <= 4 * EPSILON * size && slope > 0) return time;
      if (slope <= 0) {
        time = -1;
        continue;
      }
      const ratio = (slowest * value) / slope;
      const next = ratio > -0.9 ? time - Math.log1p(ratio) / slowest : -1;
      const step = next - time;
      // Newton's next error is half of the second times the step squared, of the first if it were not for the logarithm;
      // either may vanish by chance. Below the spacing of doubles the step is final.
      const curve = bend / slope;
      const turn = Math.max(curve < 0 ? -curve : curve, Math.abs(curve + slowest));
      if (next > low && next < high && turn * step * step <= EPSILON * next) return next;
      time = next;
    }
    if (high === Infinity) high = this.farEnd(guards, g, coefficients);
    for (;;) {
      const middle = low + (high - low) / 2;
      if (!(middle > low && middle < high)) return high;
      if (this.valueAt(middle, guards, g, coefficients) < 0) low = middle;
      else high = middle;
    }
  }

  /** A time from which on f is positive for certain, 0 if it always is: level - (sum of the falling terms) exp(-rates[idle] t) is, beyond it. */
  private farEnd({ rates, idle }: GuardedSums, g: number, coefficients: Float64Array): number {
    const { level } = this;
    const n = rates.length;
    let negatives = 0;
    for (let k = idle; k < n; k++) negatives -= Math.min(coefficients[g * n + k]!, 0);
    if (negatives <= level) return 0;
    return (Math.log(negatives / level) / rates[idle]!) * (1 + 8 * EPSILON) + Number.MIN_VALUE;
  }
}
