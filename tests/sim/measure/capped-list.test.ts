import { expect, test } from 'vitest';
import { CappedList, listOutcome } from '#sim/measure/capped-list.ts';

test('CappedList keeps its first entries and counts the rest', () => {
  const list = new CappedList<number>(2);
  for (const value of [4, 5, 6]) list.add(value);
  expect([list.entries, list.count]).toEqual([[4, 5], 3]);
});

test('CappedList keeps a hundred thousand where it is not told', () => {
  const list = new CappedList<number>();
  for (let i = 0; i <= 100_000; i++) list.add(i);
  expect([list.entries.length, list.count]).toEqual([100_000, 100_001]);
});

test('CappedList.visit() lets the count grow and shows the length as what must stay', () => {
  const list = new CappedList<number>(2);
  for (const value of [4, 5, 6]) list.add(value);
  const same: unknown[] = [];
  list.visit({
    sum: (value) => value + 10,
    date: (value) => value,
    same: (value) => void same.push(value),
    again: () => {},
    isNew: () => true,
  });
  expect(list.count).toBe(13);
  expect(same).toEqual([2]);
});

test('listOutcome() says where a list was cut, and only there', () => {
  const list = new CappedList<number>(2);
  list.add(4);
  list.add(5);
  expect(listOutcome(list, 's')).toEqual({ value: [4, 5], unit: 's' });
  list.add(6);
  expect(listOutcome(list, 's')).toEqual({
    value: [4, 5],
    unit: 's',
    reason: 'Only the first 2 of 3 entries are listed.',
  });
});
