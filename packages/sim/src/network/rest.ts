import { type Matrix, matrixIn, multiply } from '../core/dense.ts';
import { NumberMemory } from '../core/number-memory.ts';
import type { Network, OwnLaw } from './element.ts';
import { Elimination } from './reduce.ts';
import type { Short, Tree } from './tree.ts';
import { Trees } from './trees.ts';

/** A network without capacitors, with its trees and what eliminates the potentials of all its modes. */
export interface Still {
  readonly network: Network;
  readonly trees: Trees;
  readonly elimination: Elimination;
}

/**
 * A network with its capacitors taken out.
 *
 * @param memory where it has its rows.
 * @param elimination one of the same branches; what it found is lost when a rest is worked out.
 */
export function withoutCapacitors(
  network: Network,
  memory = new NumberMemory(),
  elimination = new Elimination(network.branches, memory),
): Still {
  const bare = { ...network, capacitors: [], held: [] };
  return { network: bare, trees: new Trees(bare, memory), elimination };
}

/**
 * Where the independent capacitor voltages of a mode come to rest, as rows on [inputs; 1]: the resistive network with all
 * capacitors taken out. Worked out by itself, without subtractions, it is accurate to a few rounding units, where the
 * modal equations lose as many digits as the rates are apart.
 */
export class Rest {
  /** The tree of the network without capacitors. */
  readonly resistive: Tree | Short;
  private readonly voltages: Matrix;

  /**
   * @param still the network without its capacitors.
   * @param laws those of the mode, or of another one with the same tree.
   * @param currents whether constant currents take part; leave them out where some capacitor has no path to discharge,
   *   for there they make voltages drift. Nets without a path count as 0 V then.
   */
  constructor(
    private readonly still: Still,
    laws: readonly OwnLaw[],
    private readonly tree: Tree,
    private readonly currents: boolean,
    memory: NumberMemory,
  ) {
    this.resistive = still.trees.of(laws);
    this.voltages = matrixIn(memory, tree.states.length, still.network.inputCount + 1);
  }

  /**
   * The voltages at rest; they hold until the next laws.
   *
   * @param bearing the branches that bear on the states; all, if left out.
   */
  of(laws: readonly OwnLaw[], bearing?: readonly number[]): Matrix {
    const { still, resistive, voltages, tree } = this;
    // Capacitors can only add paths between ideal sources, so what was no short with them is none without.
    if (voltages.rows === 0 || 'shortedParts' in resistive) return voltages;
    const { component, potential, width: full, states } = resistive;
    const { offsets } = still.elimination.run(resistive, this.currents ? laws : withoutCurrents(laws), [], bearing);
    const width = voltages.columns;
    const from = states.length;
    for (let i = 0; i < tree.states.length; i++) {
      const { a, b } = tree.capacitors[tree.states[i]!]!;
      const [ofA, ofB] = [a * full + from, b * full + from];
      const [ownA, ownB] = [component[a]! * full + from, component[b]! * full + from];
      for (let j = 0; j < width; j++) {
        const above = potential[ofA + j]! + offsets[ownA + j]!;
        voltages.data[i * width + j] = above - (potential[ofB + j]! + offsets[ownB + j]!);
      }
    }
    return voltages;
  }
}

function withoutCurrents(laws: readonly OwnLaw[]): readonly OwnLaw[] {
  if (!laws.some(({ kind }) => kind === 'current')) return laws;
  return laws.map((law): OwnLaw => (law.kind === 'current' ? { kind: 'open' } : law));
}

/** Memory in which the modal state at rest is worked out; of as many rows and columns as the voltages at rest have. */
export interface RestMemory {
  readonly modal: Matrix;
  readonly left: Matrix;
  readonly correction: Matrix;
}

/** Memory for the modal state at rest. */
export function restMemory(stateCount: number, columns: number, memory: NumberMemory): RestMemory {
  return {
    modal: matrixIn(memory, stateCount, columns),
    left: matrixIn(memory, stateCount, columns),
    correction: matrixIn(memory, stateCount, columns),
  };
}

/**
 * The modal state of capacitor voltages at rest, corrected once by what it leaves of them; rows on [inputs; 1]. It stands
 * in `memory.modal`.
 */
export function modalRest(rest: Matrix, toModal: Matrix, toState: Matrix, memory: RestMemory): Matrix {
  const modal = multiply(toModal, rest, memory.modal);
  const left = multiply(toState, modal, memory.left);
  for (let at = 0; at < left.data.length; at++) left.data[at] = rest.data[at]! - left.data[at]!;
  const correction = multiply(toModal, left, memory.correction);
  for (let at = 0; at < modal.data.length; at++) modal.data[at]! += correction.data[at]!;
  return modal;
}
