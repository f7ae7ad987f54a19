import { signChanges } from '../core/exponential-sum.ts';

const EPSILON = Number.EPSILON;
/** Newton needs about five rounds; beyond this many the bracket is halved until it closes. */
const NEWTON_ROUNDS = 60;

/** What the finder reads of a situation's guards: guard g is constants[g] + slopes[g] t + exponentials of the rates. */
export interface GuardedSums {
  readonly rates: Float64Array;
  /** How many of the first rates are zero. */
  readonly idle: number;
  readonly constants: Float64Array;
  readonly slopes: Float64Array;
  /** Below this size a guard's value is rounding. */
  readonly tolerances: Float64Array;
  /** A guess for each guard's root; outside the bracket it is ignored. */
  readonly roots: Float64Array;
}

/** The far slope comes first in the partial sums, the slope at the start last. */
type Turns = 0 | 1 | 2 | 3 | 4;
const UNKNOWN = 0;
const MONOTONE_FALLING = 1;
const MONOTONE_RISING = 2;
const FALLING_THEN_RISING = 3;
const RISING_THEN_FALLING = 4;

/**
 * Finds the first time at which f(t) = constant + slope t + sum_k c_k exp(-rates[k] t) becomes zero or positive, when it is
 * negative at the start (or zero and falling). No sampling: the number of sign changes in the partial sums bounds the
 * number of zeros (see docs/decisions/0002-exact-events.md), and where more than one is possible, all are isolated.
 *
 * One finder serves one run; it keeps work space and the exponentials last computed.
 */
export class CrossingFinder {
  /** Evaluations of a sum so far, for tests that bound the cost. */
  evaluations = 0;
  private readonly powers: Float64Array;
  private powersTime = -1;
  private powersRates: Float64Array | undefined;

  constructor(largestStateCount: number) {
    this.powers = new Float64Array(largestStateCount);
  }

  /**
   * exp(-rates[k] time) for all rates from `idle` on. The last ones computed are kept: the root of one guard, the test of
   * the others against it and the step to it share them.
   */
  powersAt(time: number, rates: Float64Array, idle: number): Float64Array {
    const powers = this.powers;
    if (time !== this.powersTime || rates !== this.powersRates) {
      for (let k = idle; k < rates.length; k++) powers[k] = Math.exp(-rates[k]! * time);
      this.powersTime = time;
      this.powersRates = rates;
    }
    return powers;
  }

  /**
   * The first crossing of guard g in (0, limit], or Infinity. `coefficients` holds the n coefficients of each guard in
   * turn. The guard's last root is tried first when it lies before the limit. With `tie`, a guard that stands on its limit
   * to rounding when `limit` comes crosses then.
   */
  first(guards: GuardedSums, g: number, coefficients: Float64Array, limit: number, tie: boolean): number {
    const { rates, idle } = guards;
    const n = rates.length;
    const at = g * n;
    const slope = guards.slopes[g]!;
    let level = guards.constants[g]!;
    for (let k = 0; k < idle; k++) level += coefficients[at + k]!;
    // A limit that is only approached for ever is not passed: what the level seems to lie above it by is rounding.
    if (slope === 0 && Math.abs(level) <= guards.tolerances[g]!) level = 0;
    if (slope !== 0) {
      if (n === idle) return slope > 0 && level < 0 && -level / slope <= limit ? -level / slope : Infinity;
      return this.isolated(level, slope, coefficients, at, rates, n, idle, limit, 0);
    }
    const active = n - idle;
    if (active === 0) return Infinity;
    if (active === 1) {
      const c = coefficients[at + idle]!;
      if (!(level > 0 && c < 0)) return Infinity;
      const power = -level / c;
      const time = -Math.log(power) / rates[idle]!;
      if (!(time > 0 && time <= limit)) return Infinity;
      this.powers[idle] = power;
      this.powersTime = time;
      this.powersRates = rates;
      return time;
    }
    if (active === 2 && level !== 0) {
      // The signs are those of level, level + a and f(0) < 0: with a level above zero there is one change, whatever a is.
      if (level < 0) {
        const a = coefficients[at + idle]!;
        const b = coefficients[at + idle + 1]!;
        if (level + a < -2 * EPSILON * (a - level) || rates[idle]! * a + rates[idle + 1]! * b >= 0) return Infinity;
        return this.isolated(level, 0, coefficients, at, rates, n, idle, limit, 0);
      }
      return this.onlyZero(guards, g, coefficients, level, limit, tie);
    }
    const floor = level === 0 ? guards.tolerances[g]! : 0;
    // Terms that have died out, or that the guard never saw, say nothing about signs.
    let last = n - 1;
    while (last > idle && coefficients[at + last] === 0) last--;
    let changes = 0;
    let largest = Math.abs(level);
    let partial = level;
    let sign = level > 0 ? 1 : level < 0 ? -1 : 0;
    for (let k = idle; k <= last; k++) {
      const c = coefficients[at + k]!;
      const size = c < 0 ? -c : c;
      if (size > largest) largest = size;
      partial += c;
      // The last partial sum is f(0), known to count as negative.
      const known = k === last || (partial < 0 ? -partial : partial) > active * EPSILON * largest;
      if (!known) return this.isolated(level, 0, coefficients, at, rates, n, idle, limit, floor);
      const next = k === last || partial < 0 ? -1 : 1;
      if (sign !== 0 && next !== sign) changes++;
      sign = next;
    }
    if (changes === 0) return Infinity;
    if (changes > 1 || !(level > 0)) {
      const turns = this.turns(coefficients, at, rates, n, idle);
      if (turns === MONOTONE_FALLING) return Infinity;
      if (level <= 0 && (turns === MONOTONE_RISING || turns === FALLING_THEN_RISING)) return Infinity;
      if (turns === UNKNOWN || level <= 0) {
        return this.isolated(level, 0, coefficients, at, rates, n, idle, limit, floor);
      }
    }
    return this.onlyZero(guards, g, coefficients, level, limit, tie);
  }

  /** The only zero of guard g, whose level is above zero. */
  private onlyZero(
    guards: GuardedSums,
    g: number,
    coefficients: Float64Array,
    level: number,
    limit: number,
    tie: boolean,
  ): number {
    const { rates, idle } = guards;
    const n = rates.length;
    const at = g * n;
    const guess = guards.roots[g]!;
    if (!(guess > 0 && guess < limit)) {
      const value = this.valueAt(limit, level, coefficients, at, rates, n, idle);
      if (value < 0) return tie && value >= -guards.tolerances[g]! ? limit : Infinity;
    }
    // From here on the limit plays no part: where a caller stops in between must not show in the last bit of a root.
    return this.newton(level, coefficients, at, rates, n, idle, guess);
  }

  /** Guard g at a local time. */
  valueOf(guards: GuardedSums, g: number, coefficients: Float64Array, time: number): number {
    const { rates, idle } = guards;
    const n = rates.length;
    let level = guards.constants[g]! + guards.slopes[g]! * time;
    for (let k = 0; k < idle; k++) level += coefficients[g * n + k]!;
    return this.valueAt(time, level, coefficients, g * n, rates, n, idle);
  }

  private valueAt(
    time: number,
    level: number,
    coefficients: Float64Array,
    at: number,
    rates: Float64Array,
    n: number,
    idle: number,
  ): number {
    this.evaluations++;
    const powers = this.powersAt(time, rates, idle);
    let value = level;
    for (let k = idle; k < n; k++) value += coefficients[at + k]! * powers[k]!;
    return value;
  }

  /**
   * How f runs, from the sign changes in the partial sums of its derivative: with none it is monotone, with one it turns
   * once. Then f, negative at the start, has at most one zero where it rises for good (a level above zero), and none where
   * it only falls.
   */
  private turns(coefficients: Float64Array, at: number, rates: Float64Array, n: number, idle: number): Turns {
    let partial = 0;
    let largest = 0;
    let changes = 0;
    let first = 0;
    let sign = 0;
    for (let k = idle; k < n; k++) {
      const term = -rates[k]! * coefficients[at + k]!;
      const size = term < 0 ? -term : term;
      if (size > largest) largest = size;
      partial += term;
      if ((partial < 0 ? -partial : partial) <= n * EPSILON * largest) {
        if (partial === 0 && largest === 0) continue;
        return UNKNOWN;
      }
      const next = partial < 0 ? -1 : 1;
      if (sign === 0) first = next;
      else if (next !== sign) changes++;
      sign = next;
    }
    if (changes === 0) return first < 0 ? MONOTONE_FALLING : MONOTONE_RISING;
    if (changes === 1) return first < 0 ? RISING_THEN_FALLING : FALLING_THEN_RISING;
    return UNKNOWN;
  }

  /**
   * The only zero on t > 0, f negative before and positive after it; the level that f tends to is positive. Newton steps in
   * u = exp(-rates[idle] t), exact when one slow term dominates, kept inside the bracket.
   */
  private newton(
    level: number,
    coefficients: Float64Array,
    at: number,
    rates: Float64Array,
    n: number,
    idle: number,
    guess: number,
  ): number {
    const slowest = rates[idle]!;
    let low = 0;
    let high = Infinity;
    let time = guess;
    for (let round = 0; round < NEWTON_ROUNDS; round++) {
      if (!(time > low && time < high)) {
        if (high === Infinity) high = this.farEnd(level, coefficients, at, rates, n, idle);
        if (high <= low) return high;
        const start = round === 0 ? Math.log(-coefficients[at + idle]! / level) / slowest : 0;
        time = start > low && start < high ? start : low + (high - low) / 2;
        if (time === low || time === high) return high;
      }
      const powers = this.powersAt(time, rates, idle);
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
      // Newton's next error is about half this; below the spacing of doubles the step is final.
      if (next > low && next < high && Math.abs(bend / slope) * step * step <= EPSILON * next) return next;
      time = next;
    }
    if (high === Infinity) high = this.farEnd(level, coefficients, at, rates, n, idle);
    for (;;) {
      const middle = low + (high - low) / 2;
      if (!(middle > low && middle < high)) return high;
      if (this.valueAt(middle, level, coefficients, at, rates, n, idle) < 0) low = middle;
      else high = middle;
    }
  }

  /** A time from which on f is positive for certain, 0 if it always is: level - (sum of the falling terms) exp(-rates[idle] t) is, beyond it. */
  private farEnd(
    level: number,
    coefficients: Float64Array,
    at: number,
    rates: Float64Array,
    n: number,
    idle: number,
  ): number {
    let negatives = 0;
    for (let k = idle; k < n; k++) negatives -= Math.min(coefficients[at + k]!, 0);
    if (negatives <= level) return 0;
    return (Math.log(negatives / level) / rates[idle]!) * (1 + 8 * EPSILON) + Number.MIN_VALUE;
  }

  /**
   * The general case: all zeros are isolated, the first one where f rises counts. Terms up to `floor` are rounding: where
   * a limit is only approached, the slowest of them would pass it in the end, once all else has died out.
   */
  private isolated(
    level: number,
    slope: number,
    coefficients: Float64Array,
    at: number,
    rates: Float64Array,
    n: number,
    idle: number,
    limit: number,
    floor: number,
  ): number {
    const sum = {
      constant: level,
      slope,
      coefficients: coefficients.slice(at + idle, at + n).map((c) => (Math.abs(c) <= floor ? 0 : c)),
      rates: rates.slice(idle, n),
    };
    this.evaluations += n - idle;
    for (const time of signChanges(sum, Infinity)) {
      let rise = slope;
      for (let k = 0; k < n - idle; k++) {
        rise -= sum.rates[k]! * sum.coefficients[k]! * Math.exp(-sum.rates[k]! * time);
      }
      if (rise >= 0) return time <= limit ? time : Infinity;
    }
    return Infinity;
  }
}
