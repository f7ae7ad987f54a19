import { describe, expect, test } from 'vitest';
import { type LatestLevels, LatestStretch } from '#sim/measure/latest-levels.ts';
import { charging, type MadeSignal, play } from '../../support/made-run.ts';

/** A stretch of THRESHOLD and its limit, of which so much counts (s). */
interface Made {
  readonly threshold: MadeSignal | number;
  readonly limit: MadeSignal | number;
  readonly counts?: number;
}

/** What is said after stretches of 1 s. */
function after(...stretches: readonly Made[]): LatestLevels | undefined {
  const latest = new LatestStretch();
  const left = [...stretches];
  play(
    {
      nets: ['threshold', 'limit'],
      steps: stretches.map(({ threshold, limit }) => ({ length: 1, signals: { threshold, limit } })),
    },
    { segment: (segment) => latest.take(segment, 0, 1, left.shift()!.counts ?? segment.length) },
  );
  return latest.levels;
}

describe('LatestStretch.levels', () => {
  test('are none before the first stretch', () => {
    expect(new LatestStretch().levels).toBeUndefined();
  });

  test('are those at the end of what counts of the latest stretch', () => {
    const first: Made = { threshold: 1, limit: 2 };
    expect(after(first, { threshold: { slope: 4 }, limit: { constant: 8, slope: -2 } })).toEqual({
      threshold: 4,
      limit: 6,
    });
    expect(after(first, { threshold: { slope: 4 }, limit: 8, counts: 0.25 })).toEqual({ threshold: 1, limit: 8 });
  });

  test('say where both are heading if THRESHOLD never passes its limit', () => {
    const levels = after({ threshold: charging(0, 6, 1), limit: charging(9, 8, 1) })!;
    expect(levels.threshold).toBeCloseTo(6 * (1 - Math.exp(-1)), 14);
    expect(levels.never).toEqual({ threshold: 6, limit: 8 });
    // The limit itself is only approached.
    expect(after({ threshold: charging(0, 8, 1), limit: 8 })!.never).toEqual({ threshold: 8, limit: 8 });
  });

  test('do not say so where it does pass, if only by a share of 1e-10 in the end or for a while', () => {
    expect(after({ threshold: charging(0, 12, 1), limit: 8 })).not.toHaveProperty('never');
    expect(after({ threshold: charging(0, 8 * (1 + 1e-10), 1), limit: 8 })).not.toHaveProperty('never');
    // 7 + 8 (x - x^2), x = exp(-t), is 9 V at its highest and ends at 7 V.
    const hump: MadeSignal = {
      constant: 7,
      terms: [
        [8, 1],
        [-8, 2],
      ],
    };
    expect(after({ threshold: hump, limit: 8 })).not.toHaveProperty('never');
    expect(after({ threshold: 1, limit: 8 }, { threshold: hump, limit: 8 })).not.toHaveProperty('never');
  });

  test('do not say so where either runs away on a ramp', () => {
    expect(after({ threshold: { slope: -1 }, limit: 8 })).not.toHaveProperty('never');
    expect(after({ threshold: 1, limit: { constant: 8, slope: 1 } })).not.toHaveProperty('never');
  });
});
