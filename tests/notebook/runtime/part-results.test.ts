import { arrived, isFromBefore, outdated, partArrived, stateOf, stopped } from '#notebook/runtime/cell-state.ts';
import type { CellResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const note = (text: string): CellResult => ({ kind: 'note', ok: true, quotes: { text } });
const waiting = outdated({}, ['a'], ['a']);

describe('partArrived', () => {
  test('shows what is computed so far, which is not from before', () => {
    const half = partArrived(waiting, 'a', note('half'));
    expect(stateOf(half, 'a')).toMatchObject({ shown: note('half'), phase: 'waiting', isPart: true });
    expect(isFromBefore(stateOf(half, 'a'))).toBe(false);
    expect(stateOf(partArrived(half, 'a', note('more')), 'a').shown).toEqual(note('more'));
  });

  test('leaves a whole result from before in place until the new one is whole', () => {
    const stale = outdated(arrived(waiting, 'a', note('old'), true), ['a'], ['a']);
    const half = partArrived(stale, 'a', note('half'));
    expect(stateOf(half, 'a').shown).toEqual(note('old'));
    expect(isFromBefore(stateOf(half, 'a'))).toBe(true);
    const whole = arrived(half, 'a', note('new'), true);
    expect(stateOf(whole, 'a')).toEqual({ shown: note('new'), fault: undefined, phase: 'current' });
  });

  test('stays a part when it is stopped, and is from before once values change', () => {
    const half = stopped(partArrived(waiting, 'a', note('half')));
    expect(stateOf(half, 'a')).toMatchObject({ shown: note('half'), phase: 'stopped', isPart: true });
    expect(isFromBefore(stateOf(outdated(half, ['a'], ['a']), 'a'))).toBe(true);
  });

  test('comes too late for a cell that is stopped or done', () => {
    const done = arrived(waiting, 'a', note('new'), true);
    expect(partArrived(done, 'a', note('half'))).toBe(done);
  });
});
