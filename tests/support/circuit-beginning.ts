import { standardDevices } from '#sim/device/standard-devices.ts';
import { buildProgram } from '#sim/engine/program.ts';
import type { Situation } from '#sim/engine/situation.ts';
import { SituationGraph } from '#sim/engine/situation-graph.ts';
import { voltScale } from '#sim/engine/volt-scale.ts';
import { circuitOf } from './circuit-issues.ts';
import type { FilePart } from './run-board.ts';

/** A situation, and the modal state in it. */
interface Begun {
  readonly situation: Situation;
  readonly z: Float64Array;
}

/** Where a circuit whose sources stand still begins: as its branches start, and in any pieces. */
export function beginning(parts: readonly FilePart[]): {
  readonly graph: SituationGraph;
  readonly start: Begun;
  readonly at: (pieces: readonly number[]) => Begun;
} {
  const program = buildProgram(circuitOf(parts), standardDevices);
  const graph = new SituationGraph(program, voltScale(program));
  const inputs = Float64Array.from([...program.inputs.map(({ wave }) => (wave as { level: number }).level), 1]);
  const at = (pieces: readonly number[]): Begun => {
    const settled = { pieces, states: program.reactors.map(({ start }) => start), recurs: true };
    const situation = graph.find({ ...settled, inputs, inputSlopes: new Float64Array(inputs.length) });
    if ('shortedParts' in situation) throw new Error(`short of ${situation.shortedParts.join()}`);
    const z = new Float64Array(graph.largestStateCount);
    graph.stateOf(situation, program.initial, [], z);
    return { situation, z };
  };
  return { graph, at, start: at(program.branches.map((branch) => branch.start)) };
}
