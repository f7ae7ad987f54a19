import type { Law } from '../network/element.ts';
import type { Mode } from '../network/mode.ts';
import type { Short } from '../network/tree.ts';
import type { SnapChange } from '../trace/event.ts';
import type { Program } from './program.ts';
import type { SituationGraph } from './situation-graph.ts';

/** Transistors of which all combinations are looked at; of more, several states are taken to be possible. */
const MOST_LOOKED_AT = 5;

/** A transistor that amplifies: its base and collector as branches, and their pieces where they conduct. */
interface Amplifier {
  readonly base: number;
  readonly collector: number;
  readonly conducts: number;
  readonly amplifies: number;
  readonly saturates: number;
}

/**
 * Tells whether a circuit may have several consistent states at one instant: whether there is a combination of transistors
 * that amplify and transistors that are saturated in which those that amplify drive each other on (decision 12).
 */
export class SeveralStates {
  private readonly amplifiers: readonly Amplifier[];
  private readonly known = new Map<string, boolean>();

  constructor(private readonly graph: SituationGraph) {
    this.amplifiers = amplifiersOf(graph.program);
  }

  /** Whether there may be, with the other branches as in the given pieces. */
  possible(pieces: readonly number[]): boolean {
    const { amplifiers, known } = this;
    if (amplifiers.length < 2) return false;
    if (amplifiers.length > MOST_LOOKED_AT) return true;
    const conducting = pieces.slice();
    for (const { base, collector, conducts, amplifies } of amplifiers) {
      conducting[base] = conducts;
      conducting[collector] = amplifies;
    }
    const key = conducting.join();
    let several = known.get(key);
    if (several === undefined) {
      several = this.forksSomewhere(conducting, 0);
      known.set(key, several);
    }
    return several;
  }

  /** What the transistors do that do something else in other pieces. */
  changes(before: readonly number[], after: readonly number[]): readonly SnapChange[] {
    const { branches } = this.graph.program;
    return this.amplifiers.flatMap((amplifier) => {
      const [from, to] = [doing(amplifier, before), doing(amplifier, after)];
      return from === to ? [] : [{ part: branches[amplifier.collector]!.part, from, to }];
    });
  }

  private forksSomewhere(pieces: readonly number[], from: number): boolean {
    if (forks(this.graph.modeOf(pieces))) return true;
    for (let k = from; k < this.amplifiers.length; k++) {
      const { collector, saturates } = this.amplifiers[k]!;
      const next = pieces.slice();
      next[collector] = saturates;
      if (this.forksSomewhere(next, k + 1)) return true;
    }
    return false;
  }
}

/** Whether the transistors of a mode drive each other on, so that its currents are not the only ones at an instant. */
export function forks(mode: Mode | Short): boolean {
  return !('shortedParts' in mode) && mode.untold?.reason === 'forks';
}

function doing({ base, collector, conducts, amplifies }: Amplifier, pieces: readonly number[]): SnapChange['from'] {
  if (pieces[base] !== conducts) return 'off';
  return pieces[collector] === amplifies ? 'amplifying' : 'saturated';
}

function amplifiersOf({ branches }: Program): Amplifier[] {
  const pieceOf = (branch: number, kind: Law['kind']): number =>
    branches[branch]!.pieces.findIndex(({ law }) => law.kind === kind);
  return branches.flatMap(({ pieces }, collector) => {
    const amplifies = pieceOf(collector, 'controlled');
    const law = pieces[amplifies]?.law;
    if (law?.kind !== 'controlled') return [];
    const conducts = pieceOf(law.by, 'thevenin');
    return [{ base: law.by, collector, conducts, amplifies, saturates: pieceOf(collector, 'thevenin') }];
  });
}
