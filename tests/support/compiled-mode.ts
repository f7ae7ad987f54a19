import type { Law, Network, OwnLaw } from '#sim/network/element.ts';
import type { Mode } from '#sim/network/mode.ts';
import { ModeCompiler } from '#sim/network/mode-compiler.ts';
import { ModeState } from './mode-state.ts';
import type { NetworkCase } from './random-network.ts';

/** The law of a source behind a resistance (V, Ω). */
export function thevenin(resistance: number, offset = 0, input = -1): OwnLaw {
  return { kind: 'thevenin', input, offset, resistance };
}

/** A branch between two nodes. */
export type Wired = readonly [a: number, b: number, law: OwnLaw];
/** A capacitor between two nodes (F). */
type Charged = readonly [a: number, b: number, capacitance: number];

/** A network of branches and capacitors (F), named by their numbers. */
export function networkOf(
  nodeCount: number,
  wired: readonly Wired[],
  charged: readonly Charged[],
  inputCount = 1,
): Network {
  return {
    nodeCount,
    branches: wired.map(([a, b], index) => ({ part: `B${index}`, a, b })),
    capacitors: charged.map(([a, b, capacitance], index) => ({ part: `C${index}`, a, b, capacitance })),
    held: [],
    inputCount,
  };
}

/** The mode of a network that is no short. */
export function compile(network: Network, laws: readonly Law[]): Mode {
  const mode = new ModeCompiler(network).compile(laws);
  if ('shortedParts' in mode) throw new Error(`short of ${mode.shortedParts.join()}`);
  return mode;
}

/** The mode that wired branches and capacitors make. */
export function modeOf(nodeCount: number, wired: readonly Wired[], charged: readonly Charged[], inputCount = 1): Mode {
  return compile(
    networkOf(nodeCount, wired, charged, inputCount),
    wired.map(([, , law]) => law),
  );
}

/** A case's mode with the state that its voltages make. */
export function stateOf({ network, laws, voltages, inputs }: NetworkCase): ModeState {
  const mode = compile(network, laws);
  return new ModeState(mode, [...voltages, ...mode.held.map((_, i) => i - 1)], { values: inputs });
}

/** Largest voltage that a case can make: the scale of what is rounding in a voltage. */
export function voltsOf({ voltages, inputs, laws }: NetworkCase): number {
  const offsets = laws.map((law) => (law.kind === 'thevenin' ? Math.abs(law.offset) : 0));
  const ohms = laws.reduce((sum, law) => sum + (law.kind === 'thevenin' ? law.resistance : 0), 0);
  const amperes = laws.reduce((sum, law) => sum + (law.kind === 'current' ? Math.abs(law.current) : 0), 0);
  return Math.max(1e-3, ...[...voltages, ...inputs].map(Math.abs), ...offsets) + amperes * ohms;
}

/** Voltage over resistance: the scale of what is rounding in a branch's current; undefined for ideal sources. */
export function amperesOf(drawn: NetworkCase, law: OwnLaw): number | undefined {
  if (law.kind === 'open') return 0;
  if (law.kind === 'current') return Math.abs(law.current);
  return law.resistance > 0 ? (2 * voltsOf(drawn)) / law.resistance : undefined;
}

/** All that resistors and constant currents could carry together: the scale for ideal sources and capacitors. */
export function allAmperes(drawn: NetworkCase): number {
  return drawn.laws.reduce((sum, law) => sum + (amperesOf(drawn, law) ?? 0), 0);
}

/** A number for each node; the same for nodes that the branches join. */
export function groupsOf(nodeCount: number, branches: readonly { readonly a: number; readonly b: number }[]): number[] {
  const group = Array.from({ length: nodeCount }, (_, node) => node);
  for (const { a, b } of branches) {
    const [from, to] = [group[b]!, group[a]!];
    group.forEach((value, node) => {
      if (value === from) group[node] = to;
    });
  }
  return group;
}

/** The same for nodes that sources without resistance join. */
export function idealGroups({ network, laws }: NetworkCase): number[] {
  return groupsOf(
    network.nodeCount,
    network.branches.filter((_, i) => {
      const law = laws[i]!;
      return law.kind === 'thevenin' && law.resistance === 0;
    }),
  );
}

/** Balanced bridges of p, q, r and s ohm: p / q = r / s. */
export const balancedBridges: readonly (readonly [p: number, q: number, r: number, s: number])[] = [
  [1e3, 2e3, 3e3, 6e3],
  [0.1, 0.3, 0.7, 2.1],
  [1e5, 1.1e5, 3e-1, 3.3e-1],
];

/** A bridge between nodes 2 and 3, fed by 100 kV at node 1; the branch across it is number 5. */
export function bridgeOf(p: number, q: number, r: number, s: number, across: number): readonly Wired[] {
  return [
    [1, 0, thevenin(0, 1e5, 0)],
    [1, 2, thevenin(p)],
    [2, 0, thevenin(q)],
    [1, 3, thevenin(r)],
    [3, 0, thevenin(s)],
    [2, 3, thevenin(across)],
  ];
}
