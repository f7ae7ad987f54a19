import { traceScene } from '#sim/chart/trace-scene.ts';
import type { StripLane } from '#sim/chart/strip-lane.ts';
import { describe, expect, test } from 'vitest';
import { timing, trace } from '../../support/example-trace.ts';

const scene = traceScene(trace, 900);
const strip = scene.lanes.find((lane): lane is StripLane => lane.kind === 'strip');

/** The points of path data, as pixels. */
function pointsOf(path: string | undefined): number[][] {
  return (path ?? '').split(/[MLZ]/).flatMap((point) => (point === '' ? [] : [point.split(' ').map(Number)]));
}

/** Path data has hundredths of pixels. */
function rounded(pixels: number): number {
  return Math.round(pixels * 100) / 100;
}

describe('traceScene', () => {
  test('trigger and output of a timer stand together in one strip below the analog lane', () => {
    expect(scene.lanes.map((lane) => lane.kind)).toEqual(['analog', 'strip']);
    expect(strip?.trigger).toBe('in');
    expect(strip?.output).toBe('out');
  });

  test('an interval covers exactly the marks of the pulses that came while it ran', () => {
    const [first] = strip?.intervals ?? [];
    const covered = strip?.marks.filter(
      (mark) => mark.x >= (first?.x ?? 0) && mark.x < (first?.x ?? 0) + (first?.width ?? 0),
    );
    expect(covered?.map((mark) => mark.fate)).toEqual(['started', 'ignored']);
  });

  test('every started pulse, and no other, is joined to the output pulse it made', () => {
    expect(strip?.links).toHaveLength(2);
    const [x] =
      /^M([\d.]+)/
        .exec(strip?.links[1] ?? '')
        ?.slice(1)
        .map(Number) ?? [];
    // One pixel inside the mark, so that the line meets its body.
    expect(x).toBeCloseTo(scene.x(4) + 1, 1);
  });

  test('a complete output pulse carries its width, one cut off by the window does not', () => {
    expect(strip?.bars.map((bar) => bar.label?.replace('\u202f', ' '))).toEqual(['2.00 s', undefined]);
  });

  test('an interval that outlasts the window reaches its end', () => {
    const last = strip?.intervals.at(-1);
    expect((last?.x ?? 0) + (last?.width ?? 0)).toBeCloseTo(scene.right, 1);
  });

  test('the threshold limit lies where its voltage lies, with its name and value', () => {
    const [analog] = scene.lanes;
    if (analog?.kind !== 'analog') throw new Error('the first lane must be analog');
    expect(analog.limits).toHaveLength(1);
    expect(analog.limits[0]?.at).toBeCloseTo(analog.y(8), 1);
    expect(analog.limits[0]?.label.replace('\u202f', ' ')).toBe('threshold limit 8.00 V');
    expect(analog.shaded).toBeUndefined();
  });

  test('the span between both limits of one timer is shaded', () => {
    const both = {
      ...timing,
      limits: [...timing.limits, { timer: 'U1', name: 'trigger limit' as const, value: 4, moves: false }],
    };
    const [lane] = traceScene({ ...trace, lanes: [both] }, 900).lanes;
    if (lane?.kind !== 'analog') throw new Error('the lane must be analog');
    const ys = pointsOf(lane.shaded).flatMap(([, y]) => y ?? []);
    expect(Math.min(...ys)).toBeCloseTo(lane.y(8), 1);
    expect(Math.max(...ys)).toBeCloseTo(lane.y(4), 1);
  });

  test('labels stand on the far side of the limits between which a capacitor swings', () => {
    const both = {
      ...timing,
      limits: [...timing.limits, { timer: 'U1', name: 'trigger limit' as const, value: 4, moves: false }],
    };
    const [lane] = traceScene({ ...trace, lanes: [both] }, 900).lanes;
    if (lane?.kind !== 'analog') throw new Error('the lane must be analog');
    const [upper, lower] = lane.limits;
    expect(upper?.labelFoot).toBeLessThan(lane.y(8));
    expect(lower?.labelFoot).toBeGreaterThan(lane.y(4));
  });

  test('a limit that moves is drawn as it moves, and so is the span it bounds', () => {
    const level = (values: readonly number[]) => ({ first: values, last: values, low: values, high: values });
    const stepped = [9, 9, 9, 9, 9, 6, 6, 6, 6, 6];
    const moving = {
      ...timing,
      limits: [
        { timer: 'U1', name: 'threshold limit' as const, value: 7.5, moves: true, course: level(stepped) },
        {
          timer: 'U1',
          name: 'trigger limit' as const,
          value: 3.75,
          moves: true,
          course: level(stepped.map((value) => value / 2)),
        },
      ],
    };
    const { lanes, x } = traceScene({ ...trace, lanes: [moving] }, 900);
    const [lane] = lanes;
    if (lane?.kind !== 'analog') throw new Error('the lane must be analog');
    const line = lane.limits.find(({ label }) => label.startsWith('threshold'));
    // Ten columns of half a second: 9 V until 2.5 s, then 6 V.
    expect(pointsOf(line?.path)).toEqual(
      [
        [0, 9],
        [2.5, 9],
        [2.5, 6],
        [5, 6],
      ].map(([time = 0, volts = 0]) => [rounded(x(time)), rounded(lane.y(volts))]),
    );
    expect(line?.label.replaceAll('\u202f', ' ')).toBe('threshold limit 6.00 V to 9.00 V');
    expect(pointsOf(lane.shaded)).toContainEqual([rounded(x(2.5)), rounded(lane.y(3))]);
  });

  test('the upright axis has room for all of a limit that moves', () => {
    const values = [20, 20, 20, 20, 20, 6, 6, 6, 6, 6];
    const course = { first: values, last: values, low: values, high: values };
    const limits = [{ timer: 'U1', name: 'threshold limit' as const, value: 13, moves: true, course }];
    const [lane] = traceScene({ ...trace, lanes: [{ ...timing, limits }] }, 900).lanes;
    if (lane?.kind !== 'analog') throw new Error('the lane must be analog');
    expect(lane.y(20)).toBeGreaterThan(lane.top);
  });

  test('labels of limits that lie close to each other do not overprint', () => {
    const limits = [7.9, 8, 8.1].map((value, index) => ({
      timer: `U${index}`,
      name: 'threshold limit' as const,
      value,
      moves: false,
    }));
    const [lane] = traceScene({ ...trace, lanes: [{ ...timing, limits }] }, 900).lanes;
    if (lane?.kind !== 'analog') throw new Error('the lane must be analog');
    const places = lane.limits.map(({ labelFoot }) => labelFoot).sort((a, b) => a - b);
    // 12 pixels is the size of their type.
    places.slice(1).forEach((at, index) => expect(at - (places[index] ?? 0)).toBeGreaterThanOrEqual(12));
  });

  test('a part of the run keeps lanes and upright axes, and cuts everything off at the edges of the plot', () => {
    const part = traceScene(trace, 900, { from: 1.5, until: 2.5 });
    expect(part.lanes.map((lane) => lane.kind)).toEqual(scene.lanes.map((lane) => lane.kind));
    expect(part.x(1.5)).toBe(part.left);
    const [analog, lane] = part.lanes;
    if (analog?.kind !== 'analog' || lane?.kind !== 'strip') throw new Error('lanes must stay what they are');
    expect(analog.ticks).toEqual(scene.lanes[0]?.kind === 'analog' ? scene.lanes[0].ticks : []);
    expect(lane.marks.map(({ fate }) => fate)).toEqual(['ignored']);
    // The output pulse from 1 s to 3 s fills the view, and still says how long it is.
    expect(lane.bars).toEqual([
      expect.objectContaining({ x: part.left, width: part.right - part.left, label: '2.00\u202fs' }),
    ]);
    expect(lane.intervals).toEqual([{ x: part.left, width: part.right - part.left }]);
  });

  test('a detail is drawn where its window lies, with the lanes and axes of the whole', () => {
    const columns = { first: [2, 3], last: [3, 4], low: [2, 3], high: [3, 4] };
    const flat = { ...timing, ...columns, role: 'logic' as const };
    const detail = { ...trace, from: 1.5, until: 2, columns: 2, lanes: [flat] };
    const part = traceScene(detail, 900, { from: 1.5, until: 2 }, trace);
    const [lane] = part.lanes;
    if (lane?.kind !== 'analog') throw new Error('the lane must stay analog');
    expect(pointsOf(lane.path)[0]).toEqual([part.left, rounded(lane.y(2))]);
    expect(pointsOf(lane.path).at(-1)).toEqual([part.right, rounded(lane.y(4))]);
  });

  test('a timer that starts itself has no strip: its output is a lane of its own', () => {
    const timers = trace.timers.map((timer) => ({ ...timer, trigger: 'timing' }));
    const kinds = traceScene({ ...trace, timers }, 900).lanes.map((lane) => lane.kind);
    expect(kinds).toEqual(['logic', 'analog', 'logic']);
  });

  test('on a narrow page the names stand above the lanes, and nothing is wider than the page', () => {
    const narrow = traceScene(trace, 358);
    expect(narrow.narrow).toBe(true);
    expect(narrow.right).toBeLessThanOrEqual(358);
    // The labels of the upright axis stand beside the lane, not in it.
    expect(narrow.left).toBeGreaterThan(8);
    expect(narrow.lanes[0]?.top).toBeGreaterThan(scene.lanes[0]?.top ?? Infinity);
  });

  test('lanes do not overlap', () => {
    for (const width of [358, 900]) {
      const { lanes } = traceScene(trace, width);
      lanes.slice(1).forEach((lane, index) => {
        expect(lane.top).toBeGreaterThan(lanes[index]?.bottom ?? Infinity);
      });
    }
  });
});
