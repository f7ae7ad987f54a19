import { describe, expect, test } from 'vitest';
import { computed, documentOf, resultOf } from '../support/documents.ts';

/*
 * How many of a series of dividers keep their ratio: R of 5 % and C of 20 %, every value within its limits as likely as any other,
 * the interval meant for the middle of a ratio, T = (N - 1/2) Tin. The ratio is floor(T / Tin) + 1 (ideal family), so it is
 * kept while R C lies within 1 / (2 N - 1) of what is marked. Common practice, no source, to one of the last digit: 94 %, 71 %,
 * 55 % and 27 %.
 */
const cases: readonly (readonly [ratio: number, usual: number])[] = [
  [3, 0.94],
  [4, 0.71],
  [5, 0.55],
  [10, 0.27],
];
const [R_LIMIT, C_LIMIT] = [0.05, 0.2];
const PERIOD = 0.1;

/** The share that is kept, by an integral over R of the share of C that goes with it (closed form but for the sum). */
function keptShare(ratio: number): number {
  const margin = 1 / (2 * ratio - 1);
  const steps = 20_000;
  let sum = 0;
  for (let step = 0; step < steps; step++) {
    const r = 1 - R_LIMIT + (2 * R_LIMIT * (step + 0.5)) / steps;
    const low = Math.max((1 - margin) / r, 1 - C_LIMIT);
    const high = Math.min((1 + margin) / r, 1 + C_LIMIT);
    sum += Math.max(0, high - low) / (2 * C_LIMIT);
  }
  return sum / steps;
}

describe('a spread of a ratio', () => {
  test.each(cases)('keeps a ratio of %i in a share of %d', (ratio, usual) => {
    const expected = keptShare(ratio);
    expect(Math.abs(expected - usual)).toBeLessThan(0.01);
    const capacitance = 4.7e-6;
    const resistance = ((ratio - 0.5) * PERIOD) / (capacitance * Math.log(3));
    const values = {
      ...{ 'U1.family': 'ideal', R1: resistance, C1: capacitance, 'R1.tolerance': '5 %', 'C1.tolerance': '20 %' },
      ...{ 'G1.wave.period': PERIOD, 'G1.wave.width': '1 ms' },
    };
    const cell = {
      ...{ id: 'kits', kind: 'spread', board: 'counter', until: 6 * ratio * PERIOD, samples: 1500 },
      ...{ take: { ratio: 'ratio(out, in)' }, limits: { ratio: [ratio, ratio] } },
    };
    const board = { ready: 'frequency divider', values };
    const { readings } = resultOf(computed(documentOf({ counter: board }, [cell])), 'kits', 'spread');
    const { share = 0, confidence = [0, 0] } = readings[0]?.limits ?? {};
    // Four standard deviations of a count of 1500; the seed is fixed.
    expect(Math.abs(share - expected)).toBeLessThan(4 * Math.sqrt((expected * (1 - expected)) / 1500));
    expect(share).toBeGreaterThan(confidence[0]);
    expect(share).toBeLessThan(confidence[1]);
  });
});
