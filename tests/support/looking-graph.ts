import { SituationGraph } from '#sim/engine/situation-graph.ts';

/** A graph in whose situations the guards are looked at every time, so that no step is foreseen. */
export class LookingGraph extends SituationGraph {
  override find(...asked: Parameters<SituationGraph['find']>): ReturnType<SituationGraph['find']> {
    const found = super.find(...asked);
    if (!('shortedParts' in found)) found.outlook = undefined;
    return found;
  }
}
