import type { AgendaStanding } from './agenda-standing.ts';
import type { Program } from './program.ts';

/** Where a run stands, in terms that a changed circuit can take over: volts, pieces, states. */
export interface Standing {
  readonly handled: number;
  readonly pieces: readonly number[];
  readonly states: readonly number[];
  /** Voltage of each capacitor (V, first node minus second). */
  readonly capacitors: readonly number[];
  /** Voltage of each node (V). */
  readonly nodes: readonly number[];
  readonly agenda: AgendaStanding;
}

/**
 * A standing of one program in the terms of another, for a circuit that was changed while running. Capacitors keep their
 * voltages, by part. Where only values differ, latches, contacts and whatever is under way go on as well; where the network
 * itself differs (a leakage that was none, a bias current that was 0 A), latches and contacts start anew.
 */
export function carriedOver(standing: Standing, before: Program, after: Program): Standing {
  const capacitors = after.network.capacitors.map(({ part }, index) => {
    const nth = after.network.capacitors.slice(0, index).filter((other) => other.part === part).length;
    const was = before.network.capacitors.flatMap((other, i) => (other.part === part ? [i] : []))[nth];
    return was === undefined ? after.initial[index]! : standing.capacitors[was]!;
  });
  const nodes = after.nodeNames.map((name) => standing.nodes[before.nodeNames.indexOf(name)] ?? 0);
  if (sameShape(before, after)) return { ...standing, capacitors, nodes };
  return {
    ...standing,
    capacitors,
    nodes,
    pieces: after.branches.map((branch) => branch.start),
    states: after.reactors.map((reactor) => reactor.start),
    agenda: {
      ...standing.agenda,
      slots: after.reactors.flatMap(({ slots }) => Array.from({ length: slots }, () => [])),
    },
  };
}

function sameShape(before: Program, after: Program): boolean {
  const shape = (program: Program): string =>
    JSON.stringify([
      program.nodeNames,
      program.branches.map(({ part, a, b, pieces }) => [part, a, b, pieces.length]),
      program.network.capacitors.map(({ part, a, b }) => [part, a, b]),
      program.reactors.map(({ part, slots, timetable }) => [part, slots, timetable.length]),
      program.inputs.map(({ part }) => part),
    ]);
  return shape(before) === shape(after);
}
