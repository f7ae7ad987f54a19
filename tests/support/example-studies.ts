import type { MapResult, SweepResult } from '#sim/document/index.ts';

/*
 * Small results made by hand. The map: three values of R1 by two periods, ratio 3 left, 4 right, a strip between them in
 * which it is uneven. The sweep: four periods, ratio 4 until 165 ms and 3 from there on, the width the same throughout.
 */

/** The map. */
export const map: MapResult = {
  kind: 'map',
  ok: true,
  board: 'drawer',
  from: 0,
  until: 3,
  vary: {
    x: { value: 'R1', unit: 'Ω', scale: 'linear', now: 1500 },
    y: { value: 'G1.wave.period', unit: 's', scale: 'linear', now: 0.1 },
  },
  name: 'ratio',
  asked: 'ratio(out, in)',
  unit: null,
  x: [1000, 2000, 3000],
  y: [0.1, 0.2],
  z: [
    [3, 3.5, 4],
    [3, 4, null],
  ],
  uneven: [
    [0, 1, 0],
    [0, 0, 0],
  ],
  contours: [
    {
      level: null,
      between: ['3', 'uneven'],
      lines: [
        [
          [1500, 0.1],
          [1600, 0.2],
        ],
      ],
    },
  ],
  reasons: [{ reason: 'out never fell before 3 s', count: 1 }],
  sample: null,
  orders: [],
  share: 1,
  sentence: 'Made by hand.',
};

/** The sweep. */
export const sweep: SweepResult = {
  kind: 'sweep',
  ok: true,
  board: 'drawer',
  from: 0,
  until: 3,
  vary: { value: 'G1.wave.period', unit: 's', scale: 'linear', now: 0.15 },
  x: [0.15, 0.16, 0.17, 0.18],
  series: [
    { name: 'ratio', asked: 'ratio(out, in)', unit: null, values: [4, 4, 3, 3], reasons: {} },
    {
      name: 'width',
      asked: 'width(out)',
      unit: 's',
      values: [0.5, 0.5, 0.5, null],
      reasons: { '3': 'out never fell before 3 s' },
    },
  ],
  against: [],
  fates: { timer: 'U1', patterns: ['started, 3 ignored', 'started, 1 held, 2 ignored', 'started, 2 ignored', null] },
  marks: [
    {
      below: 0.165,
      above: 0.165,
      changes: [
        { what: 'ratio', name: 'ratio', below: '4', above: '3' },
        { what: 'fates', name: 'U1', below: 'started, 1 held, 2 ignored', above: 'started, 2 ignored' },
      ],
      valuesBelow: [4, 0.5],
      valuesAbove: [3, 0.5],
    },
  ],
  share: 1,
  sentence: 'Made by hand.',
};
