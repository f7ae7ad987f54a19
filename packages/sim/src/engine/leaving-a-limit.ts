import { type ExponentialSum, signChanges, valueAt } from '../core/exponential-sum.ts';

/**
 * Whether a sum comes to lie above its value at the start by more than one bound before it lies below it by more than
 * another; false if it never does. The zeros of the sum less either bound tell, whichever way it sets out.
 */
export function leavesAbove(sum: ExponentialSum, up: number, down: number): boolean {
  const start = valueAt(sum, 0);
  const [above] = signChanges({ ...sum, constant: sum.constant - start - up }, Infinity);
  if (above === undefined) return false;
  const [below] = signChanges({ ...sum, constant: sum.constant - start + down }, above);
  return below === undefined;
}
