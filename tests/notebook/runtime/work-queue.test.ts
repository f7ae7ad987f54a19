import { WorkQueue } from '#notebook/runtime/work-queue.ts';
import { expect, test } from 'vitest';

test('a press and its end are never done before the same slice; other parts do not wait', () => {
  const queue = new WorkQueue();
  queue.add({ part: 'S1', pressed: true });
  queue.add({ part: 'S1', pressed: false });
  queue.add({ part: 'F1', pressed: true });
  queue.add({ part: 'S1', pressed: true });
  expect(queue.take()).toEqual([
    { part: 'S1', pressed: true },
    { part: 'F1', pressed: true },
  ]);
  expect(queue.take()).toEqual([{ part: 'S1', pressed: false }]);
  queue.clear();
  expect(queue.take()).toEqual([]);
});
