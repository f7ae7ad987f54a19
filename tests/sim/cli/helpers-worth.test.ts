import { HelpersWorth } from '#sim/cli/helpers-worth.ts';
import { describe, expect, test } from 'vitest';

// How much work is worth the start of a thread is a choice of ours: 2 s for each thread.
describe('HelpersWorth', () => {
  /** Looks at short jobs of the same length, until enough is known of them. */
  function lookAgain(processors: number, left: number): number {
    const worth = new HelpersWorth(processors, 0);
    expect(worth.at(500, 100, left + 100, 0)).toBe(0);
    return worth.at(1000, 200, left, 0);
  }

  test('leaves work that is soon over to the thread that is there', () => {
    const worth = new HelpersWorth(8, 1000);
    // 100 of 700 jobs in 0.6 s, then another 100: 3 s are left; then 250 in 1 s: 1 s is left.
    expect(worth.at(1600, 100, 600, 0)).toBe(0);
    expect(worth.at(2200, 200, 500, 0)).toBe(0);
    expect(worth.at(3200, 450, 250, 0)).toBe(0);
  });

  test('has as many help as have enough to do, and no more than there are processors', () => {
    // 100 jobs in 0.5 s, so 5 ms each: 900 more take 4.5 s, enough for two threads; 8000 take 40 s, enough for 20.
    expect(lookAgain(8, 900)).toBe(1);
    expect(lookAgain(8, 8000)).toBe(7);
    expect(lookAgain(2, 8000)).toBe(1);
    expect(lookAgain(1, 8000)).toBe(0);
  });

  test('does not take first jobs, whose code is being compiled, for what all jobs take', () => {
    // As it was measured with 10 000 samples in 400 jobs: more and more jobs in every half second.
    const worth = new HelpersWorth(8, 0);
    for (const [now, done] of [
      [500, 25],
      [1000, 70],
      [1500, 140],
      [2000, 250],
    ] as const) {
      expect(worth.at(now, done, 4000 - done, 0)).toBe(0);
    }
    // Now as many as in the half second before: 3640 jobs of 4.5 ms take 16.5 s.
    expect(worth.at(2500, 360, 3640, 0)).toBe(7);
  });

  test('looks at a single long job at once, and at short ones only after a while', () => {
    expect(new HelpersWorth(4, 0).at(2000, 1, 9, 0)).toBe(3);
    const worth = new HelpersWorth(4, 0);
    expect(worth.at(450, 1, 99, 0)).toBe(0);
    // Two jobs in 0.8 s, so 0.4 s each: not yet taken for what a job takes; the next two tell.
    expect(worth.at(800, 2, 98, 0)).toBe(0);
    expect(worth.at(1600, 4, 96, 0)).toBe(3);
  });

  test('goes by what jobs took lately, and sends nobody away', () => {
    const worth = new HelpersWorth(8, 0);
    // One job in 1 s and 4 left: 4 s, two threads.
    expect(worth.at(1000, 1, 4, 0)).toBe(1);
    // The next one took 6 s: 3 take 18 s, enough for all eight.
    expect(worth.at(7000, 2, 3, 1)).toBe(7);
    expect(worth.at(8000, 5, 0, 7)).toBe(7);
  });
});
