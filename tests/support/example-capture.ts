import type { CaptureResult } from '#sim/document/index.ts';

/* A small capture made by hand: C1 of the platform lamp charges for 4 s where 3 s are predicted, and is emptied at once. */

/** When it was sampled (s). */
export const times = [0, 1, 2, 3, 4, 5, 6];
/** The capture. */
export const capture: CaptureResult = {
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
      family: null,
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
