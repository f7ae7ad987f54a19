import { type ExponentialSum, extremes, signChanges, valueAt } from '../core/exponential-sum.ts';
import type { NumberMemory } from '../core/number-memory.ts';
import { OnlyZero } from './only-zero.ts';
import { Powers } from './powers.ts';

const EPSILON = Number.EPSILON;

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
 * One finder serves one run; it keeps the exponentials last computed.
 */
export class CrossingFinder {
  /** The exponentials last computed. */
  readonly powers: Powers;
  private readonly zero: OnlyZero;
  private sums = 0;

  /** @param memory where it has its rows. */
  constructor(largestStateCount: number, memory?: NumberMemory) {
    this.powers = new Powers(largestStateCount, memory);
    this.zero = new OnlyZero(this.powers);
  }

  /** Evaluations of a sum so far, for tests that bound the cost. */
  get evaluations(): number {
    return this.zero.evaluations + this.sums;
  }

  /**
   * The first crossing of guard g in (0, limit], or Infinity. `coefficients` holds the n coefficients of each guard in
   * turn. The guard's last root is tried first when it lies before the limit. With `tie`, a guard that stands on its limit
   * to rounding when `limit` comes crosses then.
   */
  first(guards: GuardedSums, g: number, coefficients: Float64Array, limit: number, tie: boolean): number {
    const n = guards.rates.length;
    const level = guards.constants[g]!;
    // Most guards of a run have one or two terms and a level above zero, so that there is one zero at most.
    if (guards.idle === 0 && level > guards.tolerances[g]! && guards.slopes[g] === 0) {
      if (n === 1) return this.ofOneTerm(guards.rates, 0, coefficients[g]!, level, limit);
      if (n === 2) return this.onlyZero(guards, g, coefficients, level, limit, tie);
    }
    return this.ofMany(guards, g, coefficients, limit, tie);
  }

  /** The same for guards some of whose terms grow: their rates are below zero, and none counts as idle. */
  firstOfGrowing(guards: GuardedSums, g: number, coefficients: Float64Array, limit: number): number {
    return this.isolated(guards, g, coefficients, guards.constants[g]!, limit, 0);
  }

  /** level + c exp(-rates[k] t), negative at the start, with a level above zero. */
  private ofOneTerm(rates: Float64Array, k: number, c: number, level: number, limit: number): number {
    if (c >= 0) return Infinity;
    const power = -level / c;
    const time = -Math.log(power) / rates[k]!;
    if (!(time > 0 && time <= limit)) return Infinity;
    this.powers.know(power, k, time, rates);
    return time;
  }

  private onlyZero(
    guards: GuardedSums,
    g: number,
    coefficients: Float64Array,
    level: number,
    limit: number,
    tie: boolean,
  ): number {
    this.zero.level = level;
    this.zero.limit = limit;
    return this.zero.of(guards, g, coefficients, tie);
  }

  private ofMany(guards: GuardedSums, g: number, coefficients: Float64Array, limit: number, tie: boolean): number {
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
      // On the short lines that a wave is made of, most guards stay far from their limits whatever their terms do.
      let most = level + (slope > 0 ? slope * limit : 0);
      for (let k = idle; k < n; k++) most += Math.max(coefficients[at + k]!, 0);
      if (most < -guards.tolerances[g]!) return Infinity;
      return this.isolated(guards, g, coefficients, level, limit, 0);
    }
    const active = n - idle;
    if (active === 0) return Infinity;
    if (active === 1) return level > 0 ? this.ofOneTerm(rates, idle, coefficients[at + idle]!, level, limit) : Infinity;
    if (active === 2 && level !== 0) {
      // The signs are those of level, level + a and f(0) < 0: with a level above zero there is one change, whatever a is.
      if (level < 0) {
        const a = coefficients[at + idle]!;
        const b = coefficients[at + idle + 1]!;
        if (level + a < -2 * EPSILON * (a - level) || rates[idle]! * a + rates[idle + 1]! * b >= 0) return Infinity;
        return this.isolated(guards, g, coefficients, level, limit, 0);
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
      if (!known) return this.isolated(guards, g, coefficients, level, limit, floor);
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
        return this.isolated(guards, g, coefficients, level, limit, floor);
      }
    }
    return this.onlyZero(guards, g, coefficients, level, limit, tie);
  }

  /** Guard g at a local time. */
  valueOf(guards: GuardedSums, g: number, coefficients: Float64Array, time: number): number {
    const n = guards.rates.length;
    let level = guards.constants[g]! + guards.slopes[g]! * time;
    for (let k = 0; k < guards.idle; k++) level += coefficients[g * n + k]!;
    this.zero.level = level;
    return this.zero.valueAt(time, guards, g, coefficients);
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
   * The general case: all zeros are isolated, the first one where f rises counts. Terms up to `floor` are rounding: where
   * a limit is only approached, the slowest of them would pass it in the end, once all else has died out.
   */
  private isolated(
    guards: GuardedSums,
    g: number,
    coefficients: Float64Array,
    level: number,
    limit: number,
    floor: number,
  ): number {
    const { rates, idle } = guards;
    const n = rates.length;
    const slope = guards.slopes[g]!;
    const at = g * n;
    const sum = {
      constant: level,
      slope,
      coefficients: coefficients.slice(at + idle, at + n).map((c) => (Math.abs(c) <= floor ? 0 : c)),
      rates: rates.slice(idle, n),
    };
    this.sums += n - idle;
    const changes = signChanges(sum, Infinity);
    // Changes take turns, and the last one leads to where f tends: the slope at a change that only grazes is rounding.
    const far = farSignOf(sum);
    let first = (changes.length + (far > 0 ? 1 : 0)) % 2;
    while (first + 1 < changes.length && onlyStands(sum, changes[first + 1]!, guards.tolerances[g]!)) {
      first += 2;
    }
    const time = changes[first];
    return time !== undefined && time <= limit ? time : Infinity;
  }
}

/** A number with the sign that a sum has in the end. */
function farSignOf({ slope, constant, coefficients, rates }: ExponentialSum): number {
  const last = coefficients.findIndex((c) => c !== 0);
  if (last >= 0 && rates[last]! < 0) return coefficients[last]!;
  if (slope !== 0) return slope;
  const level = coefficients.reduce((total, c, k) => (rates[k] === 0 ? total + c : total), constant);
  return level !== 0 ? level : (coefficients.find((c, k) => c !== 0 && rates[k] !== 0) ?? 0);
}

/** Whether a sum that begins on zero to rounding does not leave it by more until a time at which it falls. */
function onlyStands(sum: ExponentialSum, fall: number, tolerance: number): boolean {
  if (valueAt(sum, 0) < -tolerance) return false;
  const { low, high } = extremes(sum, 0, fall);
  return low >= -tolerance && high <= tolerance;
}
