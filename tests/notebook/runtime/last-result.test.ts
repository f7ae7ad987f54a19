import type { CellState } from '#notebook/runtime/cell-state.ts';
import { LastResult } from '#notebook/runtime/last-result.ts';
import { expect, test } from 'vitest';

const note = (text: string): NonNullable<CellState['shown']> => ({ kind: 'note', ok: true, quotes: { text } });
const [first, second, third] = [note('1'), note('2'), note('3')];
const current = (shown: NonNullable<CellState['shown']>): CellState => ({ shown, fault: undefined, phase: 'current' });
const waiting = (shown: NonNullable<CellState['shown']>): CellState => ({ shown, fault: undefined, phase: 'waiting' });

/** Steps of undo, told apart by being other objects. */
const [one, two, three] = [{}, {}, {}];

test('nothing came before a result that no step has followed', () => {
  const last = new LastResult();
  last.take(waiting(first), undefined);
  last.take(current(first), undefined);
  expect(last.before).toBeUndefined();
});

test('a step makes what was whole then the result before, until the next step', () => {
  const last = new LastResult();
  last.take(current(first), undefined);
  last.take(waiting(first), one);
  last.take(current(second), one);
  expect(last.before).toBe(first);
  last.take(waiting(second), two);
  last.take(current(third), two);
  expect(last.before).toBe(second);
});

test('a turn of a knob is one step, however many results it makes', () => {
  const last = new LastResult();
  last.take(current(first), undefined);
  for (const each of [second, third, second]) last.take(current(each), one);
  expect(last.before).toBe(first);
});

test('a step that leaves the result as it is has nothing before it', () => {
  const last = new LastResult();
  last.take(current(first), undefined);
  last.take(current(second), one);
  last.take(current(second), two);
  expect(last.before).toBeUndefined();
});

test('results in part, faulty ones and those from earlier values are not kept', () => {
  const last = new LastResult();
  last.take(current(first), undefined);
  last.take({ ...current(second), isPart: true }, one);
  last.take({ ...current(second), fault: { kind: 'note', ok: false, error: { message: '', where: '' } } }, one);
  last.take(waiting(second), one);
  last.take(waiting(second), two);
  last.take(current(third), three);
  expect(last.before).toBe(first);
});
