import { captureScene, nearestSample } from '#notebook/chart/capture-scene.ts';
import {
  captureTables,
  estimatedValues,
  estimateStrip,
  explanationValue,
  sampleWords,
} from '#notebook/chart/capture-words.ts';
import { samplePath } from '#notebook/chart/sample-line.ts';
import { linearScale } from '#notebook/chart/scale.ts';
import type { CaptureResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

/* A small capture made by hand: C1 of the platform lamp charges for 4 s where 3 s are predicted, and is emptied at once. */

const times = [0, 1, 2, 3, 4, 5, 6];
const capture: CaptureResult = {
  kind: 'capture',
  ok: true,
  board: 'lamp',
  from: 0,
  until: 10,
  source: 'lamp.csv',
  rows: 7,
  stride: 1,
  malformed: { count: 0, first: [] },
  gaps: { count: 0, first: [] },
  level: 6,
  hysteresis: 0.6,
  offset: 0.5,
  times,
  nets: [
    {
      net: 'timing',
      role: 'course',
      measured: [0, 2, 4, 6, 8, 0, 0],
      low: [0, 2, 4, 6, 8, 0, 0],
      high: [0, 2, 4, 6, 8, 0, 0],
      predicted: [0, 2.5, 5, 8, 0, 0, null],
      noise: 0.05,
    },
    {
      net: 'out',
      role: 'logic',
      measured: [10, 10, 10, 10, 10, 0, 0],
      low: [10, 10, 10, 10, 10, 0, 0],
      high: [10, 10, 10, 10, 10, 0, 0],
      predicted: [10, 10, 10, 10, 0, 0, null],
      noise: 0.01,
    },
  ],
  edges: [
    { net: 'timing', to: 'low', measured: 4.5, uncertainty: 0.3, predicted: 3.5, residual: -1 },
    { net: 'out', to: 'low', measured: 4.5, uncertainty: 0.3, predicted: 3.5, residual: -1 },
  ],
  residuals: { edges: 1, samples: 0.5 },
  fit: {
    estimates: [
      { name: 'C1', unit: 'F', value: 12e-6, marked: 10e-6, uncertainty: 1e-7, low: 11.8e-6, high: 12.2e-6 },
      { name: 'C1.leakage', unit: 'Ω', value: 1e8, marked: null, uncertainty: null, low: null, high: null },
    ],
    combinations: [],
    edgeResidual: 0.01,
    sampleResidual: 0.05,
  },
  explanations: [
    {
      kind: 'capacitance',
      part: 'C1',
      value: 12e-6,
      unit: 'F',
      marked: 10e-6,
      edgeResidual: 0.01,
      sampleResidual: 0.05,
      meanSquare: 1,
      explains: 'full',
      asGoodAsFirst: true,
      sentence: 'C1 would have to be 12 µF.',
    },
  ],
  sentences: { reading: [], overlay: [], fit: [], apart: [] },
  cautions: [],
  share: 1,
};

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

describe('words and values of a capture', () => {
  test('sampleWords tells what was measured, what was predicted and how far they are apart', () => {
    expect(sampleWords(capture, 1)).toBe(
      'timing 2\u2009V, predicted 2.5\u2009V, 500\u2009mV apart; out 10\u2009V, predicted 10\u2009V, 0\u2009V apart',
    );
    expect(sampleWords(capture, 6)).toContain('nothing predicted');
  });

  test('estimatedValues gives the board only what the measurement tells', () => {
    expect(estimatedValues(capture)).toEqual([{ name: 'C1', unit: 'F', value: 12e-6 }]);
  });

  test('estimateStrip lays limits, value and what is stated along one line', () => {
    const strip = estimateStrip(capture.fit!.estimates[0]!);
    expect(strip?.marked).toBeLessThan(strip?.from ?? 0);
    expect(strip?.value).toBeCloseTo(((strip?.from ?? 0) + (strip?.to ?? 0)) / 2, 9);
    expect(estimateStrip(capture.fit!.estimates[1]!)).toBeUndefined();
  });

  test('explanationValue names the value of the board that an explanation is about', () => {
    const [first] = capture.explanations;
    const as = (kind: 'leakage' | 'probe' | 'supply') => explanationValue({ ...first!, kind, part: 'C1' });
    expect(explanationValue(first!)).toEqual({ name: 'C1', unit: 'F', value: 12e-6 });
    expect(as('leakage')?.name).toBe('C1.leakage');
    expect(as('supply')?.name).toBe('C1');
    // A load is no value of the board.
    expect(as('probe')).toBeUndefined();
  });

  test('captureTables tell edges, samples and explanations', () => {
    const [edges, samples, explained] = captureTables(capture);
    expect(edges?.rows[0]).toEqual(['4.5\u2009s', 'timing', 'low', '300\u2009ms', '3.5\u2009s', '-1\u2009s']);
    expect(samples?.rows).toHaveLength(7);
    expect(samples?.rows[6]).toEqual(['6\u2009s', '0\u2009V', '–', '0\u2009V', '–']);
    expect(explained?.rows[0]).toEqual(['1', 'capacitance of C1', '12\u2009µF', '10\u2009µF', 'explains all of it']);
  });
});
