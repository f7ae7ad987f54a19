import type { Circuit } from '../src/circuit/description.ts';
import { edgeObserver } from '../src/measure/edges.ts';
import { runCircuit } from '../src/run/simulate.ts';

/** What an ordinary run costs from its circuit to its result. */
export interface OrdinaryCost {
  readonly events: number;
  /** Nanoseconds of the processor per event: the least of some runs. */
  readonly perEvent: number;
}

/**
 * The cost of runs as anybody makes them: modes to find, edges of a net watched, once compiled.
 *
 * @param until end of the run (s).
 * @param countPeriods whether periods may be counted where the run repeats itself, as they are unless told otherwise.
 */
export function ordinaryCost(circuit: Circuit, net: string, until: number, countPeriods: boolean): OrdinaryCost {
  let events = 0;
  let least = Infinity;
  for (let run = 0; run < 60; run++) {
    const edges = edgeObserver(net, 4.5, { from: 0, until }, { most: 100 });
    const start = process.hrtime.bigint();
    ({ events } = runCircuit(circuit, { until, observers: [edges], countPeriods }));
    least = Math.min(least, Number(process.hrtime.bigint() - start));
  }
  return { events, perEvent: least / events };
}
