import { cursorState, eventTimes, laneReadout, startingTime } from '#notebook/chart/cursor.ts';
import { eventRows } from '#notebook/chart/event-rows.ts';
import { cursorWords, intervalWords, triggerWords } from '#notebook/chart/words.ts';
import { describe, expect, test } from 'vitest';
import { timing, trace } from './example-trace.ts';

const plain = (text: string): string => text.replaceAll('\u2009', ' ');

describe('laneReadout', () => {
  test('reads along the line of a column', () => {
    // The middle of the column from 1.5 s to 2 s, which rises from 2 V to 4 V; but a step of 2 V in a lane of 8 V is more
    // than can be told from a jump, so a finer lane is read here.
    const fine = { ...timing, first: [2], last: [2.1], low: [2], high: [2.1, 8] };
    expect(laneReadout(fine, { from: 0, until: 1 }, 0.5).low).toBeCloseTo(2.05, 12);
  });

  test('gives both ends where the signal jumps inside a column', () => {
    const jump = { ...timing, first: [8], last: [0], low: [0], high: [8] };
    const readout = laneReadout(jump, { from: 0, until: 1 }, 0.3);
    expect([readout.low, readout.high]).toEqual([0, 8]);
    expect(plain(readout.text)).toBe('0 V to 8.00 V');
  });

  test('shows as 0 what is too small beside the range of the lane', () => {
    const small = { ...timing, first: [2e-7], last: [2e-7], low: [2e-7], high: [2e-7, 12] };
    expect(plain(laneReadout(small, { from: 0, until: 1 }, 0).text)).toBe('0 V');
  });
});

describe('cursorState', () => {
  test('says which interval runs, which pulse is there, and what the output is', () => {
    const [timer] = cursorState(trace, 2.05).timers;
    expect(timer?.interval).toEqual({ from: 1, until: 3 });
    expect(timer?.pulse?.fate).toBe('ignored');
    expect(timer?.outputHigh).toBe(true);
  });

  test('an interval is over at the instant it ends', () => {
    const [timer] = cursorState(trace, 3).timers;
    expect(timer?.interval).toBeUndefined();
    expect(timer?.outputHigh).toBe(false);
  });

  test('keeps the cursor inside the window', () => {
    expect(cursorState(trace, -1).time).toBe(0);
    expect(cursorState(trace, 99).time).toBe(5);
  });
});

test('words say what the interval and the trigger do', () => {
  const [timer] = cursorState(trace, 2.05).timers;
  if (timer === undefined) throw new Error('the trace must have a timer');
  expect(plain(intervalWords(timer, 2.05))).toBe('runs, 950 ms to go');
  expect(plain(triggerWords(timer))).toBe('low since 2.00 s: ignored, interval running');
  expect(plain(cursorWords(cursorState(trace, 0.2)))).toBe('200.0 ms: in 12.0 V, timing 0 V, out 0 V, U1 output low');
});

test('eventTimes lists every instant once, in order', () => {
  expect(eventTimes(trace)).toEqual([0, 1, 1.1, 2, 2.1, 3, 4, 4.1]);
});

test('startingTime stands in the first interval that ends, else a third of the way', () => {
  expect(startingTime(trace)).toBeCloseTo(2.6, 12);
  expect(startingTime({ ...trace, timers: [] })).toBeCloseTo(5 / 3, 12);
});

test('eventRows tells at each instant everything that happens at it', () => {
  const { rows, cut } = eventRows(trace);
  expect(cut).toBe(false);
  expect(rows.map((row) => row.time)).toEqual(eventTimes(trace));
  expect(rows[1]?.what).toEqual([
    'in falls',
    'out rises',
    'U1: an input pulse came (started an interval)',
    'U1: an interval begins',
  ]);
});
