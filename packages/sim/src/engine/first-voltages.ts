import { GuardCheck } from './guard-check.ts';
import type { Program } from './program.ts';
import type { Settled } from './situation.ts';
import { SituationGraph } from './situation-graph.ts';

/** Moves allowed for each branch, far above what settling needs. */
const MOST_PER_BRANCH = 16;

/**
 * Voltage of every node (V) at the first instant, for the stray capacitors that a program has in all modes: nobody wired
 * them, so nobody says what they begin with. It is what their nets have once all branches around them have found their
 * pieces, as if the strays were not there; a net that nothing else holds begins at 0 V. Empty where there is no such thing:
 * in a short, and where the pieces without strays contradict each other; the strays begin at 0 V then.
 *
 * @param settled the first instant; its pieces may not have settled.
 */
export function firstVoltages(program: Program, voltScale: number, settled: Settled): readonly number[] {
  const graph = new SituationGraph({ ...program, network: { ...program.network, held: [] } }, voltScale);
  const check = new GuardCheck();
  const z = new Float64Array(graph.largestStateCount);
  const amplitudes = new Float64Array(graph.largestStateCount);
  let { pieces } = settled;
  let nodes: number[] = [];
  for (let move = 0; move <= MOST_PER_BRANCH * pieces.length; move++) {
    const situation = graph.find({ ...settled, pieces });
    if ('shortedParts' in situation) return [];
    graph.stateOf(situation, program.initial, nodes, z);
    nodes = situation.mode.nodes.all().map((readout) => situation.valueOf(readout, z, 0));
    for (let k = 0; k < situation.stateCount; k++) amplitudes[k] = z[k]! - situation.rest[k]!;
    const firing = check.pastLimit(situation, amplitudes);
    const event = firing < 0 ? undefined : graph.event(situation.guards[firing]!.code);
    if (event === undefined || !('branch' in event)) return nodes;
    const { branch, exit } = event;
    pieces = pieces.map((piece, index) => (index === branch ? exit.to : piece));
  }
  return [];
}
