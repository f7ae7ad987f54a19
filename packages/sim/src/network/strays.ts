import type { Branch, Capacitor, Law } from './element.ts';
import { NodeSets } from './node-sets.ts';

/** A branch with the laws that it may follow, one of them in each mode. */
export interface ManyLawed extends Branch {
  readonly laws: readonly Law[];
}

/**
 * The nodes to which every mode gives a stray capacitor: one for each group of nodes that modes may cut off from
 * everything else, and where a constant current, its own or that of a group beside it, can then move it.
 *
 * Such a group has to obey one law in all modes. Held by its stray only while nothing else holds it, it would fall away
 * from a diode at 1 V/ms here and follow it at once there, and the two could contradict each other without end. A group
 * that no current moves keeps its voltage while it is cut off; nothing contradicts that, and it is held mode by mode.
 */
export function alwaysHeld(
  nodeCount: number,
  branches: readonly ManyLawed[],
  capacitors: readonly Capacitor[],
): number[] {
  // What every mode joins.
  const groups = new NodeSets(nodeCount);
  for (const { a, b, laws } of branches) if (laws.every(ties)) groups.join(a, b);
  for (const { a, b } of capacitors) groups.join(a, b);
  // What some mode joins, but for ground and all that always hangs on it.
  const reach = new NodeSets(nodeCount);
  const ground = groups.find(0);
  const isLoose = (node: number): boolean => groups.find(node) !== ground;
  for (const { a, b, laws } of branches) {
    if (laws.some(ties) && isLoose(a) && isLoose(b)) reach.join(groups.find(a), groups.find(b));
  }
  const driven = new Set<number>();
  for (const { a, b, laws } of branches) {
    if (!laws.some(drives) || groups.find(a) === groups.find(b)) continue;
    for (const node of [a, b]) if (isLoose(node)) driven.add(reach.find(groups.find(node)));
  }
  const held: number[] = [];
  // Only the first node of a loose group has ever been joined or driven.
  for (let node = 1; node < nodeCount; node++) if (driven.has(reach.find(node))) held.push(node);
  return held;
}

/** Whether two laws of a branch come to the same for the nodes that are always held. */
export function holdAlike(one: Law, other: Law): boolean {
  return ties(one) === ties(other) && drives(one) === drives(other);
}

function ties(law: Law): boolean {
  return law.kind === 'thevenin';
}

function drives(law: Law): boolean {
  return (law.kind === 'current' && law.current !== 0) || law.kind === 'controlled';
}
