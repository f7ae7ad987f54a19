import { derivativeOf, type ExponentialSum, signChanges } from '../core/exponential-sum.ts';

const NONE: readonly number[] = [];

/** Local times in (0, length), ascending, at which a signal turns from rising to falling or back. */
export function turningPoints(sum: ExponentialSum, length: number): readonly number[] {
  // A signal all of whose terms move the same way never turns; most segments are of this kind.
  let rises = sum.slope > 0;
  let falls = sum.slope < 0;
  for (let k = 0; k < sum.rates.length; k++) {
    const movement = -sum.coefficients[k]! * sum.rates[k]!;
    if (movement > 0) rises = true;
    else if (movement < 0) falls = true;
  }
  return rises && falls ? signChanges(derivativeOf(sum), length) : NONE;
}
