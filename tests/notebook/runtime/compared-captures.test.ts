import { compared } from '#notebook/runtime/compared.ts';
import { describe, expect, test } from 'vitest';
import { capture } from '../../support/example-capture.ts';

describe('a measurement told against the one before', () => {
  const estimate = {
    name: 'C1',
    unit: 'F',
    value: 1.123e-5,
    marked: 1e-5,
    uncertainty: 2e-8,
    low: 1.11e-5,
    high: 1.13e-5,
  } as const;
  const fit = { estimates: [estimate], combinations: [], edgeResidual: null, sampleResidual: null };
  const now = { ...capture, fit, residuals: { edges: 0.012, samples: null } };

  test('says what was estimated before, and what was apart', () => {
    const other = { ...fit, estimates: [{ ...estimate, value: 1.2e-5, uncertainty: 3e-8 }] };
    const before = { ...now, fit: other, residuals: { edges: 0.034, samples: null } };
    const words = compared('bench', now, before)?.changed.map((each) => each.replaceAll('\u202f', ' '));
    expect(words).toEqual(['C1 11.23 µF ± 20 nF, was 12 µF ± 30 nF', 'edges apart by 12.0 ms, was 34.0 ms']);
  });

  test('says of a value that was not asked for, or not told, that it was not', () => {
    const without = compared('bench', now, { ...now, fit: null });
    expect(without?.changed[0]).toMatch(/was not estimated$/);
    const untold = { ...fit, estimates: [{ ...estimate, uncertainty: null, low: null, high: null }] };
    expect(compared('bench', now, { ...now, fit: untold })?.changed[0]).toMatch(/was not told$/);
  });

  test('of what is the same nothing has changed', () => {
    expect(compared('bench', now, structuredClone(now))?.changed).toEqual([]);
  });
});
