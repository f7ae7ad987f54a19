import { formerLines } from '#notebook/chart/former-lines.ts';
import { traceScene } from '#sim/chart/trace-scene.ts';
import { expect, test } from 'vitest';
import { timing, trace } from '../../support/example-trace.ts';

const scene = traceScene(trace, 900);
const [lane] = scene.lanes;

test('a line that changed lies over its lane, where it was', () => {
  const half = timing.first.map(() => 4);
  const former = { ...trace, lanes: [{ ...timing, first: half, last: half, low: half, high: half }] };
  if (lane?.kind !== 'analog') throw new Error('the first lane must be analog');
  const y = Math.round(lane.y(4) * 100) / 100;
  expect(formerLines(scene, former)).toEqual([expect.stringContaining(` ${y}`)]);
});

test('a line that is as before, one that would leave its lane, and nets that are not shown have none', () => {
  expect(formerLines(scene, trace)).toEqual([]);
  const high = timing.high.map(() => 30);
  expect(formerLines(scene, { ...trace, lanes: [{ ...timing, high }] })).toEqual([]);
  expect(formerLines(scene, { ...trace, lanes: [] })).toEqual([]);
});
