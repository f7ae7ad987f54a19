import type { Circuit, PartKinds } from './description.ts';
import { netPairs } from './terminal-nets.ts';

interface Edge {
  readonly to: string;
  readonly part: string;
}

/**
 * Loops made of nothing but voltage sources without resistance and joins of 0 Ω, each as the names of its parts, the
 * source that closes it last. No finite current could satisfy them: a supply shorted by a link, two supplies side by
 * side. A loop of joins alone is harmless and not among them.
 *
 * One loop is found for each source that closes one, so that mending all of them leaves none.
 */
export function sourceLoops(circuit: Circuit, kinds: PartKinds): string[][] {
  const loops: string[][] = [];
  const forest = new Map<string, Edge[]>();
  const connect = (a: string, b: string, part: string): void => {
    edgesAt(forest, a).push({ to: b, part });
    edgesAt(forest, b).push({ to: a, part });
  };
  // Joins go first, so that what closes a loop is always a source.
  for (const part of circuit.parts) {
    for (const [a, b] of netPairs(part, kinds.get(part.kind)?.joins?.(part) ?? [])) {
      if (wayBetween(forest, a, b) === undefined) connect(a, b, part.name);
    }
  }
  for (const part of circuit.parts) {
    for (const [a, b] of netPairs(part, kinds.get(part.kind)?.sources(part) ?? [])) {
      const way = wayBetween(forest, a, b);
      if (way === undefined) connect(a, b, part.name);
      else loops.push([...new Set([...way, part.name])]);
    }
  }
  return loops;
}

/** Names of the parts on the way from one net to another through the forest; `undefined` if there is none. */
function wayBetween(forest: ReadonlyMap<string, readonly Edge[]>, from: string, to: string): string[] | undefined {
  const cameBy = new Map<string, { readonly net: string; readonly part: string }>();
  const reached = new Set([from]);
  for (const net of reached) {
    if (net === to) return wayBack(cameBy, to);
    for (const edge of forest.get(net) ?? []) {
      if (reached.has(edge.to)) continue;
      cameBy.set(edge.to, { net, part: edge.part });
      reached.add(edge.to);
    }
  }
  return undefined;
}

function wayBack(cameBy: ReadonlyMap<string, { readonly net: string; readonly part: string }>, to: string): string[] {
  const parts: string[] = [];
  for (let step = cameBy.get(to); step !== undefined; step = cameBy.get(step.net)) parts.unshift(step.part);
  return parts;
}

function edgesAt(forest: Map<string, Edge[]>, net: string): Edge[] {
  const known = forest.get(net);
  if (known !== undefined) return known;
  const fresh: Edge[] = [];
  forest.set(net, fresh);
  return fresh;
}
