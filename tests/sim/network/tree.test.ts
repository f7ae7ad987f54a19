import type { Branch, Capacitor, Law, Network } from '#sim/network/element.ts';
import { buildTree, type Tree } from '#sim/network/tree.ts';
import { describe, expect, test } from 'vitest';

interface Element {
  readonly part: string;
  readonly a: number;
  readonly b: number;
  readonly law: Law;
}

function source(part: string, a: number, b: number, offset: number, input = -1): Element {
  return { part, a, b, law: { kind: 'thevenin', input, offset, resistance: 0 } };
}

function resistor(part: string, a: number, b: number, resistance: number): Element {
  return { part, a, b, law: { kind: 'thevenin', input: -1, offset: 0, resistance } };
}

function capacitor(part: string, a: number, b: number, capacitance = 1e-6): Capacitor {
  return { part, a, b, capacitance };
}

function build(nodeCount: number, elements: readonly Element[], capacitors: readonly Capacitor[], inputCount = 1) {
  const branches: Branch[] = elements.map(({ part, a, b }) => ({ part, a, b }));
  const network: Network = { nodeCount, branches, capacitors, held: [], inputCount };
  return buildTree(
    network,
    elements.map(({ law }) => law),
  );
}

function treeOf(...parameters: Parameters<typeof build>): Tree {
  const tree = build(...parameters);
  if ('shortedParts' in tree) throw new Error(`short of ${tree.shortedParts.join()}`);
  return tree;
}

/** The row of a node: [states; inputs; 1]. */
function rowOf(tree: Tree, node: number): number[] {
  return [...tree.potential.subarray(node * tree.width, (node + 1) * tree.width)];
}

describe('buildTree', () => {
  test('takes every capacitor as independent where they close no loop, series ones too', () => {
    const tree = treeOf(3, [resistor('R1', 2, 0, 1e3)], [capacitor('C1', 1, 0), capacitor('C2', 2, 1)]);
    expect(tree.states).toEqual([0, 1]);
    expect(tree.componentCount).toBe(1);
    // v(1) = x1, v(2) = x1 + x2.
    expect(rowOf(tree, 1)).toEqual([1, 0, 0, 0]);
    expect(rowOf(tree, 2)).toEqual([1, 1, 0, 0]);
  });

  test('takes one of two parallel capacitors', () => {
    const tree = treeOf(2, [resistor('R1', 1, 0, 1e3)], [capacitor('C1', 1, 0), capacitor('C2', 0, 1)]);
    expect(tree.states).toEqual([0]);
  });

  test('takes the larger ones of a loop, so that the smallest depends on the others', () => {
    const loop = [capacitor('C1', 1, 0, 1e-10), capacitor('C2', 2, 1, 1e-5), capacitor('C3', 0, 2, 1e-6)];
    expect(treeOf(3, [resistor('R1', 1, 0, 1e3)], loop).states).toEqual([1, 2]);
  });

  test('takes no capacitor across a source without resistance, and one of two from a source in series', () => {
    const across = treeOf(2, [source('V1', 1, 0, 0, 0)], [capacitor('C1', 1, 0)]);
    expect(across.states).toEqual([]);
    expect(rowOf(across, 1)).toEqual([1, 0]);
    // rail - C1 - middle - C2 - ground.
    const series = treeOf(3, [source('V1', 1, 0, 0, 0)], [capacitor('C1', 1, 2), capacitor('C2', 2, 0)]);
    expect(series.states).toEqual([0]);
    expect(rowOf(series, 2)).toEqual([-1, 1, 0]);
  });

  test('puts a floating net in a component of its own, with its own unknown potential', () => {
    const tree = treeOf(3, [resistor('R1', 1, 2, 1e3), resistor('R2', 2, 0, 1e3)], [capacitor('C1', 1, 0)]);
    expect(tree.componentCount).toBe(2);
    expect([...tree.component]).toEqual([0, 0, 1]);
  });

  test('joins nets over 0 ohm, whichever way round', () => {
    const tree = treeOf(3, [resistor('J1', 2, 1, 0), source('V1', 1, 0, 5)], []);
    expect(rowOf(tree, 2)).toEqual(rowOf(tree, 1));
    expect(rowOf(tree, 1)).toEqual([0, 5]);
  });

  test('adds up sources in series, each with its sign', () => {
    const tree = treeOf(4, [source('V1', 1, 0, 5), source('V2', 1, 2, 3), source('V3', 3, 2, 0, 0)], []);
    expect(rowOf(tree, 2)).toEqual([0, 2]);
    expect(rowOf(tree, 3)).toEqual([1, 2]);
  });

  test('accepts a loop of sources that asks for what is so anyway', () => {
    const twice = [resistor('J1', 1, 2, 0), resistor('J2', 2, 1, 0), source('V1', 1, 0, 5)];
    expect(treeOf(3, twice, []).componentCount).toBe(1);
    const sums = [source('V1', 1, 0, 5), source('V2', 2, 1, 3), source('V3', 2, 0, 8)];
    expect(treeOf(3, sums, []).componentCount).toBe(1);
    // Beside a capacitor that is elsewhere.
    expect(treeOf(4, twice, [capacitor('C1', 3, 0)]).componentCount).toBe(1);
    const byItself = [resistor('J1', 1, 1, 0), source('V1', 1, 0, 5)];
    expect(treeOf(2, byItself, []).componentCount).toBe(1);
    const sameInput = [source('V1', 1, 0, 0, 0), source('V2', 0, 1, 0, -1)];
    expect(build(2, sameInput, [])).toHaveProperty('shortedParts');
  });

  test('accepts two sources of one input side by side, whichever way round each is wired; not two of another sign', () => {
    const fixed = source('V0', 3, 0, 2);
    expect(build(4, [fixed, source('V1', 1, 0, 5, 1), source('V2', 1, 0, 5, 1)], [], 2)).not.toHaveProperty(
      'shortedParts',
    );
    expect(build(4, [fixed, source('V1', 1, 2, 0, 0), source('V2', 1, 2, 0, 0)], [], 2)).not.toHaveProperty(
      'shortedParts',
    );
    expect(build(4, [fixed, source('V1', 1, 0, 0, 1), source('V2', 0, 1, 0, 1)], [], 2)).toHaveProperty('shortedParts');
    expect(build(4, [fixed, source('V1', 1, 0, 0, 1), source('V2', 1, 0, 0, 0)], [], 2)).toHaveProperty('shortedParts');
    expect(build(4, [fixed, source('V1', 1, 0, 5, 1), source('V2', 1, 0, 5, -1)], [], 2)).toHaveProperty(
      'shortedParts',
    );
    // In series: an input and 3 V on top, against a source of both.
    const series = [source('V1', 1, 0, 0, 0), source('V2', 2, 1, 3), source('V3', 2, 0, 3, 0)];
    expect(treeOf(3, series, []).componentCount).toBe(1);
    expect(build(3, [...series.slice(0, 2), source('V3', 2, 0, 4, 0)], [])).toHaveProperty('shortedParts');
  });

  test('names no part beyond the loop: neither what leads to it from ground, nor what hangs on it', () => {
    const elements = [
      source('BT1', 1, 0, 12),
      resistor('J1', 1, 2, 0),
      source('V1', 2, 3, 5),
      source('V2', 2, 3, 6),
      resistor('J2', 3, 4, 0),
    ];
    const short = build(5, elements, []);
    expect('shortedParts' in short && [...short.shortedParts].sort()).toEqual(['V1', 'V2']);
    const byItself = build(3, [source('BT1', 1, 0, 12), resistor('J1', 1, 2, 0), source('V1', 2, 2, 5)], []);
    expect(byItself).toEqual({ shortedParts: ['V1'] });
  });

  test('names no capacitor of a loop', () => {
    const short = build(3, [source('V1', 1, 2, 5), source('V2', 1, 2, 6)], [capacitor('C1', 2, 0)]);
    expect('shortedParts' in short && [...short.shortedParts].sort()).toEqual(['V1', 'V2']);
  });

  test('names exactly the sources of a loop that contradict each other', () => {
    const elements = [
      source('BT1', 1, 0, 12),
      resistor('J1', 1, 2, 0),
      source('BT2', 3, 0, 9),
      resistor('R1', 3, 1, 1e3),
      resistor('S1', 2, 0, 0),
    ];
    const short = build(4, elements, []);
    expect('shortedParts' in short && [...short.shortedParts].sort()).toEqual(['BT1', 'J1', 'S1']);
  });

  test('contradicts two inputs joined with no resistance, even where they happen to agree now', () => {
    const short = build(2, [source('G1', 1, 0, 0, 0), source('G2', 1, 0, 0, 1)], [], 2);
    expect('shortedParts' in short && [...short.shortedParts].sort()).toEqual(['G1', 'G2']);
  });

  test('a source of 5 V from a net to itself is a contradiction of its own', () => {
    expect(build(2, [source('V1', 1, 1, 5), resistor('R1', 1, 0, 1)], [])).toEqual({ shortedParts: ['V1'] });
  });

  test("holds each island by one stray capacitor, after the network's own", () => {
    const open: Element = { part: 'S1', a: 1, b: 0, law: { kind: 'open' } };
    const tree = treeOf(4, [open, resistor('R1', 1, 2, 1e3)], [capacitor('C1', 3, 0)]);
    expect(tree.held).toHaveLength(1);
    expect([1, 2]).toContain(tree.held[0]);
    expect(tree.capacitors).toHaveLength(2);
    expect(tree.states).toEqual([0, 1]);
  });

  test('holds what every mode holds, though a resistor ties it to ground here, and islands after it', () => {
    const open: Element = { part: 'S1', a: 1, b: 0, law: { kind: 'open' } };
    const elements = [open, resistor('R1', 2, 0, 1e3)];
    const branches: Branch[] = elements.map(({ part, a, b }) => ({ part, a, b }));
    const network: Network = { nodeCount: 3, branches, capacitors: [], held: [2], inputCount: 0 };
    const tree = buildTree(
      network,
      elements.map(({ law }) => law),
    ) as Tree;
    expect(tree.held).toEqual([2, 1]);
    expect(tree.states).toHaveLength(2);
  });

  test('a capacitor counts as a hold; an open switch and a constant current do not', () => {
    const current: Element = { part: 'U1', a: 1, b: 0, law: { kind: 'current', current: 1e-6 } };
    expect(treeOf(2, [current], [capacitor('C1', 1, 0)]).held).toEqual([]);
    expect(treeOf(2, [current], []).held).toEqual([1]);
  });
});
