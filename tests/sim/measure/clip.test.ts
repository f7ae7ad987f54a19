import { expect, test } from 'vitest';
import { clip } from '#sim/measure/clip.ts';
import type { SegmentView } from '#sim/trace/frame.ts';

function segment(start: number, length: number, startLow = 0): SegmentView {
  return { start, startLow, length } as SegmentView;
}

// Local times are the window's less the segment's start.
test('clip() gives the local times between which a segment lies in a window', () => {
  const window = { from: 10, until: 20 };
  expect(clip(segment(12, 4), window)).toEqual({ begin: 0, end: 4 });
  expect(clip(segment(7, 5), window)).toEqual({ begin: 3, end: 5 });
  expect(clip(segment(18, 5), window)).toEqual({ begin: 0, end: 2 });
  expect(clip(segment(5, 50), window)).toEqual({ begin: 5, end: 15 });
});

test('clip() gives nothing for a segment outside, one that only touches the window, and one without length', () => {
  const window = { from: 10, until: 20 };
  for (const [start, length] of [
    [1, 4],
    [5, 5],
    [20, 5],
    [30, 5],
    [12, 0],
  ] as const) {
    expect(clip(segment(start, length), window)).toBeUndefined();
  }
});

test('clip() takes the low part of the start into account', () => {
  expect(clip(segment(8, 50, 0.25), { from: 10, until: 20 })).toEqual({ begin: 1.75, end: 11.75 });
});
