import { describe, expect, test } from 'vitest';
import type { Matrix } from '#sim/core/dense.ts';
import type { OwnLaw } from '#sim/network/element.ts';
import { idleVoltages, joinedIdle } from '#sim/network/spectrum.ts';
import { buildTree } from '#sim/network/tree.ts';
import { networkOf, thevenin, type Wired } from '../../support/compiled-mode.ts';

// Voltages that drive no current through any resistance, by looking at the circuit: what stands beside each.

const open: OwnLaw = { kind: 'open' };
const current: OwnLaw = { kind: 'current', current: 1e-3 };

function columnsOf({ rows, columns, data }: Matrix): number[][] {
  return Array.from({ length: columns }, (_, j) => Array.from({ length: rows }, (__, i) => data[i * columns + j]!));
}

/** Columns scaled so that the largest entry of each is 1. */
function scaled(columns: readonly number[][]): number[][] {
  return columns.map((column) => {
    const largest = column.reduce((most, value) => (Math.abs(value) > Math.abs(most) ? value : most), 0);
    return column.map((value) => value / largest + 0);
  });
}

function idle(
  nodeCount: number,
  wired: readonly Wired[],
  charged: readonly (readonly [a: number, b: number])[],
): number[][] {
  const network = networkOf(
    nodeCount,
    wired,
    charged.map(([a, b]) => [a, b, 1e-6]),
  );
  const laws = wired.map(([, , law]) => law);
  const tree = buildTree(network, laws);
  if ('shortedParts' in tree) throw new Error('short');
  return scaled(columnsOf(idleVoltages(network, laws, tree)));
}

describe('idleVoltages()', () => {
  const pair = [
    [1, 0],
    [2, 0],
  ] as const;

  test('has none where every capacitor can empty', () => {
    expect(idle(2, [[1, 0, thevenin(1)]], [[1, 0]])).toEqual([]);
  });

  test('has equal voltages of two capacitors that a resistor joins', () => {
    expect(idle(3, [[1, 2, thevenin(1e3)]], pair)).toEqual([[1, 1]]);
    expect(idle(3, [[2, 1, thevenin(1e3, 5, 0)]], pair)).toEqual([[1, 1]]);
  });

  test('has the same where resistors join them over a net in between, whichever way round', () => {
    for (const [p, q] of [
      [1, 3],
      [3, 1],
    ] as const) {
      for (const [r, s] of [
        [2, 3],
        [3, 2],
      ] as const) {
        const wired: Wired[] = [
          [p, q, thevenin(1e3)],
          [r, s, thevenin(2e3)],
        ];
        expect(idle(4, wired, pair)).toEqual([[1, 1]]);
      }
    }
    // Two nets in between.
    const wired: Wired[] = [
      [1, 3, thevenin(1e3)],
      [3, 4, thevenin(1e3)],
      [4, 2, thevenin(1e3)],
    ];
    expect(idle(5, wired, pair)).toEqual([[1, 1]]);
  });

  test('has one for each group that resistors join', () => {
    const wired: Wired[] = [[1, 2, thevenin(1e3)]];
    const found = idle(4, wired, [...pair, [3, 0]]);
    expect(found.length).toBe(2);
    expect(found).toContainEqual([1, 1, 0]);
    expect(found).toContainEqual([0, 0, 1]);
  });

  test('counts neither open branches, constant currents nor sources without resistance as ways to empty', () => {
    const wired: Wired[] = [
      [1, 0, open],
      [2, 0, current],
      [3, 0, thevenin(0, 5)],
      [1, 2, thevenin(1e3)],
    ];
    expect(idle(4, wired, pair)).toEqual([[1, 1]]);
    // A capacitor from there to a source: the source's voltage plays no part in what is idle.
    expect(idle(4, wired, [...pair, [1, 3]].slice(1) as (readonly [number, number])[]).length).toBe(1);
  });

  test('sees capacitors in series and across each other', () => {
    // C1 from 1 to ground, C2 from 2 to 1, a resistor from 2 to ground: opposite voltages.
    const found = idle(
      3,
      [[2, 0, thevenin(1e3)]],
      [
        [1, 0],
        [2, 1],
      ],
    );
    expect(found.length).toBe(1);
    expect(found[0]![0]! + found[0]![1]!).toBe(0);
  });
});

describe('joinedIdle()', () => {
  const matrixOf = (columns: readonly (readonly number[])[], rows = 3): Matrix => ({
    rows,
    columns: columns.length,
    data: Float64Array.from(Array.from({ length: rows }, (_, i) => columns.map((column) => column[i]!)).flat()),
  });
  const joined = (first: readonly number[][], all: readonly number[][]): number[][] =>
    columnsOf(joinedIdle(matrixOf(first), matrixOf(all)));

  test('begins with the first list as it is', () => {
    expect(joined([], [])).toEqual([]);
    expect(joined([[2, 2, 0]], [])).toEqual([[2, 2, 0]]);
    const two = [
      [1, 1, 0],
      [0, 0, 3],
    ];
    expect(joined(two, two)).toEqual(two);
  });

  test('adds of the second what is not made of those before, as it is', () => {
    expect(
      joined(
        [[1, 1, 0]],
        [
          [2, 2, 0],
          [0, 0, 2],
        ],
      ),
    ).toEqual([
      [1, 1, 0],
      [0, 0, 2],
    ]);
    expect(joined([[1, 1, 0]], [[3, 1, 0]])).toEqual([
      [1, 1, 0],
      [3, 1, 0],
    ]);
    // The second of these is 4 (1, 1, 0) - (1, 3, 0), and so on; the last one is new.
    expect(
      joined(
        [[1, 1, 0]],
        [
          [1, 3, 0],
          [3, 1, 0],
          [5, 2, 0],
          [1, 1, 1],
          [7, 3, 2],
        ],
      ),
    ).toEqual([
      [1, 1, 0],
      [1, 3, 0],
      [1, 1, 1],
    ]);
    expect(joined([], [[0, 4, 0]])).toEqual([[0, 4, 0]]);
  });
});
