import { preferredMantissas, type Series, seriesNames } from '#sim/quantity/index.ts';
import published from '#shared/preferred-numbers.json';
import { describe, expect, test } from 'vitest';

describe('preferredMantissas', () => {
  test.each(seriesNames)('%s is the published list, whole numbers compared exactly', (series) => {
    // Sources stand beside each list in shared/preferred-numbers.json.
    expect(preferredMantissas(series)).toEqual(published.series[series].mantissas);
  });

  test('the published table holds these series and no others', () => {
    expect(Object.keys(published.series)).toEqual([...seriesNames]);
  });

  test.each(seriesNames)('%s has as many values as its name says, ascending, in one decade', (series) => {
    const values = preferredMantissas(series);
    expect(values).toHaveLength(Number(series.slice(1)));
    expect(values.every((value, index) => index === 0 || value > (values[index - 1] ?? 0))).toBe(true);
    expect((values.at(-1) ?? 0) / (values[0] ?? 0)).toBeLessThan(10);
  });

  test.each<[Series, Series]>([
    ['E3', 'E6'],
    ['E6', 'E12'],
    ['E12', 'E24'],
    ['E48', 'E96'],
    ['E96', 'E192'],
  ])('%s is every second value of %s', (coarse, fine) => {
    // IEC 60063 builds each series that way (common practice, no source).
    expect(preferredMantissas(coarse)).toEqual(preferredMantissas(fine).filter((_, index) => index % 2 === 0));
  });

  test('E192 has 920, the one value that is not a rounded power', () => {
    // From memory; the rule gives 100 * 10^(185/192) = 919.48, derived.
    expect(preferredMantissas('E192')[185]).toBe(920);
  });

  test('the list cannot be changed', () => {
    expect(Object.isFrozen(preferredMantissas('E12'))).toBe(true);
  });

  test('an unknown series is refused with the names of all', () => {
    expect(() => preferredMantissas('E13' as Series)).toThrow(
      'preferredMantissas: series must be one of E3, E6, E12, E24, E48, E96, E192; got E13.',
    );
    expect(() => preferredMantissas('toString' as Series)).toThrow(RangeError);
  });
});
