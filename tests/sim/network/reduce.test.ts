import type { Capacitor, OwnLaw, Network } from '#sim/network/element.ts';
import { Elimination, type Reduced } from '#sim/network/reduce.ts';
import { buildTree } from '#sim/network/tree.ts';
import { describe, expect, test } from 'vitest';

function thevenin(resistance: number, offset = 0, input = -1): OwnLaw {
  return { kind: 'thevenin', input, offset, resistance };
}

type Wired = readonly [a: number, b: number, law: OwnLaw];

function reduce(nodeCount: number, wired: readonly Wired[], capacitors: readonly Capacitor[]) {
  const branches = wired.map(([a, b], index) => ({ part: `B${index}`, a, b }));
  const network: Network = { nodeCount, branches, capacitors, held: [], inputCount: 1 };
  const laws = wired.map(([, , law]) => law);
  const tree = buildTree(network, laws);
  if ('shortedParts' in tree) throw new Error('short');
  return { tree, reduced: new Elimination(branches).run(tree, laws) };
}

const C1: Capacitor = { part: 'C1', a: 1, b: 0, capacitance: 1e-6 };

describe('Elimination', () => {
  test('leaves one conductance for resistors in series: 1 / (R1 + R2)', () => {
    const { reduced } = reduce(
      3,
      [
        [1, 2, thevenin(1e3)],
        [2, 0, thevenin(3e3)],
      ],
      [C1],
    );
    expect(reduced.conductors).toHaveLength(1);
    expect(reduced.conductors[0]!.conductance).toBeCloseTo(1 / 4e3, 18);
    // Its drop is the capacitor's voltage, either way round.
    expect(Math.abs(reduced.conductors[0]!.drop[0]!)).toBe(1);
  });

  test('gives the middle of a divider as its potential', () => {
    const { tree, reduced } = reduce(
      3,
      [
        [1, 2, thevenin(1e3)],
        [2, 0, thevenin(3e3)],
      ],
      [C1],
    );
    const component = tree.component[2]!;
    // v(2) = x 3 / 4, by the divider rule.
    expect(reduced.offsets[component * tree.width]).toBeCloseTo(0.75, 15);
  });

  test('adds parallel conductances', () => {
    const { reduced } = reduce(
      2,
      [
        [1, 0, thevenin(1e3)],
        [1, 0, thevenin(4e3)],
      ],
      [C1],
    );
    expect(reduced.conductors).toEqual([{ conductance: 1e-3 + 0.25e-3, drop: Float64Array.of(1, 0, 0) }]);
  });

  test('turns a star of three into the power of a triangle: g12 = g1 g2 / (g1 + g2 + g3)', () => {
    const capacitors = [1, 2].map((a): Capacitor => ({ part: `C${a}`, a, b: 0, capacitance: 1e-6 }));
    const star: Wired[] = [
      [1, 3, thevenin(1)],
      [2, 3, thevenin(1 / 2)],
      [3, 0, thevenin(1 / 5)],
    ];
    const { reduced } = reduce(4, star, capacitors);
    for (const [x, y] of [
      [1, 0],
      [0, 1],
      [1, 1],
      [2, -3],
    ] as const) {
      const power = reduced.conductors.reduce(
        (sum, { conductance, drop }) => sum + conductance * (drop[0]! * x + drop[1]! * y) ** 2,
        0,
      );
      // 1 S, 2 S and 5 S.
      expect(power).toBeCloseTo((2 / 8) * (x - y) ** 2 + (5 / 8) * x ** 2 + (10 / 8) * y ** 2, 13);
    }
  });

  test('makes two parallel conductors with sources in them one, and one for the current that circulates', () => {
    // Net 2 hangs on 6 V behind 1 ohm and 3 V behind 2 ohm: 5 V behind 2/3 ohm; 1 A circulates for ever.
    const { tree, reduced } = reduce(
      3,
      [
        [2, 0, thevenin(1, 6)],
        [2, 0, thevenin(2, 3)],
        [2, 1, thevenin(4)],
      ],
      [C1],
    );
    // v(2) = (6 / 1 + 3 / 2 + x / 4) / (1 + 1/2 + 1/4), by Millman's theorem.
    const row = reduced.offsets.subarray(tree.component[2]! * tree.width);
    expect(row[0]).toBeCloseTo(1 / 7, 15);
    expect(row[tree.width - 1]).toBeCloseTo(30 / 7, 14);
    const power = reduced.conductors.reduce((sum, { conductance, drop }) => sum + conductance * drop.at(-1)! ** 2, 0);
    // With the capacitor at 0 V: (6 - 30/7)^2 + (3 - 30/7)^2 / 2 + (30/7)^2 / 4.
    expect(power).toBeCloseTo(144 / 49 + 81 / 98 + 900 / 196, 13);
  });

  test('leaves nothing of a resistor whose ends are one net, and a conductor of its own where a source lies between them', () => {
    const across = (offset: number) =>
      reduce(
        3,
        [
          [1, 2, thevenin(0, offset)],
          [1, 2, thevenin(1e3)],
          [2, 2, thevenin(1e3)],
        ],
        [C1],
      ).reduced.conductors;
    expect(across(0)).toEqual([]);
    // 3 V over 1 kohm, always.
    expect(across(3)).toHaveLength(1);
    expect(across(3)[0]!.conductance).toBeCloseTo(1e-3, 18);
    expect(Math.abs(across(3)[0]!.drop[2]!)).toBe(3);
  });

  test('is the same in the memory of another one', () => {
    const wired: Wired[] = [
      [1, 2, thevenin(1e3)],
      [2, 3, thevenin(2e3, 5)],
      [3, 0, thevenin(3e3)],
      [2, 0, thevenin(4e3, 1, 0)],
      [3, 2, { kind: 'current', current: 1e-3 }],
    ];
    const { tree } = reduce(4, wired, [C1]);
    const branches = wired.map(([a, b], index) => ({ part: `B${index}`, a, b }));
    const network: Network = { nodeCount: 4, branches, capacitors: [C1], held: [], inputCount: 1 };
    const laws = wired.map(([, , law]) => law);
    // What its memory holds beyond that is left over from others.
    const plain = ({ conductors, force, offsets }: Reduced): unknown => ({
      conductors: conductors.map(({ conductance, drop }) => ({ conductance, drop: drop.slice(0, tree.width) })),
      force: force.slice(0, tree.width),
      offsets: offsets.slice(0, tree.componentCount * tree.width),
    });
    const expected = plain(new Elimination(branches).run(tree, laws));
    const again = new Elimination(branches);
    again.run(
      tree,
      laws.map((law) => (law.kind === 'thevenin' ? { ...law, resistance: 3 * law.resistance, offset: 7 } : law)),
    );
    expect(plain(again.run(tree, laws))).toEqual(expected);
    // Trees with more states and inputs and fewer components, and with more components.
    const capacitors = [1, 2, 3].map((net): Capacitor => ({ part: `C${net}`, a: net, b: 0, capacitance: 1e-6 }));
    for (const other of [
      { ...network, capacitors, inputCount: 3 },
      { ...network, nodeCount: 6, capacitors: [] },
    ]) {
      const another = buildTree(other, laws);
      if ('shortedParts' in another) throw new Error('short');
      again.run(another, laws);
      expect(plain(again.run(tree, laws))).toEqual(expected);
    }
  });

  test('stays small in a mesh: thirty nets, every one joined to every other one', () => {
    const wired: Wired[] = [];
    for (let a = 1; a <= 30; a++) for (let b = 0; b < a; b++) wired.push([a, b, thevenin(1e3)]);
    const { reduced } = reduce(31, wired, [C1]);
    // Between two of n nets that are all joined by R lie 2 R / n (by symmetry all other nets stay half-way).
    expect(reduced.conductors).toHaveLength(1);
    expect(Math.abs((reduced.conductors[0]!.conductance * 2e3) / 31 - 1)).toBeLessThanOrEqual(64 * Number.EPSILON);
  });

  test('turns a constant current into a force and a potential of its own: I R', () => {
    const { tree, reduced } = reduce(
      3,
      [
        [2, 0, { kind: 'current', current: 2e-3 }],
        [2, 1, thevenin(1e3)],
      ],
      [C1],
    );
    // 2 mA leave node 2 for ground, coming from node 1 over 1 kohm: node 2 lies 2 V below it, the capacitor gives 2 mA.
    expect(reduced.offsets[tree.component[2]! * tree.width + tree.width - 1]).toBeCloseTo(-2, 15);
    expect(reduced.force[0]).toBeCloseTo(2e-3, 18);
  });

  test('keeps a large resistance beside a tiny one to a few roundings', () => {
    // 10 ohm from the capacitor to a net with 10 Mohm to ground: 1 / 10000010 S.
    const { reduced } = reduce(
      3,
      [
        [1, 2, thevenin(10)],
        [2, 0, thevenin(1e7)],
      ],
      [C1],
    );
    expect(Math.abs(reduced.conductors[0]!.conductance * 10000010 - 1)).toBeLessThanOrEqual(4 * Number.EPSILON);
  });
});
