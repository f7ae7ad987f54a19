import type { Envelope } from '../trace/column-envelope.ts';
import type { SignalLane } from './results.ts';

/** Values this near one of the two levels, as a share of the step between them, count as that level. */
const NEAR = 0.05;

/**
 * Tells a net that only steps between two levels from one that moves in between: looked at in columns, every value must
 * lie near the lowest or the highest of all.
 *
 * @param isOutput whether the net is the output of a timer; one that never steps is a logic signal all the same.
 */
export function laneRole(shape: Envelope, isOutput: boolean): SignalLane['role'] {
  // Not Math.min(...list): a lane may have more columns than a call takes arguments.
  const lowest = shape.low.reduce((least, value) => Math.min(least, value), Infinity);
  const highest = shape.high.reduce((most, value) => Math.max(most, value), -Infinity);
  const step = highest - lowest;
  if (!(step > 0)) return isOutput ? 'logic' : 'analog';
  const near = (value: number): boolean => value - lowest <= NEAR * step || highest - value <= NEAR * step;
  const ends = [shape.first, shape.last, shape.low, shape.high];
  return ends.every((list) => list.every(near)) ? 'logic' : 'analog';
}
