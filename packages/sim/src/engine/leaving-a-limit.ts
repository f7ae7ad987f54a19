import { type ExponentialSum, signChanges, valueAt } from '../core/exponential-sum.ts';

/** To which side of its value at the start a sum goes, and from when on (s) it lies there by more than a bound. */
export interface Leaving {
  readonly side: 1 | -1;
  readonly from: number;
}

/**
 * On which side of its value at the start a sum first lies by more than a bound: 1 above, -1 below; nothing if it never does.
 * The zeros of the sum less either bound tell, whichever way it sets out.
 */
export function leavingOf(sum: ExponentialSum, bound: number): Leaving | undefined {
  const start = valueAt(sum, 0);
  const [above = Infinity] = signChanges({ ...sum, constant: sum.constant - start - bound }, Infinity);
  const [below = Infinity] = signChanges({ ...sum, constant: sum.constant - start + bound }, above);
  if (above === below) return undefined;
  return above < below ? { side: 1, from: above } : { side: -1, from: below };
}

/** When a sum changes its sign for the first time after a time (s); Infinity if it never does. */
export function nextZero(sum: ExponentialSum, after: number): number {
  return signChanges(sum, Infinity).find((time) => time > after) ?? Infinity;
}
