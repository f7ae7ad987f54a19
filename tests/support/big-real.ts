/**
 * Real numbers as whole multiples of 2^-BITS, for references that double precision cannot give. Doubles down to about
 * 1e-100 come in without error; every operation rounds down at the last bit.
 */
export type BigReal = bigint;

const BITS = 512n;
/** One. */
export const ONE: BigReal = 1n << BITS;
const TERMS = 40;
const HALVINGS = 24n;

/** A finite double, exactly (but for bits below 2^-512). */
export function big(value: number): BigReal {
  if (!Number.isFinite(value)) throw new RangeError(`big: value must be finite; got ${value}.`);
  if (value === 0) return 0n;
  const bytes = new DataView(new ArrayBuffer(8));
  bytes.setFloat64(0, value);
  const bits = bytes.getBigUint64(0);
  const exponent = (bits >> 52n) & 0x7ffn;
  const fraction = bits & ((1n << 52n) - 1n);
  const mantissa = exponent === 0n ? fraction : fraction | (1n << 52n);
  const shift = BITS + (exponent === 0n ? 1n : exponent) - 1075n;
  const size = shift >= 0n ? mantissa << shift : mantissa >> -shift;
  return value < 0 ? -size : size;
}

/** The double nearest to a number. */
export function toDouble(value: BigReal): number {
  if (value < 0n) return -toDouble(-value);
  if (value === 0n) return 0;
  // 64 leading bits, the last one sticky, so that the conversion rounds once.
  const length = BigInt(value.toString(2).length);
  const drop = length > 64n ? length - 64n : 0n;
  const head = value >> drop;
  const rest = value - (head << drop);
  return Number(rest === 0n ? head : head | 1n) * 2 ** Number(drop - BITS);
}

/** a b */
export function times(a: BigReal, b: BigReal): BigReal {
  return (a * b) >> BITS;
}

/** a / b */
export function over(a: BigReal, b: BigReal): BigReal {
  return (a << BITS) / b;
}

/** e to the power of a number, by its series after halving the argument often. */
export function bigExp(exponent: BigReal): BigReal {
  if (exponent > 0n) return over(ONE, bigExp(-exponent));
  // exp(-400) is far below the last bit.
  if (exponent < -400n * ONE) return 0n;
  const small = exponent >> HALVINGS;
  let term = ONE;
  let sum = ONE;
  for (let k = 1n; k <= BigInt(TERMS); k++) {
    term = times(term, small) / k;
    sum += term;
    if (term === 0n || term === -1n) break;
  }
  for (let k = 0n; k < HALVINGS; k++) sum = times(sum, sum);
  return sum;
}

/** The solution of a x = b by Gauss's elimination, the largest pivot first. */
export function bigSolve(a: readonly (readonly BigReal[])[], b: readonly BigReal[]): BigReal[] {
  const n = b.length;
  const rows = a.map((row, i) => [...row, b[i]!]);
  for (let column = 0; column < n; column++) {
    let best = column;
    for (let i = column + 1; i < n; i++) {
      if (magnitude(rows[i]![column]!) > magnitude(rows[best]![column]!)) best = i;
    }
    [rows[column], rows[best]] = [rows[best]!, rows[column]!];
    const pivot = rows[column]!;
    if (pivot[column] === 0n) throw new RangeError('bigSolve: the matrix is singular to the last bit.');
    for (let i = 0; i < n; i++) {
      if (i === column) continue;
      const factor = over(rows[i]![column]!, pivot[column]!);
      if (factor === 0n) continue;
      for (let j = column; j <= n; j++) rows[i]![j]! -= times(factor, pivot[j]!);
    }
  }
  return rows.map((row, i) => over(row[n]!, row[i]!));
}

/** |a| */
export function magnitude(a: BigReal): BigReal {
  return a < 0n ? -a : a;
}

/** constant + slope t + sum of coefficients[k] exp(-rates[k] t), as `ExponentialSum` has it. */
export interface SumParts {
  readonly constant: number;
  readonly slope: number;
  readonly coefficients: ArrayLike<number>;
  readonly rates: ArrayLike<number>;
}

/** Value and slope of a sum at a time, the doubles in it taken exactly. */
export function bigValueAt(sum: SumParts, time: BigReal): { readonly value: BigReal; readonly slope: BigReal } {
  let value = big(sum.constant) + times(big(sum.slope), time);
  let slope = big(sum.slope);
  for (let k = 0; k < sum.rates.length; k++) {
    const rate = big(sum.rates[k]!);
    const term = times(big(sum.coefficients[k]!), bigExp(-times(rate, time)));
    value += term;
    slope -= times(rate, term);
  }
  return { value, slope };
}

/** The zero of a sum near `guess`, by Newton's method at full length. */
export function bigRootNear(sum: SumParts, guess: number): BigReal {
  let time = big(guess);
  for (let round = 0; round < 12; round++) {
    const { value, slope } = bigValueAt(sum, time);
    const step = over(value, slope);
    time -= step;
    if (magnitude(step) < 1n << 300n) break;
  }
  return time;
}
