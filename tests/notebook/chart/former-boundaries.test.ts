import { formerBoundaries, hasSamePoints } from '#notebook/chart/former-boundaries.ts';
import { mapScene } from '#sim/chart/map-scene.ts';
import type { MapResult } from '#sim/document/index.ts';
import { expect, test } from 'vitest';
import { map } from '../../support/example-studies.ts';

const scene = mapScene(map, 900);
const [boundary] = map.contours;

/** The map with its boundary at other places. */
function withBoundary(...lines: MapResult['contours'][number]['lines']): MapResult {
  if (boundary === undefined) throw new Error('the map must have a boundary');
  return { ...map, contours: [{ ...boundary, lines }] };
}

test('a boundary that moved is drawn where it was', () => {
  const former = withBoundary([
    [2000, 0.1],
    [2000, 0.2],
  ]);
  const x = Math.round(scene.x.scale(2000) * 100) / 100;
  expect(formerBoundaries(scene, map, former)).toEqual([`M${x} ${scene.bottom}L${x} ${scene.top}`]);
});

test('one that is where it was has none, be it cut into other stretches', () => {
  expect(formerBoundaries(scene, map, map)).toEqual([]);
  const cut = withBoundary([
    [1500, 0.1],
    [1550, 0.15],
    [1600, 0.2],
  ]);
  expect(formerBoundaries(scene, map, cut)).toEqual([]);
});

test('one that became longer or shorter is drawn, and so is one between other regions at the same place', () => {
  const shorter = withBoundary([
    [1500, 0.1],
    [1550, 0.15],
  ]);
  expect(formerBoundaries(scene, map, shorter)).toHaveLength(1);
  const others: MapResult = { ...map, contours: [{ ...map.contours[0]!, between: ['2', 'uneven'] }] };
  expect(formerBoundaries(scene, map, others)).toHaveLength(1);
});

test('maps over other points or of another reading are not laid over each other', () => {
  const moved = withBoundary([
    [2000, 0.1],
    [2000, 0.2],
  ]);
  for (const other of [{ x: [1000, 2000, 2500] }, { y: [0.1, 0.3] }, { asked: 'width(out)' }]) {
    expect(hasSamePoints(map, { ...moved, ...other })).toBe(false);
    expect(formerBoundaries(scene, map, { ...moved, ...other })).toEqual([]);
  }
});
