import type { Program } from './program.ts';

/**
 * Whether two programs differ in numbers alone, and in waves: the same nodes and elements between them, by the same names
 * and in the same order. What their pieces and reactors do is left to whoever takes them up.
 */
export function wiredAlike(one: Program, other: Program): boolean {
  return (
    sameList(one.nodeNames, other.nodeNames, (a, b) => a === b) &&
    sameList(one.network.held, other.network.held, (a, b) => a === b) &&
    sameList(one.branches, other.branches, sameEnds) &&
    sameList(one.network.capacitors, other.network.capacitors, sameEnds) &&
    sameList(one.inputs, other.inputs, samePart) &&
    sameList(one.reactors, other.reactors, samePart) &&
    sameList(
      one.currents,
      other.currents,
      (a, b) =>
        samePart(a, b) &&
        sameList(a.elements, b.elements, (e, f) => e.element === f.element && e.index === f.index && e.sign === f.sign),
    )
  );
}

function sameList<Entry>(
  one: readonly Entry[],
  other: readonly Entry[],
  same: (a: Entry, b: Entry) => boolean,
): boolean {
  if (one === other) return true;
  if (one.length !== other.length) return false;
  for (let index = 0; index < one.length; index++) {
    if (one[index] !== other[index] && !same(one[index]!, other[index]!)) return false;
  }
  return true;
}

interface Ended {
  readonly part: string;
  readonly a: number;
  readonly b: number;
}

function sameEnds(one: Ended, other: Ended): boolean {
  return one.part === other.part && one.a === other.a && one.b === other.b;
}

function samePart(one: { readonly part: string }, other: { readonly part: string }): boolean {
  return one.part === other.part;
}
