import { beforeEach, describe, expect, test } from 'vitest';
import { BeatClock } from '#sim/engine/one-state-clock.ts';
import type { Beat } from '#sim/signal/beat.ts';

// Stretch k of a beat begins at delay + k period. All times are exact in binary.

const beat = (more: Partial<Beat> = {}): Beat => ({
  rest: 0,
  raised: 5,
  period: 1,
  width: 0.25,
  delay: 0,
  count: Infinity,
  ...more,
});

let clock: BeatClock;
beforeEach(() => {
  clock = new BeatClock();
});

function begin(of: Beat | undefined, until = 100): BeatClock {
  clock.begin(of, until);
  return clock;
}

describe('BeatClock.begin()', () => {
  test('begins raised where the first pulse comes at once', () => {
    expect(begin(beat())).toMatchObject({ raised: true, stretch: 0, corner: 0.25, base: 0, left: 100 });
    expect(clock.now + 0).toBe(0);
  });

  test('begins at rest before a delay; times count from the end of the delay', () => {
    const begun = begin(beat({ delay: 3 }));
    expect(begun).toMatchObject({ raised: false, stretch: -1, now: -3, corner: 0, base: 3, left: 97 });
  });

  test('never goes to the other level without pulses, or without a beat', () => {
    expect(begin(beat({ count: 0 }))).toMatchObject({ raised: false, stretch: -1, corner: Infinity });
    expect(begin(beat({ count: 0, delay: 1 }))).toMatchObject({ raised: false, corner: Infinity });
    expect(begin(undefined)).toMatchObject({ raised: false, corner: Infinity, base: 0, left: 100 });
    expect(clock.now + 0).toBe(0);
  });
});

describe('BeatClock.turn()', () => {
  test('goes from level to level; times count from the beginning of each further stretch', () => {
    begin(beat({ delay: 3 }));
    expect(clock.turn()).toBe(false);
    expect(clock).toMatchObject({ raised: true, stretch: 0, corner: 0.25, base: 3 });
    expect(clock.turn()).toBe(false);
    expect(clock).toMatchObject({ raised: false, stretch: 0, corner: 1 });
    clock.now = 1;
    expect(clock.turn()).toBe(true);
    expect(clock).toMatchObject({ raised: true, stretch: 1, corner: 0.25, now: 0, base: 4, left: 96 });
  });

  test('rests for good after the last pulse', () => {
    begin(beat({ count: 2 }));
    clock.turn();
    expect(clock.corner).toBe(1);
    clock.turn();
    clock.turn();
    expect(clock).toMatchObject({ raised: false, stretch: 1, corner: Infinity });
  });
});

describe('BeatClock: stretches to come', () => {
  test('begin at delay + k period', () => {
    begin(beat({ delay: 3, period: 2 }));
    clock.turn();
    expect([clock.start(0), clock.start(1), clock.start(4)]).toEqual([3, 5, 11]);
    clock.passOver(10);
    expect(clock).toMatchObject({ stretch: 10, base: 23, left: 77 });
    expect(clock.start(1)).toBe(25);
  });

  test('are there as long as the beat has one more', () => {
    begin(beat({ count: 10 }));
    expect(clock.hasStretchesFor(8)).toBe(true);
    expect(clock.hasStretchesFor(9)).toBe(false);
    clock.passOver(3);
    expect(clock.hasStretchesFor(5)).toBe(true);
    expect(clock.hasStretchesFor(6)).toBe(false);
    expect(begin(undefined).hasStretchesFor(0)).toBe(false);
  });

  test('have time where one more of them ends before the run does', () => {
    begin(beat(), 10);
    expect(clock.hasTimeFor({ stretches: 8, length: 0 })).toBe(true);
    expect(clock.hasTimeFor({ stretches: 9, length: 0 })).toBe(false);
    begin(beat({ count: 5 }), 10);
    expect(clock.hasTimeFor({ stretches: 3, length: 0 })).toBe(true);
    expect(clock.hasTimeFor({ stretches: 4, length: 0 })).toBe(false);
  });

  test('fit so many times into what is left, with one to spare for what rounding does to dates', () => {
    begin(beat(), 100);
    // 99 s from the next stretch on, one of them to spare.
    expect(clock.timesFor(1)).toBe(98);
    expect(clock.timesFor(3)).toBe(32);
    begin(beat({ count: 12 }), 100);
    // Of 12 stretches the present one, and one more.
    expect(clock.timesFor(1)).toBe(10);
    clock.passOver(4);
    expect(clock.timesFor(2)).toBe(3);
    begin(beat({ period: 4, delay: 8 }), 100);
    clock.turn();
    expect(clock.timesFor(1)).toBe((100 - 12) / 4 - 1);
  });
});

describe('BeatClock without a beat', () => {
  test('counts from where it is told to, in two parts', () => {
    begin(undefined, 8);
    clock.now = 1;
    clock.countFromNow();
    expect(clock).toMatchObject({ now: 0, passed: 1, base: 1, left: 7 });
    // 2^-60 s more are too little for the first part, and are not lost.
    for (let k = 0; k < 2 ** 8; k++) {
      clock.now = 2 ** -60;
      clock.countFromNow();
    }
    expect(clock.base).toBe(1 + 2 ** -52);
    clock.now = 2;
    clock.countFromNow();
    expect(clock).toMatchObject({ base: 3, passed: 2 });
    expect(clock.start(5)).toBe(clock.base);
  });

  test('has less left by what the second part holds', () => {
    begin(undefined, 2 ** -10);
    clock.now = 2 ** -11;
    clock.countFromNow();
    clock.now = 2 ** -65;
    clock.countFromNow();
    expect(clock.base).toBe(2 ** -11);
    expect(clock.left).toBe(2 ** -11 - 2 ** -65);
  });

  test('has time for what ends before the run does, by the date as well', () => {
    begin(undefined, 8);
    clock.now = 3;
    clock.countFromNow();
    expect(clock.hasTimeFor({ stretches: 0, length: 4 })).toBe(true);
    expect(clock.hasTimeFor({ stretches: 0, length: 5 })).toBe(false);
    expect(clock.hasTimeFor({ stretches: 0, length: 6 })).toBe(false);
  });

  test('goes on by the length of a turn, with a beat by its stretches', () => {
    begin(undefined, 8);
    clock.passTurn({ stretches: 7, length: 3 });
    expect(clock).toMatchObject({ base: 3, passed: 3, left: 5 });
    begin(beat(), 8);
    clock.passTurn({ stretches: 3, length: 7 });
    expect(clock).toMatchObject({ base: 3, stretch: 3, left: 5 });
  });
});
