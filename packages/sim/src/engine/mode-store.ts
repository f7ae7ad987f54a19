import type { Mode } from '../network/mode.ts';
import type { Short } from '../network/tree.ts';
import type { Program } from './program.ts';

/** Networks whose modes are kept: a study goes back and forth between a few. */
const MOST_NETWORKS = 16;

/**
 * Keeps compiled modes from run to run. Where a study only changes what drives a circuit, its network stays the same, and
 * with it every mode; compiling them is most of what a short run costs.
 */
export class ModeStore {
  private readonly networks = new Map<string, Map<string, Mode | Short>>();

  /** The modes of a program's network that are known so far, by the pieces that are in force; to be added to. */
  modesOf({ network, branches }: Program): Map<string, Mode | Short> {
    const key = JSON.stringify([
      network.nodeCount,
      network.inputCount,
      network.capacitors.map(({ a, b, capacitance }) => [a, b, capacitance]),
      branches.map(({ part, a, b, pieces }) => [part, a, b, pieces.map(({ law }) => law)]),
    ]);
    const modes = this.networks.get(key) ?? new Map<string, Mode | Short>();
    // The one used last goes to the end, so that the first one is the one to give up.
    this.networks.delete(key);
    this.networks.set(key, modes);
    if (this.networks.size > MOST_NETWORKS) this.networks.delete(this.networks.keys().next().value!);
    return modes;
  }
}
