import { expect, test } from 'vitest';
import type { Law } from '#sim/network/element.ts';
import { alwaysHeld, holdAlike, type ManyLawed } from '#sim/network/strays.ts';

const open: Law = { kind: 'open' };
const ohm: Law = { kind: 'thevenin', input: -1, offset: 0, resistance: 1 };
const current: Law = { kind: 'current', current: 1e-9 };
const none: Law = { kind: 'current', current: 0 };

function branch(a: number, b: number, ...laws: readonly Law[]): ManyLawed {
  return { part: '', a, b, laws };
}

test('a node that every mode ties to ground is held by that, by resistances as by capacitors', () => {
  const source = branch(2, 0, current);
  expect(alwaysHeld(3, [branch(0, 1, ohm), branch(1, 2, ohm), source], [])).toEqual([]);
  expect(alwaysHeld(3, [branch(0, 1, ohm), source], [{ part: '', a: 2, b: 1, capacitance: 1e-9 }])).toEqual([]);
});

test('one that some mode cuts off is held in all modes where a current may move it', () => {
  expect(alwaysHeld(2, [branch(0, 1, open, ohm), branch(1, 0, current)], [])).toEqual([1]);
  expect(alwaysHeld(2, [branch(0, 1, open, ohm), branch(1, 0, open, ohm, current)], [])).toEqual([1]);
});

test('without a current it is left to the modes', () => {
  expect(alwaysHeld(2, [branch(0, 1, open, ohm)], [])).toEqual([]);
  expect(alwaysHeld(2, [branch(0, 1, open, ohm), branch(1, 0, none)], [])).toEqual([]);
});

test('nodes that are always joined are one: its first node is held, and a current within it moves nothing', () => {
  const joined = [branch(1, 2, ohm), branch(0, 1, open, ohm)];
  expect(alwaysHeld(3, [...joined, branch(2, 0, current)], [])).toEqual([1]);
  expect(alwaysHeld(3, [...joined, branch(2, 1, current)], [])).toEqual([]);
});

test('a current at one node holds all that may be joined to it on the way to ground, but not beyond', () => {
  const driven = branch(1, 0, current);
  expect(alwaysHeld(3, [driven, branch(1, 2, open, ohm), branch(2, 0, open, ohm)], [])).toEqual([1, 2]);
  const beyond = [branch(1, 0, open, ohm), branch(2, 0, open, ohm)];
  expect(alwaysHeld(3, [driven, ...beyond], [])).toEqual([1]);
  const turned = [branch(0, 1, open, ohm), branch(0, 2, open, ohm)];
  expect(alwaysHeld(3, [driven, ...turned], [])).toEqual([1]);
  // A rail that always hangs on ground is ground.
  const rail = [branch(3, 0, ohm), branch(1, 3, open, ohm), branch(2, 3, open, ohm)];
  expect(alwaysHeld(4, [driven, ...rail], [])).toEqual([1]);
});

test('what always hangs on ground is not held, whatever current there is', () => {
  const fixed = [branch(0, 1, ohm), branch(1, 0, current)];
  expect(alwaysHeld(3, [...fixed, branch(1, 2, ohm)], [])).toEqual([]);
  // Node 2 may be cut off, and its current comes from node 1, which may not.
  expect(alwaysHeld(3, [branch(0, 1, ohm), branch(1, 2, current), branch(2, 0, open, ohm)], [])).toEqual([2]);
  // Node 3 hangs on ground in some modes and on node 1, which always does: no current moves it.
  expect(alwaysHeld(4, [branch(0, 1, ohm), branch(1, 3, open, ohm), branch(2, 0, open, current)], [])).toEqual([2]);
});

test('a controlled branch drives as a current does, an open or resistive one does not', () => {
  const controlled: Law = { kind: 'controlled', by: 0, gain: 2 };
  expect(alwaysHeld(2, [branch(0, 1, open, ohm), branch(1, 0, open, controlled)], [])).toEqual([1]);
  expect(alwaysHeld(2, [branch(0, 1, open, ohm), branch(1, 0, open)], [])).toEqual([]);
});

test('a current between two such nodes moves both', () => {
  expect(alwaysHeld(3, [branch(1, 2, current), branch(0, 1, open, ohm), branch(0, 2, open, ohm)], [])).toEqual([1, 2]);
});

test('laws hold alike where both tie or both do not, and both drive or both do not', () => {
  const controlled: Law = { kind: 'controlled', by: 0, gain: 2 };
  const groups: readonly (readonly Law[])[] = [
    [ohm, { ...ohm, resistance: 5, offset: 2 }],
    [open, none],
    [current, { kind: 'current', current: -2 }, controlled],
  ];
  for (const [g, group] of groups.entries()) {
    for (const one of group) {
      groups.forEach((others, h) => {
        for (const other of others) expect(holdAlike(one, other)).toBe(g === h);
      });
    }
  }
});
