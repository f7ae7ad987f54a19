import { RollingTrace } from '#notebook/runtime/rolling-trace.ts';
import type { TraceSlice } from '#notebook/runtime/live-protocol.ts';
import { describe, expect, test } from 'vitest';

/** A page of 480 s in columns of one second, of a signal that is what its column is called. */
function rolling(): RollingTrace {
  return new RollingTrace(['timing'], 480);
}

function slice(first: number, count: number): TraceSlice {
  const numbers = Array.from({ length: count }, (_, index) => first + index);
  return { first, lanes: [{ first: numbers, last: numbers, low: numbers, high: numbers }] };
}

describe('RollingTrace', () => {
  test('fills its page from the left, and the page stands still till it is full', () => {
    const trace = rolling();
    expect(trace.wish).toEqual({ show: ['timing'], column: 1 });
    expect(trace.filled).toBeUndefined();
    for (let at = 0; at < 480; at += 8) {
      trace.take(slice(at, 8));
      expect(trace.page).toEqual({ from: 0, until: 480 });
    }
    expect(trace.filled).toMatchObject({ from: 0, until: 480 });
  });

  test('goes on by half a page, and keeps the half that is still to be seen', () => {
    const trace = rolling();
    for (let at = 0; at < 484; at += 4) trace.take(slice(at, 4));
    expect(trace.page).toEqual({ from: 240, until: 720 });
    expect(trace.filled).toMatchObject({ from: 240, until: 484 });
    expect(trace.filled?.lanes[0]?.first.slice(0, 2)).toEqual([240, 241]);
    expect(trace.ranges).toEqual([{ low: 0, high: 483 }]);
  });

  test('joins the column that two slices share', () => {
    const trace = rolling();
    trace.take({ first: 0, lanes: [{ first: [1], last: [2], low: [1], high: [2] }] });
    trace.take({ first: 0, lanes: [{ first: [2, 5], last: [-1, 6], low: [-1, 5], high: [3, 6] }] });
    expect(trace.filled?.lanes[0]).toEqual({ first: [1, 5], last: [-1, 6], low: [-1, 5], high: [3, 6] });
  });

  test('begins anew where a slice does not go on, back to the start and far ahead', () => {
    const trace = rolling();
    trace.take(slice(0, 300));
    trace.take(slice(100_000, 3));
    expect(trace.filled).toMatchObject({ from: 100_000, until: 100_003 });
    const { from, until } = trace.page;
    expect(from).toBeLessThanOrEqual(100_000);
    expect(until).toBeGreaterThanOrEqual(100_003);
    expect(until - from).toBe(480);
    trace.take(slice(0, 2));
    expect(trace.page).toEqual({ from: 0, until: 480 });
    expect(trace.filled).toMatchObject({ from: 0, until: 2 });
  });

  test('takes a slice longer than a page', () => {
    const trace = rolling();
    trace.take(slice(0, 2000));
    const { page, filled } = trace;
    expect(filled?.until).toBe(2000);
    expect(filled?.from).toBe(page.from);
    expect(page.until).toBeGreaterThanOrEqual(2000);
  });
});
