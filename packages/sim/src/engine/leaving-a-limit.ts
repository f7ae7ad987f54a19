import { type ExponentialSum, signChanges, valueAt } from '../core/exponential-sum.ts';

/**
 * On which side of its value at the start a sum first lies by more than a bound: 1 above, -1 below; nothing if it never does.
 * The zeros of the sum less either bound tell, whichever way it sets out.
 */
export function sideLeftFor(sum: ExponentialSum, bound: number): 1 | -1 | undefined {
  const start = valueAt(sum, 0);
  const [above = Infinity] = signChanges({ ...sum, constant: sum.constant - start - bound }, Infinity);
  const [below = Infinity] = signChanges({ ...sum, constant: sum.constant - start + bound }, above);
  if (above === below) return undefined;
  return above < below ? 1 : -1;
}
