import type { Part } from '../circuit/description.ts';

/** Terminal names of two-terminal parts, first and second, in the sense in which their current counts. */
const PAIRS = [
  ['plus', 'minus'],
  ['a', 'b'],
] as const;

/** Kinds whose current does not flow from a first terminal to a second. */
const NOT_PAIRS = new Set(['timer', 'pot', 'finger']);

/** The nets of a two-terminal part, first and second; `undefined` for every other part. */
export function terminalNets(part: Part): readonly [first: string, second: string] | undefined {
  if (NOT_PAIRS.has(part.kind)) return undefined;
  for (const [first, second] of PAIRS) {
    const net = part.nets[first];
    if (net !== undefined) return [net, part.nets[second] ?? 'ground'];
  }
  return undefined;
}
