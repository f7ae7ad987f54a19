import { FormerLines } from '#notebook/chart/former-lines.ts';
import { traceScene } from '#sim/chart/trace-scene.ts';
import type { TraceResult } from '#sim/document/index.ts';
import { expect, test } from 'vitest';
import { timing, trace } from '../../support/example-trace.ts';

const scene = traceScene(trace, 900);

/** Lines over the scene, each laid out anew. */
const formerLines = (former: TraceResult): string[] => new FormerLines().over(scene, former);

/** The trace as it would be with its capacitor at this voltage throughout. */
function levelAt(voltage: number): TraceResult {
  const level = timing.first.map(() => voltage);
  return { ...trace, lanes: [{ ...timing, first: level, last: level, low: level, high: level }] };
}

/** Where a voltage lies in the first lane (pixels). */
function placeOf(voltage: number, { lanes: [drawn] } = scene): number {
  if (drawn?.kind !== 'analog') throw new Error('the first lane must be analog');
  return Math.round(drawn.y(voltage) * 100) / 100;
}

test('a line that changed lies over its lane, where it was', () => {
  expect(formerLines(levelAt(4))).toEqual([expect.stringContaining(` ${placeOf(4)}`)]);
});

test('a line that is as before, one that would leave its lane, and nets that are not shown have none', () => {
  expect(formerLines(trace)).toEqual([]);
  const high = timing.high.map(() => 30);
  expect(formerLines({ ...trace, lanes: [{ ...timing, high }] })).toEqual([]);
  expect(formerLines({ ...trace, lanes: [] })).toEqual([]);
});

test('a line follows its lane to another place and another scale, and comes back with it', () => {
  const lines = new FormerLines();
  const former = levelAt(4);
  const before = lines.over(scene, former);
  const wider = traceScene(trace, 1200);
  const raised = { ...timing, limits: [{ ...timing.limits[0]!, value: 10 }] };
  const other = traceScene({ ...trace, lanes: [raised] }, 900);
  for (const each of [wider, other]) {
    expect(lines.over(each, former)).toEqual(new FormerLines().over(each, former));
    expect(lines.over(each, former)).not.toEqual(before);
  }
  expect(placeOf(4, other)).not.toBe(placeOf(4));
  expect(lines.over(scene, former)).toEqual(before);
});

test('of a line that goes up and down within a few pixels its bounds are left, the rest stays a line', () => {
  // 400 columns over as many times two pixels: for the first half from 1 V to 7 V in each of them, then still at 4 V.
  const course = (dense: number): number[] => Array.from({ length: 400 }, (_, column) => (column < 200 ? dense : 4));
  const [low, high] = [course(1), course(7)];
  const former = { ...trace, columns: 400, lanes: [{ ...timing, first: low, last: low, low, high }] };
  const [line = '', ...others] = formerLines(former);
  expect(others).toEqual([]);
  const strokes = line.split('M').slice(1);
  const heights = strokes.map((stroke) => new Set(stroke.split('L').map((point) => Number(point.split(' ')[1]))));
  expect(heights).toEqual([7, 1, 4].map((voltage) => new Set([placeOf(voltage)])));
  const ends = strokes.map((stroke) =>
    [stroke, stroke.split('L').at(-1)].map((point) => Number.parseFloat(point ?? '')),
  );
  const middle = (scene.left + scene.right) / 2;
  expect(ends).toEqual([
    [scene.left, expect.closeTo(middle, 1)],
    [scene.left, expect.closeTo(middle, 1)],
    [expect.closeTo(middle, 1), scene.right],
  ]);
});
