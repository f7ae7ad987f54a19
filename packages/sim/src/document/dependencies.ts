import { formulaWords } from '../formula/index.ts';
import { findQuotes, splitTarget } from './quotes.ts';

/**
 * Which cells a cell needs the results of, by id, each once, in the order they are named. A formula and a question name
 * boards in the same way (`counter.R1`), so some of the names may belong to no cell.
 */
export function cellNeeds(data: unknown): string[] {
  if (typeof data !== 'object' || data === null) return [];
  const { kind, text, answer } = data as { kind?: unknown; text?: unknown; answer?: unknown };
  if (kind === 'formula' && typeof text === 'string') return firstNames(formulaWords(text));
  if (kind === 'ask' && typeof answer === 'string') return firstNames([answer]);
  if (kind !== 'note' || typeof text !== 'string') return [];
  const targets = findQuotes(text).map(({ target }) => target);
  return firstNames(targets.filter((target) => splitTarget(target).name !== undefined));
}

function firstNames(targets: readonly string[]): string[] {
  return [...new Set(targets.map((target) => splitTarget(target).cell))];
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

/**
 * The cells that must be there before a cell can be: those it needs, in turn, each after those it needs itself, the
 * cell itself last. A circle is cut where it closes.
 *
 * @param needsOf which cells a cell needs; `[]` for cells that are there already.
 */
export function inOrder(id: string, needsOf: (id: string) => readonly string[]): string[] {
  const order: string[] = [];
  const seen = new Set([id]);
  // Own stack instead of recursion: a chain of cells may be longer than the call stack.
  const path = [{ id, needs: needsOf(id), next: 0 }];
  for (let top = path.at(-1); top !== undefined; top = path.at(-1)) {
    const needed = top.needs[top.next];
    top.next += 1;
    if (needed === undefined) {
      order.push(top.id);
      path.pop();
    } else if (!seen.has(needed)) {
      seen.add(needed);
      path.push({ id: needed, needs: needsOf(needed), next: 0 });
    }
  }
  return order;
}
