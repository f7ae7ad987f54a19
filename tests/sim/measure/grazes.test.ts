import { describe, expect, test } from 'vitest';
import { GrazeWatch } from '#sim/measure/grazes.ts';
import type { EventKind } from '#sim/trace/event.ts';
import type { Crossing } from '#sim/trace/observer.ts';
import { plain } from '../../support/circuit-issues.ts';

// A time is promised to 1e-12 of itself: what is off by more is told, what is off by that or less is not.

function crossing(time: number, offBy: number, more: { part?: string; kind?: EventKind } = {}): Crossing {
  return { part: 'U1', kind: 'thresholdOver', time, timeLow: 0, offBy, ...more };
}

function wordsOf(crossings: readonly Crossing[], prefix?: string): string[] {
  const watch = new GrazeWatch();
  for (const each of crossings) watch.crossing(each);
  return watch.words(prefix).map(plain);
}

describe('GrazeWatch', () => {
  test('says nothing where all times are as good as promised', () => {
    expect(wordsOf([])).toEqual([]);
    expect(wordsOf([crossing(1, 1e-12), crossing(1000, 1e-9)])).toEqual([]);
  });

  test('tells the worst one: part, pin, time and seconds', () => {
    expect(wordsOf([crossing(1, 1e-11), crossing(2, 3e-9), crossing(3, 2e-9)])).toEqual([
      'U1: THRESHOLD only just reaches its limit at 2.00 s. That time may be off by 3.00 ns, and the smallest change of a value moves it much further or takes it away.',
    ]);
  });

  test('of two that are off alike the first is told', () => {
    expect(wordsOf([crossing(1, 1e-9), crossing(2, 1e-9)])[0]).toContain('at 1.00 s');
  });

  test.each<[EventKind, string]>([
    ['triggerLow', 'TRIGGER'],
    ['resetHigh', 'RESET'],
    ['close', 'the base current'],
    ['accepted', 'a value of the part'],
  ])('%s is of %s', (kind, what) => {
    expect(wordsOf([crossing(1, 1e-9, { kind })])[0]).toContain(`U1: ${what} only just`);
  });

  test('names parts without the prefix where they have it', () => {
    expect(wordsOf([crossing(1, 1e-9, { part: 'b.U1' })], 'b.')[0]).toMatch(/^U1: /);
    expect(wordsOf([crossing(1, 1e-9, { part: 'a.U1' })], 'b.')[0]).toMatch(/^a\.U1: /);
  });

  test('repeated periods tell it nothing new', () => {
    const { periods } = new GrazeWatch();
    expect(periods.begin(1)).toBe(Infinity);
    expect(periods.repeat(3, { high: 1, low: 0 })).toBeUndefined();
  });
});
