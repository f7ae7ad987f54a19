import { spansFromColumns, spansFromEdges } from '#sim/chart/high-spans.ts';
import type { Lane } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const window = { from: 0, until: 10 };

describe('spansFromEdges', () => {
  test('a rise and a fall make a complete span; one cut off by the window is not complete', () => {
    const spans = spansFromEdges(
      [
        { time: 2, to: 'high' },
        { time: 5, to: 'low' },
        { time: 8, to: 'high' },
      ],
      false,
      window,
    );
    expect(spans).toEqual([
      { from: 2, until: 5, complete: true },
      { from: 8, until: 10, complete: false },
    ]);
  });

  test('a net that is high where the window begins is high from there, and its width is not known', () => {
    expect(spansFromEdges([{ time: 3, to: 'low' }], true, window)).toEqual([{ from: 0, until: 3, complete: false }]);
  });

  test('a rise at the very start counts as an edge', () => {
    const edges = [
      { time: 0, to: 'high' as const },
      { time: 3, to: 'low' as const },
    ];
    expect(spansFromEdges(edges, true, window)).toEqual([{ from: 0, until: 3, complete: true }]);
  });

  test('a net that never moves has no span, or one over all of the window', () => {
    expect(spansFromEdges([], false, window)).toEqual([]);
    expect(spansFromEdges([], true, window)).toEqual([{ from: 0, until: 10, complete: false }]);
  });
});

test('spansFromColumns tells columns that are high from those with more pulses than can be drawn', () => {
  const lane: Lane = {
    show: 'out',
    unit: 'V',
    role: 'logic',
    first: [],
    last: [],
    low: [0, 12, 12, 0, 0],
    high: [0, 12, 12, 12, 0],
    limits: [],
  };
  expect(spansFromColumns({ ...lane, first: lane.low }, 6, window)).toEqual([
    { from: 2, until: 6, complete: false },
    { from: 6, until: 8, complete: false, crowded: true },
  ]);
});
