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
