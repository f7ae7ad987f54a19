import { isObject } from '../field/record.ts';

/**
 * The same plain data as `after`, made of the pieces of `before` that are equal to pieces of it, the order of their fields
 * included: what is the same in both is the same object then.
 */
export function withSharedPieces(before: unknown, after: unknown): unknown {
  if (before === after) return before;
  if (Array.isArray(before) && Array.isArray(after)) {
    const pieces = after.map((each: unknown, index) => withSharedPieces(before[index], each));
    return isSame(before, pieces) ? before : pieces;
  }
  if (!isObject(before) || !isObject(after)) return after;
  const names = Object.keys(after);
  const pieces = names.map((name) =>
    withSharedPieces(Object.hasOwn(before, name) ? before[name] : undefined, after[name]),
  );
  const earlier = Object.keys(before);
  const same = names.length === earlier.length && names.every((name, place) => name === earlier[place]);
  if (same && names.every((name, place) => before[name] === pieces[place])) return before;
  return Object.fromEntries(names.map((name, place) => [name, pieces[place]]));
}

function isSame(one: readonly unknown[], other: readonly unknown[]): boolean {
  return one.length === other.length && one.every((each, index) => each === other[index]);
}
