import { signChanges } from '../core/exponential-sum.ts';

const EPSILON = Number.EPSILON;
/** Newton needs about five rounds; beyond this many the bracket is halved until it closes. */
const NEWTON_ROUNDS = 60;

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
  private readonly limitPowers: Float64Array;
  private limitTime = -1;
  private limitRates: Float64Array | undefined;

  constructor(largestStateCount: number) {
    this.limitPowers = new Float64Array(largestStateCount);
  }

  /**
   * The first crossing in (0, limit], or Infinity. `coefficients` holds the n coefficients from `at`; the first `idle`
   * rates are zero. `guess` is tried first when it lies inside the bracket.
   */
  first(
    constant: number,
    slope: number,
    coefficients: Float64Array,
    at: number,
    rates: Float64Array,
    n: number,
    idle: number,
    limit: number,
    guess: number,
  ): number {
    let level = constant;
    for (let k = 0; k < idle; k++) level += coefficients[at + k]!;
    if (slope !== 0) {
      if (n === idle) return slope > 0 && level < 0 && -level / slope <= limit ? -level / slope : Infinity;
      return this.isolated(level, slope, coefficients, at, rates, n, idle, limit);
    }
    const active = n - idle;
    if (active === 0) return Infinity;
    if (active === 1) {
      const c = coefficients[at + idle]!;
      if (!(level > 0 && c < 0)) return Infinity;
      const time = Math.log(-c / level) / rates[idle]!;
      return time > 0 && time <= limit ? time : Infinity;
    }
    let changes = 0;
    let largest = Math.abs(level);
    let partial = level;
    let sign = level > 0 ? 1 : level < 0 ? -1 : 0;
    let negatives = 0;
    for (let k = idle; k < n; k++) {
      const c = coefficients[at + k]!;
      const size = c < 0 ? -c : c;
      if (c < 0) negatives += size;
      if (size > largest) largest = size;
      partial += c;
      // The last partial sum is f(0), known to count as negative.
      const known = k === n - 1 || (partial < 0 ? -partial : partial) > active * EPSILON * largest;
      if (!known) return this.isolated(level, 0, coefficients, at, rates, n, idle, limit);
      const next = k === n - 1 || partial < 0 ? -1 : 1;
      if (sign !== 0 && next !== sign) changes++;
      sign = next;
    }
    if (changes === 0) return Infinity;
    if (changes > 1 || !(level > 0)) return this.isolated(level, 0, coefficients, at, rates, n, idle, limit);
    const bound = (Math.log(negatives / level) / rates[idle]!) * (1 + 8 * EPSILON) + Number.MIN_VALUE;
    let high = bound;
    if (limit < bound) {
      if (this.valueAtLimit(level, coefficients, at, rates, n, idle, limit) < 0) return Infinity;
      high = limit;
    }
    return this.newton(level, coefficients, at, rates, n, idle, high, guess);
  }

  /** f at the limit, with exponentials shared by all guards tested against the same limit. */
  private valueAtLimit(
    level: number,
    coefficients: Float64Array,
    at: number,
    rates: Float64Array,
    n: number,
    idle: number,
    limit: number,
  ): number {
    if (limit !== this.limitTime || rates !== this.limitRates) {
      for (let k = idle; k < n; k++) this.limitPowers[k] = Math.exp(-rates[k]! * limit);
      this.limitTime = limit;
      this.limitRates = rates;
      this.evaluations++;
    }
    let value = level;
    for (let k = idle; k < n; k++) value += coefficients[at + k]! * this.limitPowers[k]!;
    return value;
  }

  /**
   * The only zero in (0, high], f negative before and positive after it. Newton steps in u = exp(-rates[idle] t), exact
   * when one slow term dominates, kept inside the bracket.
   */
  private newton(
    level: number,
    coefficients: Float64Array,
    at: number,
    rates: Float64Array,
    n: number,
    idle: number,
    upper: number,
    guess: number,
  ): number {
    let low = 0;
    let high = upper;
    const slowest = rates[idle]!;
    let time = guess;
    if (!(time > 0 && time < high)) {
      const start = Math.log(-coefficients[at + idle]! / level) / slowest;
      time = start > 0 && start < high ? start : high / 2;
    }
    for (let round = 0; round < NEWTON_ROUNDS; round++) {
      let value = level;
      let slope = 0;
      let bend = 0;
      let size = level;
      this.evaluations++;
      for (let k = idle; k < n; k++) {
        const rate = rates[k]!;
        const term = coefficients[at + k]! * Math.exp(-rate * time);
        value += term;
        slope -= rate * term;
        bend += rate * rate * term;
        size += term < 0 ? -term : term;
      }
      if (value < 0) low = time;
      else high = time;
      if ((value < 0 ? -value : value) <= 2 * EPSILON * size && slope > 0) {
        const polished = time - value / slope;
        return polished > 0 ? polished : time;
      }
      let next = -1;
      if (slope > 0) {
        const ratio = (slowest * value) / slope;
        if (ratio > -0.9) next = time - Math.log1p(ratio) / slowest;
        const step = next - time;
        // Newton's next error is about half this; below the spacing of doubles the step is final.
        if (next > low && next < high && Math.abs(bend / slope) * step * step <= EPSILON * next) return next;
      }
      if (!(next > low && next < high)) next = low + (high - low) / 2;
      if (next === low || next === high) return high;
      time = next;
    }
    while (true) {
      const middle = low + (high - low) / 2;
      if (!(middle > low && middle < high)) return high;
      let value = level;
      for (let k = idle; k < n; k++) value += coefficients[at + k]! * Math.exp(-rates[k]! * middle);
      if (value < 0) low = middle;
      else high = middle;
    }
  }

  /** The general case: all zeros are isolated, the first one where f rises counts. */
  private isolated(
    level: number,
    slope: number,
    coefficients: Float64Array,
    at: number,
    rates: Float64Array,
    n: number,
    idle: number,
    limit: number,
  ): number {
    const sum = {
      constant: level,
      slope,
      coefficients: coefficients.slice(at + idle, at + n),
      rates: rates.slice(idle, n),
    };
    this.evaluations += n - idle;
    for (const time of signChanges(sum, limit)) {
      let rise = slope;
      for (let k = 0; k < n - idle; k++) {
        rise -= sum.rates[k]! * sum.coefficients[k]! * Math.exp(-sum.rates[k]! * time);
      }
      if (rise >= 0) return time;
    }
    return Infinity;
  }
}
