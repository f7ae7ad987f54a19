import { type Matrix, multiply, zeros } from '../core/dense.ts';
import type { Network, OwnLaw } from './element.ts';
import { eliminateComponents } from './reduce.ts';
import type { Tree } from './tree.ts';
import { Trees } from './trees.ts';

/** A network without capacitors, with its trees. */
export interface Still {
  readonly network: Network;
  readonly trees: Trees;
}

/** A network with its capacitors taken out. */
export function withoutCapacitors(network: Network): Still {
  const bare = { ...network, capacitors: [], held: [] };
  return { network: bare, trees: new Trees(bare) };
}

/**
 * Where the independent capacitor voltages of a mode come to rest, as rows on [inputs; 1]: the resistive network with all
 * capacitors taken out. Worked out by itself, without subtractions, it is accurate to a few rounding units, where the
 * modal equations lose as many digits as the rates are apart.
 *
 * `currents` tells whether constant currents take part; leave them out where some capacitor has no path to discharge, for
 * there they make voltages drift. Nets without a path count as 0 V then.
 *
 * @param still the network without its capacitors.
 */
export function restVoltages(still: Still, laws: readonly OwnLaw[], tree: Tree, currents: boolean): Matrix {
  const { network, trees } = still;
  const width = network.inputCount + 1;
  const taking = currents ? laws : laws.map((law): OwnLaw => (law.kind === 'current' ? { kind: 'open' } : law));
  const resistive = trees.of(taking);
  const rest = zeros(tree.states.length, width);
  // Capacitors can only add paths between ideal sources, so what was no short with them is none without.
  if ('shortedParts' in resistive) return rest;
  const { offsets } = eliminateComponents(network, taking, resistive);
  const from = resistive.states.length;
  const at = (node: number, j: number): number =>
    resistive.potential[node * resistive.width + from + j]! +
    offsets[resistive.component[node]! * resistive.width + from + j]!;
  tree.states.forEach((index, i) => {
    const { a, b } = tree.capacitors[index]!;
    for (let j = 0; j < width; j++) rest.data[i * width + j] = at(a, j) - at(b, j);
  });
  return rest;
}

/** The modal state of capacitor voltages at rest, corrected once by what it leaves of them; rows on [inputs; 1]. */
export function modalRest(rest: Matrix, toModal: Matrix, toState: Matrix): Float64Array {
  const modal = multiply(toModal, rest);
  const left = multiply(toState, modal).data.map((value, index) => rest.data[index]! - value);
  const correction = multiply(toModal, { ...rest, data: left });
  return modal.data.map((value, index) => value + correction.data[index]!);
}
