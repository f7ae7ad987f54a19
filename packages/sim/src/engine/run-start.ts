import type { Short } from '../network/tree.ts';
import type { Agenda } from './agenda.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { EventCounter } from './event-counter.ts';
import { firstVoltages } from './first-voltages.ts';
import type { GuardCheck } from './guard-check.ts';
import type { Program } from './program.ts';
import type { Situation } from './situation.ts';
import type { SituationGraph } from './situation-graph.ts';
import type { Standing } from './standing.ts';
import type { SuccessionFinder } from './succession-finder.ts';
import { voltScale } from './volt-scale.ts';

/** What of a run a start sets. */
export interface StartedParts {
  readonly program: Program;
  readonly graph: SituationGraph;
  readonly agenda: Agenda;
  readonly check: GuardCheck;
  readonly counter: EventCounter;
  readonly successions: SuccessionFinder;
  /** Takes up the modal state. */
  readonly z: Float64Array;
}

/** Where a run starts. */
export interface RunStart {
  /** The first situation, or the sources that contradict each other in it. */
  readonly situation: Situation | Short;
  /** How far beyond the last event the observers have seen (s). */
  readonly shown: number;
}

/**
 * Takes up a run: from time 0, from a checkpoint of the same program, or from where a run of another version of the circuit
 * stands.
 */
export function startRun(parts: StartedParts, from?: Checkpoint | Standing): RunStart {
  if (from === undefined) return begun(parts);
  return 'modal' in from ? resumed(parts, from) : takenOver(parts, from);
}

function begun(parts: StartedParts): RunStart {
  const { program, graph, successions, z } = parts;
  const { branches, reactors, network, initial } = program;
  const pieces = branches.map((branch) => branch.start);
  const states = reactors.map((reactor) => reactor.start);
  const situation = entered(parts, pieces, states);
  if ('shortedParts' in situation) return { situation, shown: 0 };
  const first = { pieces, states, ...successions.inputsNow() };
  const nodes = network.held.length > 0 ? firstVoltages(program, voltScale(program), first) : [];
  graph.stateOf(situation, initial, nodes, z);
  return { situation, shown: 0 };
}

function resumed(parts: StartedParts, from: Checkpoint): RunStart {
  const { graph, agenda, check, counter, z } = parts;
  check.noise = from.noise;
  for (const event of from.back) check.back.add(event);
  counter.handled = from.handled;
  counter.atOnce = from.atOnce;
  agenda.resume(from.agenda);
  graph.remember(from.roots);
  const situation = entered(parts, from.pieces, from.states);
  z.set(from.modal);
  return { situation, shown: from.shown };
}

function takenOver(parts: StartedParts, from: Standing): RunStart {
  const { graph, agenda, counter, z } = parts;
  counter.handled = from.handled;
  agenda.resumeAnew(from.agenda);
  const situation = entered(parts, from.pieces, from.states);
  if (!('shortedParts' in situation)) graph.stateOf(situation, from.capacitors, from.nodes, z);
  return { situation, shown: 0 };
}

/** The situation that pieces and states make with the inputs as they are. */
function entered(
  { graph, successions }: StartedParts,
  pieces: readonly number[],
  states: readonly number[],
): Situation | Short {
  return graph.find({ pieces, states, ...successions.inputsNow() });
}
