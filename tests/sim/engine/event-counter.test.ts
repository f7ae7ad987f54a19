import { describe, expect, test } from 'vitest';
import { EventCounter } from '#sim/engine/event-counter.ts';

// 64 events at one instant, and 16 more for each thing that can switch, are let pass; the last 32 of them name their parts.

/** Counts so many events of one instant; whether each was let pass without a look. */
function atOnce(counter: EventCounter, count: number): boolean[] {
  return Array.from({ length: count }, () => counter.count(false));
}

describe('EventCounter', () => {
  test('counts the events of an instant, and anew when time has passed', () => {
    const counter = new EventCounter(1);
    counter.planLook({ maxEvents: 1e6 });
    expect(atOnce(counter, 3)).toEqual([true, true, true]);
    expect([counter.handled, counter.atOnce]).toEqual([3, 3]);
    expect(counter.count(true)).toBe(true);
    expect([counter.handled, counter.atOnce]).toEqual([4, 0]);
    counter.skipped = 100;
    expect(counter.total).toBe(104);
  });

  test('an instant with too many events is chatter, and asks for looks before it is', () => {
    const counter = new EventCounter(2);
    const limits = { maxEvents: 1e6 };
    counter.planLook(limits);
    // 64 + 2 16 = 96 are let pass, the last 32 with a look.
    expect(atOnce(counter, 64).every(Boolean)).toBe(true);
    expect(counter.nearLimit).toBe(false);
    expect(atOnce(counter, 32).some(Boolean)).toBe(false);
    expect(counter.nearLimit).toBe(true);
    expect(counter.verdict(limits)).toBeUndefined();
    counter.count(false);
    expect(counter.verdict(limits)).toBe('chatter');
  });

  test('a run has so many events and no more', () => {
    const counter = new EventCounter(1);
    const limits = { maxEvents: 3 };
    counter.planLook(limits);
    expect([1, 2, 3].map(() => counter.count(true))).toEqual([true, true, true]);
    expect(counter.verdict(limits)).toBeUndefined();
    expect(counter.count(true)).toBe(false);
    expect(counter.due).toBe(true);
    expect(counter.verdict(limits)).toBe('budget');
  });

  test('a look is due every 4096 events, and finds a wish to stop', () => {
    const counter = new EventCounter(1);
    const signal = { aborted: false };
    const limits = { maxEvents: 1e6, signal };
    counter.planLook(limits);
    for (let i = 1; i < 4096; i++) expect(counter.count(true)).toBe(true);
    expect(counter.due).toBe(false);
    expect(counter.count(true)).toBe(false);
    expect(counter.due).toBe(true);
    expect(counter.verdict(limits)).toBeUndefined();
    signal.aborted = true;
    expect(counter.verdict(limits)).toBe('stopped');
    counter.planLook(limits);
    expect(counter.due).toBe(false);
  });

  test('names the parts of the last 32 events noted, each once', () => {
    const counter = new EventCounter(1);
    counter.note('early');
    for (let i = 0; i < 16; i++) {
      counter.note('U1');
      counter.note('U2');
    }
    expect(counter.takingPart).toEqual(['U1', 'U2']);
    expect(new EventCounter(1).takingPart).toEqual([]);
  });
});
