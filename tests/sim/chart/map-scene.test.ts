import { mapClasses, UNEVEN, WITHOUT } from '#sim/chart/map-classes.ts';
import { NOTHING } from '#sim/chart/map-raster.ts';
import { mapScene, nearestPoint } from '#sim/chart/map-scene.ts';
import { RAMP_STEPS } from '#sim/chart/ramp.ts';
import { describe, expect, test } from 'vitest';
import { map } from '../../support/example-studies.ts';

describe('mapClasses', () => {
  test('regions of one ratio each have its number, uneven places and those without a value their own classes', () => {
    const classes = mapClasses(map);
    expect(classes.isNamed).toBe(true);
    expect([0, 1, 2].map((column) => classes.at(column, 0))).toEqual([0, UNEVEN, 1]);
    expect(classes.at(2, 1)).toBe(WITHOUT);
    expect(classes.legend.map(({ text }) => text)).toEqual([
      '3',
      '4',
      'not the same from output to output',
      'no value',
    ]);
    expect([0, 1].map((value) => classes.stepOf(value))).toEqual([0, RAMP_STEPS - 1]);
  });

  test('more ratios than the ramp has steps keep their own numbers', () => {
    const x = Array.from({ length: 60 }, (_, index) => 1000 + index);
    const classes = mapClasses({ ...map, x, y: [0.1], z: [x], uneven: [x.map(() => 0)], contours: [] });
    expect(new Set(x.map((_, column) => classes.nameOf(classes.at(column, 0)))).size).toBe(60);
  });

  test('other readings are a scale from the least to the greatest value, by ratio where they differ much', () => {
    const plain = { ...map, uneven: null, contours: [], unit: 's' as const };
    const even = mapClasses({
      ...plain,
      z: [
        [1, 2, 3],
        [1, 2, 3],
      ],
    });
    expect([0, 1, 2].map((column) => even.at(column, 0))).toEqual([0, 12, 23]);
    const wide = mapClasses({
      ...plain,
      z: [
        [0.01, 0.1, 1],
        [0.01, 0.1, 1],
      ],
    });
    expect(wide.isByRatio).toBe(true);
    expect([0, 1, 2].map((column) => wide.at(column, 0))).toEqual([0, 12, 23]);
  });

  test('what is not computed yet is nothing, not a place without a value', () => {
    expect(mapClasses({ ...map, share: 0.5 }).at(2, 1)).toBe(NOTHING);
  });
});

describe('mapScene', () => {
  test.each([320, 390, 760])('keeps everything inside %i pixels', (width) => {
    const scene = mapScene(map, width);
    expect(scene.right).toBeLessThanOrEqual(width);
    for (const { at } of scene.x.ticks) {
      expect(at).toBeGreaterThanOrEqual(scene.left);
      expect(at).toBeLessThanOrEqual(scene.right);
    }
    expect(scene.x.title).toBe('resistance of R1 in kilohms');
    expect(scene.y.title).toBe('period of G1 in milliseconds');
    // High values of y are up.
    expect(scene.y.scale(0.2)).toBe(scene.top);
    expect(scene.y.scale(0.1)).toBe(scene.bottom);
  });

  test('writes the number of a region into it, and draws every boundary', () => {
    const scene = mapScene(map, 760);
    expect(scene.labels.map(({ text }) => text)).toEqual(['3', '4']);
    const [three] = scene.labels;
    expect(three?.x).toBeLessThan(scene.x.scale(1600));
    expect(scene.lines).toHaveLength(1);
    expect(scene.lines[0]).toMatch(new RegExp(`^M${scene.x.scale(1500)} ${scene.bottom}L`));
  });

  test('labels a level in the middle of its longest line', () => {
    const contours = [{ level: 3.5, between: null, lines: map.contours[0]?.lines ?? [] }];
    expect(mapScene({ ...map, contours }, 760).labels.map(({ text }) => text)).toEqual(['3.5']);
  });

  test('a place on the page belongs to the nearest point', () => {
    const scene = mapScene(map, 760);
    expect(nearestPoint(map, scene, scene.x.scale(2400), scene.y.scale(0.16))).toEqual({ column: 1, row: 1 });
  });
});
