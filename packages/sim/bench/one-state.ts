import type { Circuit } from '../src/circuit/description.ts';
import { standardDevices } from '../src/device/standard-devices.ts';
import { GraphStore } from '../src/engine/graph-store.ts';
import { OneStateRun } from '../src/engine/one-state-run.ts';
import { type Beat, beatOf } from '../src/signal/beat.ts';
import { expCost } from './exp-cost.ts';

const SAMPLES = 1000;

/**
 * What an event costs on the short way for one capacitor, in nanoseconds and as calls of `Math.exp` measured in turn with it:
 * least by least.
 *
 * @param until length of a sample (s).
 */
export function oneStateCost(circuit: Circuit, net: string, until: number): { perEvent: number; ratio: number } {
  const prepared = new GraphStore(standardDevices).prepare(circuit);
  const { inputs, nodeNames } = prepared.program;
  const index = inputs.findIndex(({ wave }) => beatOf(wave) !== undefined);
  const beat: Beat | undefined = index < 0 ? undefined : beatOf(inputs[index]!.wave);
  // The first one is only counted.
  const watched = ['rail', net].map((each) => ({ signal: nodeNames.indexOf(each), level: 4.5 }));
  const run = new OneStateRun(prepared, watched, beat && { index, rest: beat.rest, raised: beat.raised });
  const costs: number[] = [];
  const exps: number[] = [];
  let edges = 0;
  for (let sample = 0; sample < SAMPLES; sample++) {
    exps.push(expCost());
    const start = process.hrtime.bigint();
    if (!run.run(beat, { from: 0, until }, 1e9, () => void edges++))
      throw new Error('oneStateCost: the run must fit; it did not.');
    costs.push(Number(process.hrtime.bigint() - start) / run.events);
  }
  if (edges === 0) throw new Error('oneStateCost: there must be edges; there were none.');
  const perEvent = Math.min(...costs);
  return { perEvent, ratio: perEvent / Math.min(...exps) };
}
