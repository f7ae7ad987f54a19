import type { Circuit, Part } from '../circuit/description.ts';
import { GROUND } from '../circuit/names.ts';
import { readPart } from '../circuit/read-part.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { replaced } from '../study/harm.ts';
import type { GoodBoard } from './board-table.ts';
import { type FaultChange, faultyEntries } from './fault-change.ts';

/**
 * The circuit of a board, linked ones included, with a fault in it. Undefined where its parts could not have such values
 * (a family that does not go with the parameters stated), or the board has no such part.
 */
export function faultyCircuit({ circuit, parts, prefix }: GoodBoard, change: FaultChange): Circuit | undefined {
  const changed = circuit.parts.find(({ name }) => name === prefix + change.part);
  const entries = faultyEntries(parts, change);
  if (changed === undefined || entries === undefined) return undefined;
  const net = (name: string): string => (name === GROUND ? name : prefix + name);
  const by: Part[] = [];
  for (const [index, entry] of entries.entries()) {
    const { part } = readPart(entry, standardKinds, { place: '', index });
    if (part === undefined) return undefined;
    const nets = Object.fromEntries(Object.entries(part.nets).map(([terminal, name]) => [terminal, net(name ?? '')]));
    by.push({ ...part, name: prefix + part.name, nets });
  }
  return replaced(circuit, changed, by);
}
