import { findQuotes, splitTarget } from './quotes.ts';

/** Which cells a cell needs the results of, by id, each once, in the order they are named. */
export function cellNeeds(data: unknown): string[] {
  if (typeof data !== 'object' || data === null) return [];
  const { kind, text } = data as { kind?: unknown; text?: unknown };
  if (kind !== 'note' || typeof text !== 'string') return [];
  const needs = new Set<string>();
  for (const { target } of findQuotes(text)) {
    const { cell, name } = splitTarget(target);
    if (name !== undefined) needs.add(cell);
  }
  return [...needs];
}

/**
 * Finds a circle among cells that need each other.
 *
 * @param needs for each cell, the cells it needs; cells that do not exist may be named and are passed over.
 * @returns the path of the first circle found, its first cell again at the end, or `undefined` if there is none.
 */
export function findCircle(needs: ReadonlyMap<string, readonly string[]>): string[] | undefined {
  const finished = new Set<string>();
  for (const start of needs.keys()) {
    // Own stack instead of recursion: a chain of cells may be longer than the call stack.
    const path: { id: string; next: number }[] = [];
    const onPath = new Set<string>();
    const enter = (id: string): void => {
      path.push({ id, next: 0 });
      onPath.add(id);
    };
    if (!finished.has(start)) enter(start);
    for (let top = path.at(-1); top !== undefined; top = path.at(-1)) {
      const needed = needs.get(top.id)?.[top.next];
      top.next += 1;
      if (needed === undefined) {
        finished.add(top.id);
        onPath.delete(top.id);
        path.pop();
      } else if (onPath.has(needed)) {
        const ids = path.map(({ id }) => id);
        return [...ids.slice(ids.indexOf(needed)), needed];
      } else if (needs.has(needed) && !finished.has(needed)) {
        enter(needed);
      }
    }
  }
  return undefined;
}
