import { type StripLane, traceScene } from '#notebook/chart/scene.ts';
import { describe, expect, test } from 'vitest';
import { timing, trace } from './example-trace.ts';

const scene = traceScene(trace, 900);
const strip = scene.lanes.find((lane): lane is StripLane => lane.kind === 'strip');

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
    expect(strip?.bars.map((bar) => bar.label?.replace('\u2009', ' '))).toEqual(['2.00 s', undefined]);
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
    expect(analog.limits[0]?.label.replace('\u2009', ' ')).toBe('threshold limit 8.00 V');
    expect(analog.shaded).toBeUndefined();
  });

  test('the span between both limits of one timer is shaded', () => {
    const both = {
      ...timing,
      limits: [...timing.limits, { timer: 'U1', name: 'trigger limit' as const, value: 4, moves: false }],
    };
    const [lane] = traceScene({ ...trace, lanes: [both] }, 900).lanes;
    if (lane?.kind !== 'analog') throw new Error('the lane must be analog');
    expect(lane.shaded?.top).toBeCloseTo(lane.y(8), 1);
    expect(lane.shaded?.bottom).toBeCloseTo(lane.y(4), 1);
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
