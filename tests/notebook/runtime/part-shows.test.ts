import { areOtherShows, partNets, partShows } from '#notebook/runtime/part-shows.ts';
import { expect, test } from 'vitest';

const document = {
  boards: { gate: { ready: 'monostable' }, bell: { ready: 'monostable' } },
  links: [{ a: 'gate.out', b: 'bell.button' }],
};

test('a part shows its nets, each once, and its current', () => {
  expect(partShows(document, 'gate', 'R1')).toEqual(['rail', 'timing', 'current(R1)']);
  const timer = partNets(document, 'gate', 'U1');
  expect(timer).toContain('timing');
  expect(new Set(timer).size).toBe(timer.length);
});

test('a link shows the net that it leads from', () => {
  expect(partNets(document, 'gate', 'link 1')).toEqual(['out']);
  expect(partNets(document, 'bell', 'link 1')).toEqual(['button']);
});

test('without a part, or one that is not there, nothing is shown', () => {
  expect(partShows(document, 'gate', undefined)).toEqual([]);
  expect(partShows(document, undefined, 'R1')).toEqual([]);
  expect(partShows(document, 'gate', 'R99')).toEqual([]);
});

test('areOtherShows compares names', () => {
  expect(areOtherShows(['in'], ['in'])).toBe(false);
  expect(areOtherShows(['in'], ['in', 'out'])).toBe(true);
  expect(areOtherShows([], undefined)).toBe(true);
});

test('a relay shows the nets of its contact as well, and its contacts; a button shows its own', () => {
  const parts = [
    { name: 'S1', kind: 'button', a: 'rail', b: 'coil' },
    { name: 'K1', kind: 'relay', a: 'coil', b: 'ground', common: 'rail', normallyOpen: 'up', normallyClosed: 'down' },
    { name: 'K2', kind: 'relay', a: 'coil', b: 'ground' },
  ];
  const points = { boards: { points: { parts } } };
  expect(partShows(points, 'points', 'S1')).toEqual(['rail', 'coil', 'current(S1)', 'contact(S1)']);
  expect(partShows(points, 'points', 'K1')).toEqual([
    'coil',
    'ground',
    'rail',
    'up',
    'down',
    'current(K1)',
    'contact(K1)',
    'contact(K1.normallyOpen)',
    'contact(K1.normallyClosed)',
  ]);
  expect(partShows(points, 'points', 'K2')).toEqual(['coil', 'ground', 'current(K2)']);
});
