import { fatesDrawing } from '#sim/chart/fate-drawing.ts';
import type { FateMark } from '#sim/chart/fate-marks.ts';
import type { Shape } from '#sim/chart/shape.ts';
import { describe, expect, test } from 'vitest';

const mark = (fate: FateMark['fate'], x: number, width: number): FateMark => ({ fate, x, width, count: 1, first: 0 });

/** Left and right ends (pixels) of the marks of a fate as they are drawn, outlines of 0.8 px on both sides included. */
function ends(marks: readonly FateMark[], fate: string): (readonly [number, number])[] {
  const row = fatesDrawing(marks, 10).find((each): each is Shape => each?.given['class'] === `fate ${fate}`);
  return [...String(row?.given['d'] ?? '').matchAll(/M(\S+) \S+h([\d.]+)v/g)].map(([, x, width]) => {
    const left = Number(x) - 0.8;
    return [left, left + Number(width) + 1.6] as const;
  });
}

describe('fatesDrawing', () => {
  test('a thousand marks of two fates are two elements', () => {
    const marks = Array.from({ length: 1000 }, (_, index) =>
      mark(index % 4 === 0 ? 'started' : 'ignored', 10 * index, 5),
    );
    const drawn = fatesDrawing(marks, 0).filter((each) => each !== undefined);
    expect(drawn.map((each) => each.given['class'])).toEqual(['fate started', 'fate ignored']);
    expect(ends(marks, 'started')).toHaveLength(250);
    expect(ends(marks, 'ignored')).toHaveLength(750);
  });

  test('marks with room are drawn whole, those that run into the next one up to its beginning', () => {
    const marks = [mark('started', 0, 5), mark('ignored', 4, 6), mark('started', 20, 5), mark('ignored', 21, 5)];
    // Where there is less room than an outline takes, the outline stays: 2.6 px.
    const near = (pairs: (readonly [number, number])[]) =>
      pairs.map((pair) => pair.map((each) => Number(each.toFixed(2))));
    expect(near(ends(marks, 'started'))).toEqual([
      [0, 4],
      [20, 22.6],
    ]);
    expect(near(ends(marks, 'ignored'))).toEqual([
      [4, 10],
      [21, 26],
    ]);
  });
});
