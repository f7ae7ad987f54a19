import { describe, expect, test } from 'vitest';
import type { IntervalFacts, PulseFacts } from '#sim/measure/pulse-facts.ts';
import { PulseRows } from '#sim/measure/pulse-rows.ts';

const at = (high: number): { high: number; low: number } => ({ high, low: 0 });

/** A pulse of 1 s that is over and known, at 2 V of 8 V. */
function pulse(time: number, facts: Partial<PulseFacts> = {}): PulseFacts {
  const known = { open: false, accepted: true, reset: false, threshold: 2, limit: 8 };
  return { time: at(time), end: at(time + 1), ...known, ...facts };
}

function interval(start: number, facts: Partial<IntervalFacts> = {}): IntervalFacts {
  return { start: at(start), found: 0, threshold: 0, limit: 8, ...facts };
}

describe('PulseRows', () => {
  test('has what is learned of a pulse after others have come: its end, its voltages, the ends of its intervals', () => {
    const rows = new PulseRows(10, () => '');
    const running = interval(0);
    const [starter, late, low, dark] = [
      pulse(0, { began: running }),
      pulse(2, { found: running }),
      pulse(4, { end: undefined }),
      pulse(6, { threshold: undefined, limit: undefined }),
    ];
    for (const each of [starter, late, low, dark, pulse(8), pulse(10)]) rows.add(each);
    running.end = at(5);
    low.end = at(5);
    rows.add(pulse(12));
    Object.assign(dark, { threshold: 3, limit: 9 });
    rows.add(pulse(14));
    const told = rows.rows().map((row) => [row.time, row.end, row.fate, row.interval, row.toGo, row.limit]);
    // Times taken from each other: the interval of 5 s, of which 3 s were left at 2 s.
    expect(told).toEqual([
      [0, 1, 'started', 5, undefined, 8],
      [2, 3, 'ignored', undefined, 3, 8],
      [4, 5, 'short', undefined, undefined, 8],
      [6, 7, 'short', undefined, undefined, 9],
      ...[8, 10, 12, 14].map((time) => [time, time + 1, 'short', undefined, undefined, 8]),
    ]);
  });

  test('says of each what is said of it when nothing can change any more, and of all others at the end', () => {
    const said: number[] = [];
    const rows = new PulseRows(10, ({ time }) => {
      said.push(time.high);
      return `at ${time.high}`;
    });
    const running = interval(2);
    rows.add(pulse(0));
    rows.add(pulse(2, { began: running }));
    rows.add(pulse(4));
    expect(said).toEqual([0]);
    expect(rows.rows().map(({ reason }) => reason)).toEqual(['at 0', 'at 2', 'at 4']);
  });

  test('lists as many as it may and counts the rest', () => {
    const rows = new PulseRows(2, () => '');
    rows.add(pulse(0));
    rows.add(pulse(2));
    expect(rows.isCut).toBe(false);
    rows.add(pulse(4));
    expect(rows.isCut).toBe(true);
    expect(rows.rows().map(({ time }) => time)).toEqual([0, 2]);
  });
});
