import type { ExponentialSum } from '#sim/core/exponential-sum.ts';

/**
 * The size (C) of the terms in the integral of a current over [0, length]: what its rounding is a share of. A current
 * that is a difference of large terms rounds like those, also when it is small.
 */
export function chargeScale(current: ExponentialSum, length: number): number {
  let size = (Math.abs(current.constant) + Math.abs(current.slope) * length) * length;
  for (let k = 0; k < current.rates.length; k++) {
    const rate = current.rates[k]!;
    size += Math.abs(current.coefficients[k]!) * (rate * length < 1 ? length : 1 / rate);
  }
  return size;
}
