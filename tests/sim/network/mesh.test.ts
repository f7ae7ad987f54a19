import { expect, test } from 'vitest';
import { NumberMemory } from '#sim/core/number-memory.ts';
import { Mesh } from '#sim/network/mesh.ts';

test('Mesh.begin() takes all out that was there, and has room for longer rows than before', () => {
  const mesh = new Mesh(new NumberMemory());
  mesh.begin(2, 1);
  mesh.add(0, 0, 3, Float64Array.of(2));
  mesh.add(0, 1, 5, Float64Array.of(4));
  expect(mesh.loops.map(({ conductance, drop }) => [conductance, drop[0]])).toEqual([[3, 2]]);
  mesh.begin(2, 3);
  expect(mesh.loops).toEqual([]);
  mesh.takeStar(1);
  expect(mesh.starSize).toBe(0);
  mesh.add(0, 0, 1, Float64Array.of(1, 2, 3));
  expect(mesh.loops.map(({ conductance, drop }) => [conductance, ...drop])).toEqual([[1, 1, 2, 3]]);
});

test('Mesh.add() makes one of two conductors between components, and a loop of what they differ in', () => {
  const mesh = new Mesh(new NumberMemory());
  mesh.begin(3, 2);
  mesh.add(1, 2, 3, Float64Array.of(1, 0));
  // Counted from the other end: its drop is -(5, 4) from 1 to 2.
  mesh.add(2, 1, 1, Float64Array.of(-5, -4));
  mesh.takeStar(2);
  // Together 4 S with the mean (3 (1, 0) + (5, 4)) / 4, seen from 2; 3/4 S see the difference.
  expect([mesh.starSize, mesh.star.to[0], mesh.star.conductance[0]]).toEqual([1, 1, 4]);
  expect([...mesh.star.drop.subarray(0, 2)]).toEqual([-2, -1]);
  expect(mesh.loops.map(({ conductance, drop }) => [conductance, ...drop])).toEqual([[0.75, 4, 4]]);
  // Another with the same drop is parallel to it, one without a drop is nothing.
  mesh.add(1, 1, 0.25, Float64Array.of(4, 4));
  mesh.add(1, 1, 7, Float64Array.of(0, 0));
  expect(mesh.loops.map(({ conductance }) => conductance)).toEqual([1]);
});
