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
  // Plain loops: there are thousands of columns, anew for every turn of a knob.
  const { first, last, low, high } = shape;
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i < low.length; i++) {
    lowest = Math.min(lowest, low[i]!);
    highest = Math.max(highest, high[i]!);
  }
  const step = highest - lowest;
  if (!(step > 0)) return isOutput ? 'logic' : 'analog';
  const near = (value: number): boolean => value - lowest <= NEAR * step || highest - value <= NEAR * step;
  for (let i = 0; i < low.length; i++) {
    if (!(near(first[i]!) && near(last[i]!) && near(low[i]!) && near(high[i]!))) return 'analog';
  }
  return 'logic';
}
