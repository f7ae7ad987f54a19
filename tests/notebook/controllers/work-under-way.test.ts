import { WorkUnderWay } from '#notebook/controllers/work-under-way.ts';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

test('work that takes longer than a blink is told once, and forgotten once nothing is left', () => {
  const onLong = vi.fn();
  const work = new WorkUnderWay(onLong);
  work.begin('cells');
  work.begin('studies');
  // A blink is 250 ms here, common practice.
  vi.advanceTimersByTime(249);
  expect(work.takesLong).toBe(false);
  vi.advanceTimersByTime(1);
  expect(work.takesLong).toBe(true);
  expect(onLong).toHaveBeenCalledTimes(1);
  expect(work.rest('cells')).toBe(false);
  expect(work.takesLong).toBe(true);
  expect(work.rest('studies')).toBe(true);
  expect(work.takesLong).toBe(false);
});

test('work that ends or is stopped within a blink is never told', () => {
  const onLong = vi.fn();
  const work = new WorkUnderWay(onLong);
  work.begin('cells');
  expect(work.rest('cells')).toBe(true);
  work.begin('studies');
  work.end();
  vi.advanceTimersByTime(1000);
  expect(onLong).not.toHaveBeenCalled();
});
