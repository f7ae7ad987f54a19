import { rankedFits } from '#sim/study/symptom-groups.ts';
import { describe, expect, test } from 'vitest';

describe('rankedFits(rows, seen)', () => {
  const fits = (rows: readonly (readonly (number | null)[])[], seen: readonly (number | null)[]) =>
    rankedFits(new Map(rows.entries()), new Map(seen.entries()));

  test('puts first what differs least, as a share of the larger value', () => {
    // 4 for 5 is off by a fifth, 10 for 5 by a half; no value where one was read is hopeless.
    expect(fits([[10], [4], [null], [5]], [5])).toEqual([
      { position: 3, off: 0 },
      { position: 1, off: 0.2 },
      { position: 0, off: 0.5 },
      { position: 2, off: 1 },
    ]);
  });

  test('takes the root of the mean square of several readings', () => {
    expect(fits([[5, 2, null]], [5, 1, null])[0]?.off).toBeCloseTo(Math.sqrt(0.5 ** 2 / 3), 12);
  });

  test('tells apart what is next to nothing and what is not, where 0 was read', () => {
    // Up to 2 % of the largest, 12 V, may read as 0: 30 mV is off by 0.03 / 0.24, and 1.7 V as far as can be.
    expect(fits([[1.7], [0.03], [-12], [0], [null]], [0])).toEqual([
      { position: 3, off: 0 },
      { position: 1, off: 0.125 },
      { position: 0, off: 1 },
      { position: 2, off: 1 },
      { position: 4, off: 1 },
    ]);
    expect(fits([[0], [null]], [0])).toEqual([
      { position: 0, off: 0 },
      { position: 1, off: 1 },
    ]);
  });
});
