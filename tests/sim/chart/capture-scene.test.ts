import { captureScene, nearestSample } from '#sim/chart/capture-scene.ts';
import { samplePath } from '#sim/chart/sample-line.ts';
import { linearScale } from '#sim/chart/scale.ts';
import { describe, expect, test } from 'vitest';
import { capture, times } from '../../support/example-capture.ts';

describe('captureScene', () => {
  const scene = captureScene(capture, 800);

  test('has a lane for each net, what is apart below a course, and the edges last', () => {
    expect(scene?.lanes.map(({ title }) => title)).toEqual(['timing', 'timing apart', 'out']);
    expect(scene?.lanes.every(({ top, bottom }) => bottom > top)).toBe(true);
    expect(scene?.edges?.stems.map(({ net, to }) => [net, to])).toEqual([
      ['timing', 'low'],
      ['out', 'low'],
    ]);
    expect(scene?.edges?.top).toBeGreaterThan(scene?.lanes.at(-1)?.bottom ?? Infinity);
  });

  test('an edge that comes earlier than predicted stands on the other side of zero', () => {
    const early = { ...capture, edges: capture.edges.map((edge) => ({ ...edge, residual: 1 })) };
    expect(scene?.edges?.stems[0]?.y).toBeGreaterThan(scene?.edges?.zero ?? Infinity);
    const other = captureScene(early, 800)?.edges;
    expect(other?.stems[0]?.y).toBeLessThan(other?.zero ?? 0);
  });

  test('what is apart leaves out the time between a measured jump and the predicted one', () => {
    // At 3 s the prediction is about to jump and at 4 s it has: both belong to the edge. What is left goes up to 1 V.
    const apart = scene?.lanes[1];
    expect(apart?.measured.match(/[ML]/g)?.length).toBeLessThan(4);
    expect(apart?.y(1)).toBeGreaterThanOrEqual(apart?.top ?? Infinity);
    // 8 V, as far apart as they are in between, would lie far outside.
    expect(apart?.y(-8)).toBeGreaterThan(apart?.bottom ?? Infinity);
  });

  test('marks the edge that lies exactly where it is predicted', () => {
    expect(scene?.aligned).toBeUndefined();
    const rise = { net: 'out', to: 'high', measured: 1, uncertainty: 0.3, predicted: 1, residual: 0 } as const;
    expect(captureScene({ ...capture, edges: [rise, ...capture.edges] }, 800)?.aligned).toBeCloseTo(
      scene?.x(1) ?? 0,
      2,
    );
  });

  test('a line ends where nothing is predicted', () => {
    const predicted = scene?.lanes[0]?.predicted ?? '';
    const ends = predicted.split(/[ML]/).at(-1)?.split(' ')[0];
    expect(Number(ends)).toBeCloseTo(scene?.x(5) ?? 0, 0);
  });

  test('there is none without samples', () => {
    expect(captureScene({ ...capture, times: [] }, 800)).toBeUndefined();
  });
});

describe('samplePath', () => {
  const x = linearScale(0, 10, 0, 10);
  const y = linearScale(0, 10, 10, 0);

  test('keeps the lowest and the highest of many samples on one column of pixels', () => {
    const crowded = [0, 0.01, 0.02, 0.03, 5];
    expect(samplePath(crowded, [5, 9, 1, 5, 5], x, y)).toBe('M0 5L0 1L0 9L0 5L5 5');
  });

  test('is broken where there is no sample and where samples are missing', () => {
    expect(samplePath([0, 1, 2, 3], [1, null, 1, 2], x, y)).toBe('M0 9M2 9L3 8');
    expect(samplePath([0, 1, 4, 5], [1, 1, 1, 1], x, y, [{ from: 1, until: 4 }])).toBe('M0 9L1 9M4 9L5 9');
  });
});

describe('nearestSample', () => {
  test('finds the nearest by halves, at the ends as well', () => {
    expect([-1, 0.4, 0.6, 3.5, 99].map((time) => nearestSample(times, time))).toEqual([0, 0, 1, 3, 6]);
    expect(nearestSample([7], 0)).toBe(0);
  });
});
