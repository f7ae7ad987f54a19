import type { Circuit, Part, PartKinds, TerminalPairs } from './description.ts';
import { Groups } from './groups.ts';
import { GROUND } from './names.ts';
import { netPairs } from './terminal-nets.ts';

/**
 * Groups of nets that nothing can ever hold: no way leads from them to `ground`, through whatever part in whatever
 * state. Each group lists its nets in the circuit's order.
 */
export function floatingNets(circuit: Circuit, kinds: PartKinds): string[][] {
  return apartFromGround(circuit, (part) => kinds.get(part.kind)?.paths(part) ?? []);
}

/** Groups of nets that are cut off from `ground` while every switch is open (those that float for good included). */
export function netsCutOffWhenOpen(circuit: Circuit, kinds: PartKinds): string[][] {
  return apartFromGround(circuit, (part) => {
    const kind = kinds.get(part.kind);
    return kind?.steadyPaths?.(part) ?? kind?.paths(part) ?? [];
  });
}

function apartFromGround(circuit: Circuit, pathsOf: (part: Part) => TerminalPairs): string[][] {
  const groups = new Groups();
  for (const part of circuit.parts) {
    for (const [a, b] of netPairs(part, pathsOf(part))) groups.join(a, b);
  }
  const apart = new Map<string, string[]>();
  for (const net of circuit.nets) {
    if (groups.together(net, GROUND)) continue;
    const representative = groups.representative(net);
    const group = apart.get(representative);
    if (group === undefined) apart.set(representative, [net]);
    else group.push(net);
  }
  return [...apart.values()];
}
