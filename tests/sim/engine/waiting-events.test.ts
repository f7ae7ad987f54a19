import { beforeEach, describe, expect, test } from 'vitest';
import { WaitingEvents } from '#sim/engine/waiting-events.ts';

// Times are those given, all of them exact in binary.

let waiting: WaitingEvents;
beforeEach(() => {
  // Reactor 0 has two slots, reactor 1 one.
  waiting = new WaitingEvents([2, 1]);
  waiting.now = 1;
});

/** Takes all out: reactor, event and when. */
function taken(): [number, number, number][] {
  const all: [number, number, number][] = [];
  while (waiting.next < Infinity) {
    const time = waiting.next;
    waiting.take();
    all.push([waiting.reactor, waiting.event, time]);
  }
  return all;
}

describe('WaitingEvents', () => {
  test('has none at first', () => {
    expect(waiting.next).toBe(Infinity);
    expect(taken()).toEqual([]);
  });

  test('come in the order of time, whatever slot they wait in', () => {
    waiting.schedule(0, 0, 2, 10);
    waiting.schedule(1, 0, 0.5, 20);
    waiting.schedule(0, 1, 1, 30);
    expect(waiting.next).toBe(1.5);
    expect(taken()).toEqual([
      [1, 20, 1.5],
      [0, 30, 2],
      [0, 10, 3],
    ]);
  });

  test('of one time, those of earlier reactors and slots come first', () => {
    waiting.schedule(1, 0, 1, 20);
    waiting.schedule(0, 1, 1, 30);
    waiting.schedule(0, 0, 1, 10);
    expect(taken().map(([, event]) => event)).toEqual([10, 30, 20]);
  });

  test('of one slot come in the order in which they were scheduled, none before the one ahead of it', () => {
    waiting.schedule(0, 0, 2, 10);
    waiting.schedule(0, 0, 1, 11);
    waiting.schedule(0, 0, 3, 12);
    expect(taken()).toEqual([
      [0, 10, 3],
      [0, 11, 3],
      [0, 12, 4],
    ]);
  });

  test('are cancelled by slot, all that wait in it', () => {
    waiting.schedule(0, 0, 1, 10);
    waiting.schedule(0, 0, 2, 11);
    waiting.schedule(0, 1, 3, 30);
    waiting.schedule(1, 0, 4, 20);
    waiting.cancel(0, 0);
    expect(waiting.next).toBe(4);
    waiting.cancel(0, 0);
    expect(taken().map(([, event]) => event)).toEqual([30, 20]);
    waiting.schedule(0, 1, 1, 31);
    waiting.cancel(0, 1);
    waiting.schedule(1, 0, 1, 21);
    waiting.cancel(1, 0);
    expect(waiting.next).toBe(Infinity);
  });

  test('keep their distance when the clock is set back, those behind the first of a slot too', () => {
    waiting.schedule(0, 0, 2, 10);
    waiting.schedule(0, 0, 4, 11);
    waiting.schedule(1, 0, 3, 20);
    waiting.setBack(1);
    expect(waiting.next).toBe(2);
    expect(taken().map(([, , time]) => time)).toEqual([2, 3, 4]);
  });

  test('a clock that is set back with nothing waiting leaves nothing to come', () => {
    waiting.setBack(1);
    expect(waiting.next).toBe(Infinity);
  });

  test('are all gone once cleared, and others may come', () => {
    waiting.schedule(0, 0, 2, 10);
    waiting.schedule(1, 0, 1, 20);
    waiting.clear();
    expect(waiting.next).toBe(Infinity);
    waiting.schedule(0, 1, 1, 30);
    expect(taken()).toEqual([[0, 30, 2]]);
    waiting.clear();
    expect(waiting.next).toBe(Infinity);
  });
});
