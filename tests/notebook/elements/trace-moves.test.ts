import { idleTools, KEY_STEP, keyMove, viewWith } from '#notebook/elements/trace-moves.ts';
import { expect, test } from 'vitest';
import { trace } from '../../support/example-trace.ts';

const { from, until } = trace;
const whole = { from, until };
const part = { from: from + (until - from) / 4, until: from + (until - from) / 2 };
const key = (name: string, shiftKey = false) => ({ key: name, shiftKey });

test('arrow keys move the cursor by a share of what is looked at, ten times as far with Shift', () => {
  const step = (part.until - part.from) * KEY_STEP;
  expect(keyMove(key('ArrowRight'), trace, part, 2)).toEqual({ time: 2 + step });
  expect(keyMove(key('ArrowLeft', true), trace, part, 2)).toEqual({ time: 2 - 10 * step });
});

test('page keys go from event to event, and nowhere beyond the last', () => {
  // The first interval of the example runs from 1 s to 3 s.
  expect(keyMove(key('PageUp'), trace, whole, 1.05)).toEqual({ time: 1 });
  expect(keyMove(key('PageDown'), trace, whole, until)).toEqual({ time: undefined });
});

test('keys of the view use its tools; others mean nothing', () => {
  expect(keyMove(key('+'), trace, whole, 1)).toEqual({ tool: 'closer' });
  expect(keyMove(key('0'), trace, whole, 1)).toEqual({ tool: 'whole' });
  expect(keyMove(key('x'), trace, whole, 1)).toBeUndefined();
});

test('looking closer keeps the cursor in view where it is in view, else the middle', () => {
  const closer = viewWith('closer', whole, whole, until);
  expect(closer.until).toBe(until);
  const middle = viewWith('closer', part, whole, until);
  expect((middle.from + middle.until) / 2).toBeCloseTo((part.from + part.until) / 2, 12);
  expect(viewWith('whole', part, whole, undefined)).toEqual(whole);
  expect(viewWith('earlier', part, whole, undefined).from).toBeLessThan(part.from);
});

test('tools are idle that would change nothing', () => {
  expect([...idleTools(whole, whole, false)].sort()).toEqual(['earlier', 'later', 'whole', 'wider']);
  expect([...idleTools(part, whole, true)]).toEqual(['csv']);
});
