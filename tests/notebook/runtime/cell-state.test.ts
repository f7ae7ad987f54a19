import {
  arrived,
  type CellStates,
  isFromBefore,
  outdated,
  partArrived,
  progressed,
  stateOf,
  stopped,
  waiting,
} from '#notebook/runtime/cell-state.ts';
import type { CellResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const good = (text: string): CellResult => ({ kind: 'note', ok: true, quotes: { text } });
const bad: CellResult = { kind: 'note', ok: false, error: { message: 'R1: resistance must ...', where: 'R1' } };
const start: CellStates = outdated({}, ['a', 'b'], ['a', 'b']);

describe('the state of a cell', () => {
  test('waits at first and is current once its result is there', () => {
    expect(waiting(start)).toEqual(['a', 'b']);
    const states = arrived(start, 'a', good('one'), true);
    expect(stateOf(states, 'a')).toEqual({ shown: good('one'), fault: undefined, phase: 'current' });
    expect(waiting(states)).toEqual(['b']);
  });

  test('keeps its last good result when the present values give none, and says so', () => {
    const states = arrived(arrived(start, 'a', good('one'), true), 'a', bad, true);
    expect(stateOf(states, 'a').shown).toEqual(good('one'));
    expect(stateOf(states, 'a').fault).toEqual(bad);
    expect(isFromBefore(stateOf(states, 'a'))).toBe(true);
  });

  test('forgets the fault once there is a good result again', () => {
    const states = arrived(arrived(start, 'a', bad, true), 'a', good('two'), true);
    expect(stateOf(states, 'a')).toEqual({ shown: good('two'), fault: undefined, phase: 'current' });
  });

  test('shows a result that a newer edit has overtaken, and goes on waiting', () => {
    const states = arrived(start, 'a', good('one'), false);
    expect(stateOf(states, 'a').shown).toEqual(good('one'));
    expect(waiting(states)).toContain('a');
  });

  test('reports progress only while it waits', () => {
    expect(stateOf(progressed(start, 'a', 0.5), 'a').progress).toBe(0.5);
    const done = arrived(start, 'a', good('one'), true);
    expect(progressed(done, 'a', 0.5)).toBe(done);
  });

  test('stopping keeps good results and marks only what waited', () => {
    const states = stopped(arrived(start, 'a', good('one'), true));
    expect(stateOf(states, 'a').phase).toBe('current');
    expect(stateOf(states, 'b').phase).toBe('stopped');
  });

  test('a state that an edit leaves alone stays the very same, so that its cell need not be drawn anew', () => {
    const done = arrived(arrived(start, 'a', good('one'), true), 'b', good('two'), true);
    const after = outdated(done, ['b'], ['a', 'b']);
    expect(after['a']).toBe(done['a']);
    expect(after['b']).toEqual({ shown: good('two'), fault: undefined, phase: 'waiting' });
    // How far a computation was says nothing of the next one.
    expect(outdated(progressed(after, 'b', 0.5), ['b'], ['b'])['b']).not.toHaveProperty('progress');
  });

  test('outdated drops cells that left the page', () => {
    expect(Object.keys(outdated(start, [], ['b']))).toEqual(['b']);
  });

  test('what is still told of a cell that has left the page leaves nothing waiting for it', () => {
    const left = outdated(start, [], ['b']);
    expect(progressed(left, 'a', 0.5)).toBe(left);
    expect(partArrived(left, 'a', good('half'))).toBe(left);
    expect(arrived(left, 'a', good('one'), false)).toBe(left);
  });
});
