import type { CircuitView } from './circuit-view.ts';
import type { ConductingLink } from './conducting-links.ts';
import type { DrivenPath } from './limiting-path.ts';

/** Ways that are added up at most; further ones are left to the run. */
const MOST_LOADS = 20;

/**
 * The ways on one side of a link, each on parts that no other uses, the heaviest first.
 *
 * @param limit the current (A) at which they are compared.
 */
export function loadsOn(
  view: CircuitView,
  link: ConductingLink,
  limit: number,
  side: 'before' | 'after',
): DrivenPath[] {
  const found: DrivenPath[] = [];
  const used = new Set<string>();
  while (found.length < MOST_LOADS) {
    const path = view.paths.through(link, limit, used);
    if (path === undefined) return found;
    found.push(path);
    if (path[side].length === 0) return found;
    for (const { part } of path[side]) used.add(part);
  }
  return found;
}

/** Current (A) of several ways side by side, in series with what they share. */
export function totalCurrent(link: ConductingLink, loads: readonly DrivenPath[], side: 'before' | 'after'): number {
  if (loads.length < 2) return loads[0]?.current ?? 0;
  let driven = 0;
  let conductance = 0;
  let shared = link.resistance;
  for (const [index, path] of loads.entries()) {
    const most = path[side].reduce((least, each) => Math.min(least, each.most), Infinity);
    // A current source lets through no more than its current, however much voltage there is.
    const own = Math.max(
      path[side].reduce((sum, { resistance }) => sum + resistance, 0),
      (path.voltage - path.drop) / most,
    );
    if (own === 0) return path.current;
    driven += (path.voltage - path.drop) / own;
    conductance += 1 / own;
    if (index === 0) shared = Math.max(link.resistance, path.resistance - own);
  }
  return driven / (1 + shared * conductance);
}
