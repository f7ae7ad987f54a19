import { workedAfter, WorkQueue } from '#notebook/runtime/work-queue.ts';
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

test('a hand adds what it works to what is worked already, and takes out what it lets go', () => {
  const pressed = workedAfter(new Set(['F1']), { part: 'S1', pressed: true });
  expect([...pressed]).toEqual(['F1', 'S1']);
  expect([...workedAfter(pressed, { part: 'F1', pressed: false })]).toEqual(['S1']);
});
