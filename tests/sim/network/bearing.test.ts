import { describe, expect, test } from 'vitest';
import { type Bearing, bearingOf, lookAlike, nodesOf, sameNumbers } from '#sim/network/bearing.ts';
import type { OwnLaw } from '#sim/network/element.ts';
import { buildTree, type Tree } from '#sim/network/tree.ts';
import { networkOf, thevenin, type Wired } from '../../support/compiled-mode.ts';

// What is expected follows from the drawings by eye: what hangs on a capacitor over resistances, and what does not.

const open: OwnLaw = { kind: 'open' };
const wire = thevenin(0);

function treeOf(nodeCount: number, wired: readonly Wired[], charged: Parameters<typeof networkOf>[2]): Tree {
  const tree = buildTree(
    networkOf(nodeCount, wired, charged),
    wired.map(([, , law]) => law),
  );
  if ('shortedParts' in tree) throw new Error(`short of ${tree.shortedParts.join()}`);
  return tree;
}

describe('bearingOf()', () => {
  // The rail is net 1. Net 2 charges C0, net 3 lies between two resistors behind it, 5 and 4 hang on 3, 4 over 5. Nets 6
  // and 7 divide the rail by themselves. Net 8 is joined to C0 by a wire. C1 lies between nets 9 and 10, of which 9 alone
  // goes on to the rail.
  const wired: readonly Wired[] = [
    [1, 0, thevenin(0, 5, 0)],
    [5, 4, thevenin(1e3)],
    [1, 2, thevenin(1e3)],
    [2, 3, thevenin(1e3)],
    [3, 0, thevenin(1e3)],
    [3, 5, thevenin(1e3)],
    [1, 6, thevenin(1e3)],
    [6, 7, thevenin(1e3)],
    [7, 0, { kind: 'current', current: 1e-3 }],
    [2, 6, open],
    [8, 2, wire],
    [8, 0, { kind: 'current', current: 1e-3 }],
    [9, 1, thevenin(1e3)],
  ];
  const charged = [
    [2, 0, 1e-6],
    [9, 10, 1e-7],
  ] as const;
  const network = networkOf(11, wired, charged);
  const bearing = (): Bearing =>
    bearingOf(
      network,
      wired.map(([, , law]) => law),
      treeOf(11, wired, charged),
    );

  test('finds what meets a state, at once, over a wire or over nets that resistances alone decide, and nothing else', () => {
    expect(bearing().branches).toEqual([1, 2, 3, 4, 5, 11, 12]);
    expect(bearing().others).toEqual([0, 6, 7, 8, 9, 10]);
  });

  test('finds the nets that follow, and their components', () => {
    expect(bearing().nodes).toEqual([2, 3, 4, 5, 8, 9, 10]);
    const { component } = treeOf(11, wired, charged);
    expect(bearing().components).toEqual([3, 4, 5, 9].map((node) => component[node]));
  });

  test('finds the branches of which the current follows: these, and those without a resistance', () => {
    expect(bearing().currents).toEqual([0, 1, 2, 3, 4, 5, 10, 11, 12]);
  });

  test('finds nothing where there is no capacitor', () => {
    const plain: readonly Wired[] = [
      [1, 0, thevenin(0, 5, 0)],
      [1, 2, thevenin(1e3)],
    ];
    const laws = plain.map(([, , law]) => law);
    const none = bearingOf(networkOf(3, plain, []), laws, treeOf(3, plain, []));
    expect(none).toEqual({ branches: [], others: [0, 1], components: [], nodes: [], currents: [0] });
  });

  test('has the nodes of its branches, then those of the capacitors', () => {
    const ends = [5, 4, 1, 2, 2, 3, 3, 0, 3, 5, 8, 0, 9, 1, 2, 0, 9, 10];
    expect(nodesOf(network, bearing(), treeOf(11, wired, charged))).toEqual(ends);
  });
});

describe('lookAlike()', () => {
  /** Nets 3, 4 and 5 hang on resistances alone, but for a wire; net 2 on two capacitors, one of them behind net 1. */
  const withWire = (a: number, b: number): Tree =>
    treeOf(
      6,
      [
        [3, 0, thevenin(1e3)],
        [4, 0, thevenin(1e3)],
        [5, 0, thevenin(1e3)],
        [1, 0, thevenin(1e3)],
        [a, b, wire],
      ],
      [
        [2, 0, 1e-6],
        [1, 2, 1e-7],
      ],
    );
  const plain = withWire(0, 0);

  test('is so from where nothing differs, however much does elsewhere', () => {
    expect(lookAlike([0, 1, 2, 3, 4, 5], plain, withWire(0, 0))).toBe(true);
    const other = withWire(2, 4);
    expect(lookAlike([0, 1, 2, 3], plain, other)).toBe(true);
    expect(lookAlike([3], plain, other)).toBe(true);
    expect(lookAlike([3, 4], plain, other)).toBe(false);
    // Here the components are the same, and net 4 has the voltage of another net.
    const third = withWire(1, 4);
    expect(lookAlike([0, 1, 2, 3, 5], other, third)).toBe(true);
    expect(lookAlike([4], other, third)).toBe(false);
  });

  test('is not so where other capacitors are the states, or fewer', () => {
    // A wire across the first leaves the second; one across both leaves none.
    const second = withWire(2, 0);
    const first = withWire(1, 2);
    expect([plain.states, second.states, first.states]).toEqual([[0, 1], [1], [0]]);
    for (const nodes of [[], [0], [3]]) {
      expect(lookAlike(nodes, first, second)).toBe(false);
      expect(lookAlike(nodes, plain, second)).toBe(false);
    }
  });

  test('is not so where nets are joined that were apart, among them or with ground', () => {
    for (const [nodes, other] of [
      [[3, 4], withWire(3, 4)],
      [[3], withWire(3, 0)],
    ] as const) {
      expect(lookAlike(nodes, plain, other)).toBe(false);
      expect(lookAlike(nodes, other, plain)).toBe(false);
    }
  });

  test('is so where components have other numbers in the same order, and not where they have another order', () => {
    const without = withWire(3, 0);
    expect([4, 5].map((node) => [plain.component[node], without.component[node]])).toEqual([
      [2, 1],
      [3, 2],
    ]);
    for (const nodes of [
      [4, 5],
      [5, 4],
      [5, 0, 4],
    ]) {
      expect(lookAlike(nodes, plain, without)).toBe(true);
      expect(lookAlike(nodes, without, plain)).toBe(true);
    }
    // Joined to the third net, the fifth comes before the fourth.
    const turned = withWire(3, 5);
    expect([4, 5].map((node) => turned.component[node])).toEqual([2, 1]);
    for (const nodes of [
      [4, 5],
      [5, 4],
    ]) {
      expect(lookAlike(nodes, plain, turned)).toBe(false);
    }
  });
});

test.each([
  [[], [], true],
  [[1, 2], [1, 2], true],
  [[1, 2], [1, 3], false],
  [[2, 2], [1, 2], false],
  [[1, 2], [1], false],
  [[1], [1, 2], false],
])('sameNumbers() of %j and %j is %s', (one, other, same) => {
  expect(sameNumbers(one, other)).toBe(same);
});
