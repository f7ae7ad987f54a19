import { expect, test } from 'vitest';
import type { Law } from '#sim/network/element.ts';
import { Trees } from '#sim/network/trees.ts';
import { networkOf, thevenin } from '../../support/compiled-mode.ts';

/** A source, a resistance or contact, and a bias current at the net behind it, which a capacitor holds or nothing. */
function lawsOf(source: Law, joining: Law, biasing: Law = { kind: 'open' }): Law[] {
  return [source, joining, biasing];
}

const source = thevenin(0, 0, 0);
const wired = [
  [1, 0, source],
  [1, 2, thevenin(1e3)],
  [2, 0, { kind: 'open' }],
] as const;

test('Trees.of() gives one tree to all laws that differ in resistances and currents alone', () => {
  const trees = new Trees(networkOf(3, wired, [[2, 0, 1e-6]]));
  const tree = trees.of(lawsOf(source, thevenin(1e3)));
  expect(trees.of(lawsOf(source, thevenin(1e3)))).toBe(tree);
  expect(trees.of(lawsOf(source, thevenin(2e3, 0.6)))).toBe(tree);
  expect(trees.of(lawsOf(source, { kind: 'open' }, { kind: 'current', current: 1e-3 }))).toBe(tree);
});

test('Trees.of() tells apart which sources have no resistance, what they follow, and which nets nothing holds', () => {
  const trees = new Trees(networkOf(3, wired, [], 2));
  const all = [
    lawsOf(source, thevenin(1e3)),
    lawsOf(source, thevenin(0)),
    lawsOf(source, { kind: 'open' }),
    lawsOf(thevenin(0, 0, 1), thevenin(1e3)),
    lawsOf(thevenin(0, 5, 0), thevenin(1e3)),
    lawsOf(thevenin(10, 0, 0), thevenin(0)),
  ];
  expect(new Set(all.map((laws) => trees.of(laws))).size).toBe(all.length);
});

test('Trees.of() tells apart sources that weigh as much together: in other places, of other inputs or voltages alone', () => {
  const trees = new Trees(
    networkOf(
      3,
      [
        [1, 0, source],
        [2, 0, source],
      ],
      [],
      3,
    ),
  );
  // Each pair has one sum of (place + 1) (input + voltage + 2).
  const pairs = [
    [
      [thevenin(0, 2, 0), thevenin(1e3)],
      [thevenin(1e3), thevenin(0, 0, 0)],
    ],
    [
      [thevenin(0, 2, 0), thevenin(0, 0, 0)],
      [thevenin(0, 0, 0), thevenin(0, 1, 0)],
    ],
    [
      [thevenin(0, 1, 2), thevenin(0, 1, 0)],
      [thevenin(0, 1, 0), thevenin(0, 1, 1)],
    ],
    [
      [thevenin(0, 1, 0), thevenin(1e3)],
      [thevenin(0, 0, 1), thevenin(1e3)],
    ],
  ] as const;
  for (const [one, other] of pairs) {
    const found = [one, other, one, other].map((laws) => trees.of(laws.map((law) => ({ ...law }))));
    expect(found[1]).not.toBe(found[0]);
    expect(found[2]).toBe(found[0]);
    expect(found[3]).toBe(found[1]);
  }
});

test('Trees.of() tells apart which of the nets nothing holds, where no source is without resistance', () => {
  const trees = new Trees(
    networkOf(
      3,
      [
        [1, 0, thevenin(1e3)],
        [2, 0, thevenin(1e3)],
      ],
      [],
    ),
  );
  const open: Law = { kind: 'open' };
  const all = [
    [thevenin(1e3), open],
    [open, thevenin(1e3)],
    [open, open],
    [thevenin(1e3), thevenin(1e3)],
  ];
  const found = all.map((laws) => trees.of(laws));
  expect(found.map((tree) => ('held' in tree ? tree.held : []))).toEqual([[2], [1], [1, 2], []]);
  all.forEach((laws, index) => expect(trees.of(laws)).toBe(found[index]));
});

test('Trees.of() keeps 64 trees at a time, of voltages that change from run to run', () => {
  const trees = new Trees(networkOf(3, wired, [[2, 0, 1e-6]]));
  const at = (volts: number): object => trees.of(lawsOf(thevenin(0, volts, 0), thevenin(1e3)));
  const first = at(0);
  for (let volts = 1; volts < 64; volts++) at(volts);
  expect(at(0)).toBe(first);
  const next = at(64);
  // The 65th stays, and those before it are made anew.
  expect(at(64)).toBe(next);
  const anew = at(0);
  expect(anew).not.toBe(first);
  expect(anew).toEqual(first);
  for (let volts = 1; volts < 63; volts++) at(volts);
  expect(at(0)).toBe(anew);
  expect(at(64)).toBe(next);
  at(63);
  expect(at(0)).not.toBe(anew);
});
