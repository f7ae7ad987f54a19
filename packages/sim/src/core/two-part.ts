/**
 * Numbers as the unevaluated sum of two doubles, for times: after ten million events a plain sum of step lengths has lost
 * five digits, this one none. The error-free transforms are Knuth's sum and Dekker's product (Dekker 1971).
 */
export interface TwoPart {
  high: number;
  low: number;
}

/** a + b without error. */
export function addExactly(a: number, b: number): TwoPart {
  const high = a + b;
  const part = high - a;
  return { high, low: a - (high - part) + (b - part) };
}

/** a b without error, unless it over- or underflows. */
export function multiplyExactly(a: number, b: number): TwoPart {
  const high = a * b;
  const splitter = 134217729;
  const aHigh = splitter * a - (splitter * a - a);
  const bHigh = splitter * b - (splitter * b - b);
  const aLow = a - aHigh;
  const bLow = b - bHigh;
  return { high, low: aLow * bLow - (high - aHigh * bHigh - aLow * bHigh - aHigh * bLow) };
}

/** The sum of two two-part numbers. */
export function addTwoPart(a: TwoPart, b: TwoPart): TwoPart {
  const sum = addExactly(a.high, b.high);
  return addExactly(sum.high, sum.low + a.low + b.low);
}

/**
 * Tells a run the sum of a two-part time and another one, given in its parts: as `addTwoPart`, but written out, since what
 * that gives back would be an object for every event.
 */
export function tellSum(a: TwoPart, high: number, low: number, run: { time: number; timeLow: number }): void {
  const sum = a.high + high;
  const part = sum - a.high;
  const rest = a.high - (sum - part) + (high - part) + a.low + low;
  run.time = sum + rest;
  const own = run.time - sum;
  run.timeLow = sum - (run.time - own) + (rest - own);
}

/** The difference of two two-part numbers. */
export function subtractTwoPart(a: TwoPart, b: TwoPart): TwoPart {
  return addTwoPart(a, { high: -b.high, low: -b.low });
}

/** A two-part number divided by a double. */
export function dividedBy(numerator: TwoPart, divisor: number): TwoPart {
  const high = numerator.high / divisor;
  const product = multiplyExactly(high, divisor);
  return addExactly(high, (numerator.high - product.high - product.low + numerator.low) / divisor);
}

/** Whether a is greater than b; both as sums and products give them, the low part less than the spacing of the high one. */
export function isAfter(a: TwoPart, b: TwoPart): boolean {
  return a.high > b.high || (a.high === b.high && a.low > b.low);
}

/** The product of two two-part numbers. */
export function multiplyTwoPart(a: TwoPart, b: TwoPart): TwoPart {
  const product = multiplyExactly(a.high, b.high);
  return addExactly(product.high, product.low + a.high * b.low + a.low * b.high);
}

/** The quotient of two two-part numbers. */
export function divideTwoPart(a: TwoPart, b: TwoPart): TwoPart {
  const first = a.high / b.high;
  const rest = subtractTwoPart(a, multiplyTwoPart(b, { high: first, low: 0 }));
  return addExactly(first, rest.high / b.high);
}

/** The square root of a two-part number that is not negative (Newton's method, one step from the double's root). */
export function rootOfTwoPart(a: TwoPart): TwoPart {
  const first = Math.sqrt(a.high);
  if (first === 0) return { high: 0, low: 0 };
  const rest = subtractTwoPart(a, multiplyExactly(first, first));
  return addExactly(first, rest.high / (2 * first));
}
