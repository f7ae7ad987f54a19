import { fateObserver } from '../measure/fates.ts';
import type { RunNames } from './cell-names.ts';
import { type FatesCell, LISTED_MOST } from './notebook-document.ts';
import type { FatesResult } from './results.ts';
import type { Faultless, RunPlan } from './run-plan.ts';

/**
 * Plans a fates cell.
 *
 * @param timer name of its timer in the circuit.
 * @param shown the name as the cell writes it.
 * @throws RangeError if the circuit has no such timer; `readTimer` has made sure of it.
 */
export function planFates(
  cell: FatesCell,
  timer: string,
  shown: string,
  names: RunNames,
): RunPlan<Faultless<FatesResult>> {
  const { board, from, until } = cell;
  const facts = names.context.timers.find(({ name }) => name === timer);
  if (facts === undefined) throw new RangeError(`planFates: timer must be one of the circuit; got ${timer}.`);
  const observer = fateObserver(facts, { from, until }, { most: LISTED_MOST });
  return {
    observers: [observer],
    result(): Faultless<FatesResult> {
      const { pulses, counts, cut, explanation } = observer.result();
      return { kind: 'fates', ok: true, board, timer: shown, from, until, pulses, counts, cut, explanation };
    },
  };
}
