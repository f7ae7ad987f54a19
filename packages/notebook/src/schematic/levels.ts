import type { Shape } from './shape.ts';
import { netsOf } from './stages.ts';

/** Parts in series between two nets, with nothing else on the nets between them: drawn in one upright line. */
export interface Chain {
  readonly top: string;
  /** Absent where the line ends in a body or an open end. */
  readonly bottom: string | undefined;
  /** From top to bottom; `turned` where a part's second end is its upper one. */
  readonly links: readonly { readonly shape: Shape; readonly turned: boolean }[];
  /** The nets between the links. */
  readonly between: readonly string[];
  /** Its lower end goes back up to its top net: a part with both ends on one net. */
  readonly returns?: true;
}

/** The net at the foot of every drawing. */
export const GROUND = 'ground';

/**
 * Orders nets from top to bottom: the rail first, ground last, nets on pins in the order given, others between their
 * neighbours.
 *
 * @param pinned nets on pins of the timer, in the order of the pins.
 */
export function orderNets(shapes: readonly Shape[], rail: string | undefined, pinned: readonly string[]): string[] {
  const nets = [...new Set([...pinned, ...shapes.flatMap(netsOf)])].filter((net) => net !== rail && net !== GROUND);
  const last = pinned.length + 1;
  const height = new Map(nets.map((net) => [net, pinned.includes(net) ? pinned.indexOf(net) + 1 : last / 2]));
  const at = (net: string): number => (net === rail ? 0 : net === GROUND ? last : (height.get(net) ?? last / 2));
  // Averaging settles quickly: drawings have few nets.
  for (let round = 0; round < 30; round += 1) {
    for (const net of nets.filter((each) => !pinned.includes(each))) {
      const neighbours = shapes
        .filter((shape) => netsOf(shape).includes(net))
        .flatMap((shape) => netsOf(shape).filter((other) => other !== net));
      if (neighbours.length > 0)
        height.set(net, neighbours.reduce((sum, each) => sum + at(each), 0) / neighbours.length);
    }
  }
  const middle = [...nets].sort((a, b) => at(a) - at(b));
  return [...(rail === undefined ? [] : [rail]), ...middle, GROUND];
}

/**
 * Joins parts in series into chains. A chain never comes back to the net it began at: such parts stay apart.
 *
 * @param order nets from top to bottom.
 * @param kept nets that need a level of their own, because a pin or a wiper lies on them.
 */
export function chainsOf(shapes: readonly Shape[], order: readonly string[], kept: ReadonlySet<string>): Chain[] {
  const uses = new Map<string, number>();
  for (const shape of shapes) for (const net of netsOf(shape)) uses.set(net, (uses.get(net) ?? 0) + 1);
  const isInner = (net: string): boolean => net !== GROUND && net !== order[0] && !kept.has(net) && uses.get(net) === 2;
  const left = new Set(shapes);
  const take = (net: string | undefined, opposite: string | undefined, openEnd: boolean): Shape | undefined => {
    if (net === undefined || !isInner(net)) return undefined;
    const next = [...left].find((shape) => {
      const end = otherEnd(shape, net);
      return netsOf(shape).includes(net) && end !== net && end !== opposite && (openEnd || end !== undefined);
    });
    if (next !== undefined) left.delete(next);
    return next;
  };
  const chains: Chain[] = [];
  for (const shape of shapes) {
    if (!left.delete(shape)) continue;
    let links: Chain['links'] = [{ shape, turned: false }];
    const between: string[] = [];
    let [top, bottom]: readonly [string, string | undefined] = shape.ends;
    if (top === bottom) {
      chains.push({ top, bottom: undefined, links, between, returns: true });
      continue;
    }
    for (
      let next = take(bottom, top, true);
      next !== undefined && bottom !== undefined;
      next = take(bottom, top, true)
    ) {
      between.push(bottom);
      links = [...links, { shape: next, turned: next.ends[1] === bottom }];
      bottom = otherEnd(next, bottom);
    }
    // Upwards only parts with two ends: one with an open end hangs from its net.
    for (let next = take(top, bottom, false); next !== undefined; next = take(top, bottom, false)) {
      between.unshift(top);
      links = [{ shape: next, turned: next.ends[0] === top }, ...links];
      top = otherEnd(next, top) ?? top;
    }
    chains.push(upright({ top, bottom, links, between }, order));
  }
  return chains;
}

function otherEnd({ ends }: Shape, net: string): string | undefined {
  return ends[1] === net ? ends[0] : ends[1];
}

/** The chain with its higher net on top. */
function upright(chain: Chain, order: readonly string[]): Chain {
  const { top, bottom, links, between } = chain;
  if (bottom === undefined || order.indexOf(top) <= order.indexOf(bottom)) return chain;
  return {
    top: bottom,
    bottom: top,
    links: links.map(({ shape, turned }) => ({ shape, turned: !turned })).reverse(),
    between: [...between].reverse(),
  };
}
