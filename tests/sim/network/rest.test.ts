import { describe, expect, test } from 'vitest';
import type { OwnLaw, Network } from '#sim/network/element.ts';
import { NumberMemory } from '#sim/core/number-memory.ts';
import { Rest, withoutCapacitors } from '#sim/network/rest.ts';
import { buildTree } from '#sim/network/tree.ts';

type Wired = readonly [a: number, b: number, law: OwnLaw];

function thevenin(resistance: number, offset = 0, input = -1): OwnLaw {
  return { kind: 'thevenin', input, offset, resistance };
}

function restOf(
  nodeCount: number,
  wired: readonly Wired[],
  charged: readonly (readonly [number, number])[],
  currents = true,
): number[] {
  const network: Network = {
    nodeCount,
    branches: wired.map(([a, b], index) => ({ part: `B${index}`, a, b })),
    capacitors: charged.map(([a, b], index) => ({ part: `C${index}`, a, b, capacitance: 1e-6 })),
    held: [],
    inputCount: 1,
  };
  const laws = wired.map(([, , law]) => law);
  const tree = buildTree(network, laws);
  if ('shortedParts' in tree) throw new Error('short');
  return [...new Rest(withoutCapacitors(network), laws, tree, currents, new NumberMemory()).of(laws).data];
}

describe('Rest', () => {
  test('a capacitor behind a divider rests at its share of the input', () => {
    const wired: Wired[] = [
      [1, 0, thevenin(0, 0, 0)],
      [1, 2, thevenin(1e3)],
      [2, 0, thevenin(3e3)],
    ];
    expect(restOf(3, wired, [[2, 0]])).toEqual([0.75, 0]);
    expect(restOf(3, wired, [[1, 2]])).toEqual([0.25, 0]);
  });

  test('a constant current makes I R, and nothing where it is left out', () => {
    const wired: Wired[] = [
      [0, 1, { kind: 'current', current: 2e-3 }],
      [1, 0, thevenin(4e3)],
    ];
    expect(restOf(2, wired, [[1, 0]])).toEqual([0, 8]);
    expect(restOf(2, wired, [[1, 0]], false)).toEqual([0, 0]);
  });

  test('fixed voltages in series with resistances count', () => {
    // 6 V behind 1 ohm against 3 V behind 2 ohm: 5 V.
    const [input, fixed] = restOf(
      2,
      [
        [1, 0, thevenin(1, 6)],
        [1, 0, thevenin(2, 3)],
      ],
      [[1, 0]],
    );
    expect(input).toBe(0);
    expect(fixed).toBeCloseTo(5, 15);
  });

  test('keeps its digits with 0.1 ohm beside 10 Mohm', () => {
    // The rail behind 0.1 ohm, a capacitor on it, another one behind 10 Mohm: both rest at the input exactly.
    const wired: Wired[] = [
      [1, 0, thevenin(0.1, 0, 0)],
      [1, 2, thevenin(1e7)],
    ];
    expect(
      restOf(3, wired, [
        [1, 0],
        [2, 0],
      ]),
    ).toEqual([1, 0, 1, 0]);
  });
});
