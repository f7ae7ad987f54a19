import type { ControlledLaw, Law, Network, OwnLaw } from './element.ts';
import { NodeSets } from './node-sets.ts';
import { isIdealSource, type Tree } from './tree.ts';

/** A branch that controls others, in a mode in which it conducts: v = offset + input + resistance i. */
export interface Port {
  readonly control: number;
  readonly law: OwnLaw & { readonly kind: 'thevenin' };
  /** The branches that do what it says. */
  readonly driven: readonly Driven[];
}

/** A branch that carries so many times what its control does. */
interface Driven {
  readonly part: string;
  readonly branch: number;
  readonly gain: number;
}

/** The laws of a mode with every controlled branch taken out, and those that these were controlled by. */
export interface Uncontrolled {
  readonly laws: readonly OwnLaw[];
  readonly ports: readonly Port[];
}

/** Takes the controlled branches out of the laws of a mode. One whose control is open carries nothing, and is open too. */
export function withoutControl({ branches }: Network, laws: readonly Law[]): Uncontrolled {
  // Nearly all modes of nearly all circuits have none.
  if (!laws.some(isControlled)) return { laws: laws as readonly OwnLaw[], ports: [] };
  const ports = new Map<number, Port & { readonly driven: Driven[] }>();
  const own = laws.map((law, branch): OwnLaw => {
    if (law.kind !== 'controlled') return law;
    const control = laws[law.by]!;
    if (control.kind === 'thevenin' && !isIdealSource(control)) {
      const port = ports.get(law.by) ?? { control: law.by, law: control, driven: [] };
      port.driven.push({ part: branches[branch]!.part, branch, gain: law.gain });
      ports.set(law.by, port);
    }
    return { kind: 'open' };
  });
  return { laws: own, ports: [...ports.values()] };
}

function isControlled(law: Law): law is ControlledLaw {
  return law.kind === 'controlled';
}

/**
 * Which of the controls may be taken out as well and leave every component of the tree with a way to ground. The current
 * of such a control follows from the voltage that it finds open, so that it keeps its digits however small its resistance
 * is; with the others it is a small difference of voltages over a small resistance.
 */
export function removable(network: Network, laws: readonly OwnLaw[], tree: Tree, ports: readonly Port[]): boolean[] {
  const { component, componentCount } = tree;
  const sets = new NodeSets(componentCount);
  const join = (index: number): boolean => {
    const { a, b } = network.branches[index]!;
    return sets.join(component[a]!, component[b]!);
  };
  const controls = new Set(ports.map(({ control }) => control));
  laws.forEach((law, index) => {
    if (law.kind === 'thevenin' && !controls.has(index)) join(index);
  });
  return ports.map(({ control }) => !join(control));
}
