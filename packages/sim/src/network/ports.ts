import type { ControlledLaw, Law, Network, OwnLaw } from './element.ts';
import { NodeSets } from './node-sets.ts';
import { isIdealSource, type Tree } from './tree.ts';

/** A branch that another one controls, in a mode in which that one conducts. */
export interface Port {
  readonly part: string;
  /** The branch that does what the other says, and the one that says it: v = offset + input + resistance i. */
  readonly driven: number;
  readonly control: number;
  readonly gain: number;
  readonly law: OwnLaw & { readonly kind: 'thevenin' };
}

/** The laws of a mode with every controlled branch taken out, and those that it was controlled by. */
export interface Uncontrolled {
  readonly laws: readonly OwnLaw[];
  readonly ports: readonly Port[];
}

/** Takes the controlled branches out of the laws of a mode. One whose control is open carries nothing, and is open too. */
export function withoutControl({ branches }: Network, laws: readonly Law[]): Uncontrolled {
  // Nearly all modes of nearly all circuits have none.
  if (!laws.some(isControlled)) return { laws: laws as readonly OwnLaw[], ports: [] };
  const ports: Port[] = [];
  const own = laws.map((law, driven): OwnLaw => {
    if (law.kind !== 'controlled') return law;
    const control = laws[law.by]!;
    if (control.kind === 'thevenin' && !isIdealSource(control)) {
      ports.push({ part: branches[driven]!.part, driven, control: law.by, gain: law.gain, law: control });
    }
    return { kind: 'open' };
  });
  return { laws: own, ports };
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
