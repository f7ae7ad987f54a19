import { bracketedRoot } from './bracketed-root.ts';

/**
 * y(t) = constant + slope t + sum_k coefficients[k] exp(-rates[k] t), the shape of every voltage and current between two
 * events. Rates (1/s) ascend; one below zero belongs to a part that grows, as while transistors drive each other on. Times
 * are local, in seconds from the start of the segment.
 */
export interface ExponentialSum {
  constant: number;
  slope: number;
  coefficients: Float64Array;
  rates: Float64Array;
}

/** The value at a local time. */
export function valueAt(sum: ExponentialSum, time: number): number {
  const { coefficients, rates } = sum;
  let value = sum.constant + (sum.slope === 0 ? 0 : sum.slope * time);
  for (let k = 0; k < rates.length; k++) {
    const coefficient = coefficients[k]!;
    if (coefficient !== 0) value += coefficient * Math.exp(-rates[k]! * time);
  }
  return value;
}

/** Terms of a sum of pure exponentials, rates ascending and distinct, no zero coefficient. */
interface Terms {
  readonly coefficients: readonly number[];
  readonly rates: readonly number[];
}

const EPSILON = Number.EPSILON;

/** Brings rates that agree to rounding into one term: keeping them apart would only add noise to the recursion. */
function distinctTerms(coefficients: ArrayLike<number>, rates: ArrayLike<number>): Terms {
  const c: number[] = [];
  const r: number[] = [];
  for (let k = 0; k < rates.length; k++) {
    if (coefficients[k] === 0) continue;
    const last = r.length - 1;
    if (last >= 0 && rates[k]! - r[last]! <= 4 * EPSILON * Math.abs(rates[k]!)) c[last] = c[last]! + coefficients[k]!;
    else {
      c.push(coefficients[k]!);
      r.push(rates[k]!);
    }
  }
  return { coefficients: c.filter((value) => value !== 0), rates: r.filter((_, k) => c[k] !== 0) };
}

function termsValue(terms: Terms, time: number): number {
  // With the slowest rate taken out, so that far values keep their sign instead of underflowing to zero.
  const { coefficients, rates } = terms;
  let value = coefficients[0]!;
  for (let k = 1; k < rates.length; k++) value += coefficients[k]! * Math.exp(-(rates[k]! - rates[0]!) * time);
  return value;
}

/**
 * The number of zeros on t > 0 is at most the number of sign changes in the partial sums taken from the slowest term
 * (Laguerre 1883, the continuous form of Descartes' rule). No certain change means no zero. A partial sum lost in
 * rounding has an unknown sign, so it never counts as certain.
 */
function certainlyNoZero(terms: Terms): boolean {
  const { coefficients } = terms;
  let partial = 0;
  let largest = 0;
  let sign = 0;
  for (const coefficient of coefficients) {
    partial += coefficient;
    largest = Math.max(largest, Math.abs(coefficient));
    if (Math.abs(partial) <= coefficients.length * EPSILON * largest) return false;
    if (sign === 0) sign = Math.sign(partial);
    else if (Math.sign(partial) !== sign) return false;
  }
  return true;
}

/**
 * Every sign change of a sum of pure exponentials on (0, length), ascending. Between neighbouring zeros of the derivative
 * (taken after the slowest exponential is divided out, which leaves one term fewer) the sum is monotone, so the recursion
 * encloses every zero; an error in such a cut point is harmless because the sum is flat there.
 */
function termsSignChanges(terms: Terms, length: number): number[] {
  const { coefficients, rates } = terms;
  const count = rates.length;
  if (count < 2 || certainlyNoZero(terms)) return [];
  if (count === 2) {
    const time = Math.log(-coefficients[1]! / coefficients[0]!) / (rates[1]! - rates[0]!);
    return time > 0 && time < length ? [time] : [];
  }
  const derivative: Terms = {
    coefficients: coefficients.slice(1).map((c, k) => c * (rates[k + 1]! - rates[0]!)),
    rates: rates.slice(1).map((rate) => rate - rates[0]!),
  };
  return monotonePieces(
    termsSignChanges(derivative, length),
    length,
    (time) => termsValue(terms, time),
    coefficients[0]!,
    1 / (rates[1]! - rates[0]!),
  );
}

/** One sign change at most in each piece between the cuts; `far` has the sign that the function tends to. */
function monotonePieces(
  cuts: readonly number[],
  length: number,
  value: (time: number) => number,
  far: number,
  timeScale: number,
): number[] {
  const found: number[] = [];
  let from = 0;
  let fromValue = value(0);
  let sign = Math.sign(fromValue);
  for (let piece = 0; piece <= cuts.length; piece++) {
    let to = piece < cuts.length ? cuts[piece]! : length;
    let toValue = to === Infinity ? far : value(to);
    if (to === Infinity && sign !== 0 && Math.sign(far) === -sign) {
      to = Math.max(2 * from, timeScale);
      while (Math.sign((toValue = value(to))) !== Math.sign(far) && to < Number.MAX_VALUE / 4) to *= 2;
    }
    if (sign !== 0 && Math.sign(toValue) === -sign) {
      found.push(bracketedRoot(value, from, fromValue, to, toValue));
    }
    if (toValue !== 0) sign = Math.sign(toValue);
    from = to;
    fromValue = toValue;
  }
  return found;
}

/**
 * All times in (0, length) at which the sum changes sign, ascending; `length` may be `Infinity`. Isolation is guaranteed:
 * the zeros of the derivative cut the axis into monotone pieces, recursively down to two terms, which have a closed form.
 * A touch without a change of sign is not listed.
 */
export function signChanges(sum: ExponentialSum, length: number): number[] {
  if (sum.rates[0]! < 0) return signChangesOfGrowing(sum, length);
  let constant = sum.constant;
  let first = 0;
  while (first < sum.rates.length && sum.rates[first] === 0) constant += sum.coefficients[first++]!;
  if (sum.slope === 0) {
    // Most signals most of the time: too far away to reach zero, or with one term only.
    let reach = 0;
    let moving = 0;
    let last = -1;
    for (let k = first; k < sum.rates.length; k++) {
      const c = sum.coefficients[k]!;
      if (c === 0) continue;
      reach += c < 0 ? -c : c;
      moving++;
      last = k;
    }
    if (moving === 0 || reach < (constant < 0 ? -constant : constant)) return [];
    if (moving === 1) {
      const time = Math.log(-sum.coefficients[last]! / constant) / sum.rates[last]!;
      return time > 0 && time < length ? [time] : [];
    }
  }
  const decaying = distinctTerms(sum.coefficients.subarray(first), sum.rates.subarray(first));
  if (sum.slope === 0) {
    return termsSignChanges(
      constant === 0 ? decaying : { coefficients: [constant, ...decaying.coefficients], rates: [0, ...decaying.rates] },
      length,
    );
  }
  const derivative: Terms = {
    coefficients: [sum.slope, ...decaying.coefficients.map((c, k) => -c * decaying.rates[k]!)],
    rates: [0, ...decaying.rates],
  };
  const value = (time: number): number => valueAt(sum, time);
  const scale = decaying.rates.length > 0 ? 1 / decaying.rates[0]! : Math.abs(constant / sum.slope) || 1;
  return monotonePieces(termsSignChanges(derivative, length), length, value, sum.slope, scale);
}

/**
 * The same where parts grow. Only the differences between rates count, the constant being a term of rate zero among the
 * others; values are taken with the quickest growth divided out, so that none is too large for a number.
 */
function signChangesOfGrowing(sum: ExponentialSum, length: number): number[] {
  const moving = Array.from(sum.rates, (rate, k) => ({ rate, coefficient: sum.coefficients[k]! }));
  if (sum.slope === 0) return termsSignChanges(ascending([...moving, { rate: 0, coefficient: sum.constant }]), length);
  const derivative = ascending([
    ...moving.map(({ rate, coefficient }) => ({ rate, coefficient: -rate * coefficient })),
    { rate: 0, coefficient: sum.slope },
  ]);
  const growing = moving.find(({ coefficient }) => coefficient !== 0);
  const quickest = Math.min(growing?.rate ?? 0, 0);
  const value = (time: number): number => {
    let total = (sum.constant + sum.slope * time) * Math.exp(quickest * time);
    for (const { rate, coefficient } of moving) {
      if (coefficient !== 0) total += coefficient * Math.exp((quickest - rate) * time);
    }
    return total;
  };
  const far = quickest < 0 ? growing!.coefficient : sum.slope;
  const scale = quickest < 0 ? -1 / quickest : Math.abs(sum.constant / sum.slope) || 1;
  return monotonePieces(termsSignChanges(derivative, length), length, value, far, scale);
}

function ascending(terms: readonly { readonly rate: number; readonly coefficient: number }[]): Terms {
  const sorted = [...terms].sort((p, q) => p.rate - q.rate);
  return distinctTerms(
    sorted.map(({ coefficient }) => coefficient),
    sorted.map(({ rate }) => rate),
  );
}

/** The sum's derivative with respect to time. */
export function derivativeOf(sum: ExponentialSum): ExponentialSum {
  return {
    constant: sum.slope,
    slope: 0,
    coefficients: sum.coefficients.map((c, k) => -c * sum.rates[k]!),
    rates: sum.rates,
  };
}

/** Least and greatest value on [from, to]: the ends and the zeros of the derivative between them. */
export function extremes(sum: ExponentialSum, from: number, to: number): { low: number; high: number } {
  const start = valueAt(sum, from);
  const end = valueAt(sum, to);
  let low = Math.min(start, end);
  let high = Math.max(start, end);
  let turning = sum.slope === 0 ? -1 : 0;
  for (let k = 0; k < sum.rates.length; k++) if (sum.rates[k] !== 0 && sum.coefficients[k] !== 0) turning++;
  if (turning <= 0) return { low, high };
  for (const time of signChanges(derivativeOf(sum), to)) {
    if (time <= from) continue;
    const value = valueAt(sum, time);
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return { low, high };
}

/** integral of exp(-rate t) over [0, length]. */
function decayIntegral(rate: number, length: number): number {
  return rate === 0 ? length : -Math.expm1(-rate * length) / rate;
}

/** integral of t exp(-rate t) over [0, length]; by its series where the closed form would cancel. */
function momentIntegral(rate: number, length: number): number {
  const x = rate * length;
  if (Math.abs(x) < 0.3) {
    let term = 1;
    let total = 0;
    for (let k = 0; k < 20; k++) {
      total += term / (k + 2);
      term *= -x / (k + 1);
    }
    return total * length * length;
  }
  return (-Math.expm1(-x) - x * Math.exp(-x)) / (rate * rate);
}

/** The exact integral over [0, length]. */
export function integral(sum: ExponentialSum, length: number): number {
  let total = sum.constant * length + (sum.slope === 0 ? 0 : (sum.slope * length * length) / 2);
  for (let k = 0; k < sum.rates.length; k++) {
    const coefficient = sum.coefficients[k]!;
    if (coefficient !== 0) total += coefficient * decayIntegral(sum.rates[k]!, length);
  }
  return total;
}

/** The exact integral of the product of two sums that have the same rates, over [0, length]. */
export function productIntegral(a: ExponentialSum, b: ExponentialSum, length: number): number {
  const rates = a.rates;
  const square = (length * length) / 2;
  let total = a.constant * b.constant * length + (a.constant * b.slope + a.slope * b.constant) * square;
  total += (a.slope * b.slope * length * length * length) / 3;
  for (let k = 0; k < rates.length; k++) {
    const ak = a.coefficients[k]!;
    const bk = b.coefficients[k]!;
    if (ak === 0 && bk === 0) continue;
    total += (ak * b.constant + a.constant * bk) * decayIntegral(rates[k]!, length);
    if (a.slope !== 0 || b.slope !== 0) total += (ak * b.slope + a.slope * bk) * momentIntegral(rates[k]!, length);
    for (let j = 0; j < rates.length; j++) {
      total += ak * b.coefficients[j]! * decayIntegral(rates[k]! + rates[j]!, length);
    }
  }
  return total;
}
