import { beforeEach, describe, expect, test } from 'vitest';
import { FateTally } from '#sim/measure/fate-tally.ts';
import type { IntervalFacts, PulseFacts } from '#sim/measure/pulse-facts.ts';
import type { Range } from '#sim/measure/range.ts';
import type { Instant } from '#sim/trace/instant.ts';
import type { PeriodVisitor } from '#sim/trace/period-visitor.ts';

// All expected values are differences and counts of the facts given.

const at = (high: number): Instant => ({ high, low: 0 });

function pulse(time: number, facts: Partial<PulseFacts> = {}): PulseFacts {
  return { time: at(time), open: false, accepted: true, reset: false, ...facts };
}

function interval(start: number, facts: Partial<IntervalFacts> = {}): IntervalFacts {
  return { start: at(start), found: 0, ...facts };
}

/** What a range saw: how many, least, greatest. */
function seen({ count, low, high }: Range): number[] {
  return count === 0 ? [] : [count, low, high];
}

let tally: FateTally;
beforeEach(() => {
  tally = new FateTally({ from: 10, until: 100 });
});

describe('FateTally, pulses', () => {
  test('counts each fate, and the time from one pulse to the next', () => {
    const running = interval(10);
    const pulses = [
      pulse(11, { end: at(12), began: running }),
      pulse(14, { end: at(16), found: running }),
      pulse(15, { end: at(15.25), found: running, heldFor: 0.5 }),
      pulse(20, { end: at(20.125) }),
      pulse(21, { end: at(25), reset: true }),
    ];
    for (const each of pulses) {
      tally.pulse(each);
      tally.pulseClosed(each);
    }
    expect(tally.counts).toEqual({ started: 1, ignored: 1, held: 1, short: 1, barred: 1 });
    expect(tally.pulses).toBe(5);
    expect(seen(tally.spacings)).toEqual([4, 1, 5]);
    expect(seen(tally.widths)).toEqual([5, 0.125, 4]);
    expect(seen(tally.shortWidths)).toEqual([1, 0.125, 0.125]);
    expect(tally.openPulse).toBeUndefined();
  });

  test('keeps the pulse that the window leaves open, without a width', () => {
    const open = pulse(99, { open: true });
    tally.pulseClosed(open);
    expect(tally.openPulse).toBe(open);
    expect(seen(tally.widths)).toEqual([]);
    expect(seen(tally.shortWidths)).toEqual([]);
  });

  test('tells what starters held the output on from what others did', () => {
    tally.pulseClosed(pulse(11, { began: interval(11, { threshold: 0, limit: 8 }), heldFor: 2 }));
    tally.pulseClosed(pulse(11, { began: interval(11) }));
    tally.pulseClosed(pulse(12, { found: interval(11), heldFor: 3 }));
    expect(seen(tally.ownHolds)).toEqual([1, 2, 2]);
    expect(seen(tally.otherHolds)).toEqual([1, 3, 3]);
  });

  test('leaves out what a pulse held on whose interval was over before it began', () => {
    tally.pulseClosed(pulse(11, { began: interval(11, { threshold: 8, limit: 8 }), heldFor: 2 }));
    expect(seen(tally.ownHolds)).toEqual([]);
    expect(tally.counts.started).toBe(1);
  });
});

describe('FateTally, intervals', () => {
  test('counts the pulses from one start to the next, the later one included', () => {
    tally.pulse(pulse(10));
    for (const [start, pulses] of [
      [11, 3],
      [20, 2],
      [30, 0],
      [31, 1],
    ] as const) {
      tally.interval(interval(start));
      for (let i = 0; i < pulses; i++) tally.pulse(pulse(start + i));
    }
    // Two starts with no pulse between them, as when RESET is released, are no step.
    tally.interval(interval(40));
    expect(tally.intervals).toBe(5);
    expect(seen(tally.steps)).toEqual([3, 1, 3]);
  });

  test('counts only intervals that begin in the window, its first instant included', () => {
    const early = interval(9.5, { cause: 'release', end: at(12), byReset: true, threshold: 1, limit: 8 });
    tally.interval(early);
    tally.intervalClosed(early);
    expect([tally.intervals, tally.begunByRelease, tally.cutByReset]).toEqual([0, 0, 0]);
    expect(tally.firstStart).toBeUndefined();
    const first = interval(10, { cause: 'release', end: at(12), byReset: true });
    tally.interval(first);
    tally.intervalClosed(first);
    expect([tally.intervals, tally.begunByRelease, tally.cutByReset]).toEqual([1, 1, 1]);
    // What RESET cut short has no length.
    expect(seen(tally.lengths)).toEqual([]);
  });

  test('keeps the interval that still runs at the end, one from before the window too', () => {
    const early = interval(5);
    tally.intervalClosed(early);
    expect(tally.running).toBe(early);
    const late = interval(50);
    tally.interval(late);
    tally.intervalClosed(late);
    expect(tally.running).toBe(late);
    expect(seen(tally.lengths)).toEqual([]);
    expect(tally.cutByReset).toBe(0);
  });

  test('tells the first length from later ones, and from start to end from start to when it ran out', () => {
    for (const facts of [
      interval(11, { over: at(13), end: at(14), found: 2 }),
      interval(20, { end: at(25), found: 1 }),
      interval(30, { over: at(37), end: at(39), byReset: true, found: 0 }),
      interval(50, { over: at(54) }),
    ]) {
      tally.interval(facts);
      tally.intervalClosed(facts);
    }
    expect(tally.firstLength).toBe(2);
    expect(seen(tally.lengths)).toEqual([4, 2, 7]);
    expect(seen(tally.later)).toEqual([3, 4, 7]);
    expect(seen(tally.spans)).toEqual([3, 3, 9]);
    expect(seen(tally.found)).toEqual([4, 0, 2]);
    expect(tally.cutByReset).toBe(1);
  });

  test('tells where THRESHOLD stood at the first start from where it stood at later ones', () => {
    for (const facts of [
      interval(11, { end: at(12), threshold: 2, limit: 8 }),
      interval(20, { end: at(21), threshold: 4, limit: 8 }),
      interval(30, { end: at(31), threshold: 1, limit: 4 }),
      interval(40, { end: at(41), threshold: -1, limit: 0 }),
      interval(50, { end: at(51), threshold: 1 }),
      interval(60, { end: at(61), limit: 8 }),
    ]) {
      tally.interval(facts);
      tally.intervalClosed(facts);
    }
    expect(tally.firstStart).toBe(0.25);
    expect(seen(tally.laterStarts)).toEqual([2, 0.25, 0.5]);
    expect(seen(tally.laterVoltages)).toEqual([2, 1, 4]);
  });

  test('keeps apart what began before THRESHOLD was down', () => {
    for (const facts of [
      interval(11, { end: at(12), threshold: 3, limit: 8, rest: 0 }),
      interval(20, { end: at(25), threshold: 3, limit: 8, rest: 3 }),
    ]) {
      tally.interval(facts);
      tally.intervalClosed(facts);
    }
    expect(seen(tally.soonVoltages)).toEqual([1, 3, 3]);
    expect(seen(tally.soonLengths)).toEqual([1, 1, 1]);
    expect(seen(tally.otherLengths)).toEqual([1, 5, 5]);
  });

  test('puts an interval that had nothing to wait for among the untimed ones alone', () => {
    const facts = interval(11, { end: at(13), threshold: 9, limit: 8, rest: 0 });
    tally.interval(facts);
    tally.intervalClosed(facts);
    expect(seen(tally.untimed)).toEqual([1, 2, 2]);
    for (const range of [tally.lengths, tally.soonVoltages, tally.laterStarts]) expect(seen(range)).toEqual([]);
    expect(tally.firstStart).toBeUndefined();
    // Nothing is told of one that has not ended.
    const open = interval(20, { threshold: 9, limit: 8 });
    tally.interval(open);
    tally.intervalClosed(open);
    expect(seen(tally.untimed)).toEqual([1, 2, 2]);
    expect(seen(tally.laterStarts)).toEqual([1, 9 / 8, 9 / 8]);
  });
});

test('FateTally.visit() lets all counts grow, moves the last pulse, and shows what must stay the same', () => {
  const same: unknown[] = [];
  const visitor: PeriodVisitor = {
    sum: (value) => value + 1000,
    date: (value) => (value === undefined ? value : { ...value, high: value.high + 7 }),
    same: (value) => void same.push(value),
    again: () => {},
    isNew: () => true,
  };
  tally.pulse(pulse(11));
  const first = interval(12, { over: at(14), end: at(14), threshold: 2, limit: 8 });
  tally.interval(first);
  tally.intervalClosed(first);
  tally.pulse(pulse(15));
  tally.visit(visitor);
  expect(tally.counts).toEqual({ started: 1000, held: 1000, ignored: 1000, short: 1000, barred: 1000 });
  expect([tally.pulses, tally.intervals, tally.cutByReset, tally.begunByRelease]).toEqual([1002, 1001, 1000, 1000]);
  expect([tally.lengths.count, tally.lengths.total]).toEqual([1001, 1002]);
  // The first length and start, and that pulses are counted from the last start on.
  expect(same.slice(0, 3)).toEqual([2, 0.25, false]);
  // The last pulse lies at 15 + 7 now.
  tally.pulse(pulse(26));
  expect(tally.spacings.high).toBe(4);
  // One pulse had come since the last start, then a thousand more, then the one at 26.
  tally.interval(interval(27));
  expect(tally.steps.high).toBe(1002);
});

test('FateTally.visit() before the first start says that there was none', () => {
  const same: unknown[] = [];
  const sums: number[] = [];
  const sum = (value: number): number => {
    sums.push(value);
    return value;
  };
  tally.visit({
    sum,
    date: (value) => value,
    same: (value) => void same.push(value),
    again: () => {},
    isNew: () => true,
  });
  expect(same.slice(0, 3)).toEqual([undefined, undefined, true]);
  // What has not begun to be counted is no sum: it would keep periods from being counted.
  expect(sums.filter((value) => !Number.isFinite(value))).toEqual([]);
  tally.interval(interval(12));
  expect(seen(tally.steps)).toEqual([]);
});
