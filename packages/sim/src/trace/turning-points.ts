import { derivativeOf, signChanges } from '../core/exponential-sum.ts';
import type { SegmentSignal } from './frame.ts';

const NONE: readonly number[] = [];

/** Local times in (0, length), ascending, at which a signal turns from rising to falling or back; most never do. */
export function turningPoints(signal: SegmentSignal, length: number): readonly number[] {
  return signal.mayTurn ? signChanges(derivativeOf(signal), length) : NONE;
}
