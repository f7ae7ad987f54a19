import {
  captureTables,
  estimatedValues,
  estimateStrip,
  explanationChange,
  sampleWords,
} from '#notebook/chart/capture-words.ts';
import { describe, expect, test } from 'vitest';
import { capture } from '../../support/example-capture.ts';

describe('words and values of a capture', () => {
  test('sampleWords tells what was measured, what was predicted and how far they are apart', () => {
    expect(sampleWords(capture, 1)).toBe(
      'timing 2\u202fV, predicted 2.5\u202fV, 500\u202fmV apart; out 10\u202fV, predicted 10\u202fV, 0\u202fV apart',
    );
    expect(sampleWords(capture, 6)).toContain('nothing predicted');
  });

  test('estimatedValues gives the board only what the measurement tells', () => {
    expect(estimatedValues(capture)).toEqual([{ name: 'C1', unit: 'F', value: 12e-6 }]);
  });

  test('estimateStrip lays limits, value and what is stated along one line', () => {
    const strip = estimateStrip(capture.fit!.estimates[0]!);
    expect(strip?.marked).toBeLessThan(strip?.from ?? 0);
    expect(strip?.value).toBeCloseTo(((strip?.from ?? 0) + (strip?.to ?? 0)) / 2, 9);
    expect(estimateStrip(capture.fit!.estimates[1]!)).toBeUndefined();
  });

  test('explanationChange says what is done to the board so that an explanation is tried', () => {
    const [first] = capture.explanations;
    const as = (kind: 'leakage' | 'probe' | 'supply') => explanationChange({ ...first!, kind, part: 'C1' });
    expect(explanationChange(first!)).toEqual([{ name: 'C1', unit: 'F', value: 12e-6 }]);
    expect(as('leakage')).toMatchObject([{ name: 'C1.leakage' }]);
    expect(as('supply')).toMatchObject([{ name: 'C1' }]);
    // A load is an instrument at a net.
    expect(as('probe')).toEqual({ net: 'C1', resistance: 12e-6 });
    const family = { ...first!, kind: 'family' as const, part: 'U1', family: 'cmos', value: null };
    expect(explanationChange(family)).toEqual([{ name: 'U1.family', unit: null, value: 'cmos' }]);
    expect(explanationChange({ ...first!, value: null })).toBeUndefined();
  });

  test('captureTables tell edges, samples and explanations', () => {
    const [edges, samples, explained] = captureTables(capture);
    expect(edges?.rows[0]).toEqual(['4.5\u202fs', 'timing', 'low', '300\u202fms', '3.5\u202fs', '−1\u202fs']);
    const same = captureTables({ ...capture, edges: [{ ...capture.edges[0]!, residual: 0 }] });
    expect(same[0]?.rows[0]?.at(-1)).toBe('none');
    expect(samples?.rows).toHaveLength(7);
    expect(samples?.rows[6]).toEqual(['6\u202fs', '0\u202fV', '–', '0\u202fV', '–']);
    expect(explained?.rows[0]).toEqual(['1', 'capacitance of C1', '12\u202fµF', '10\u202fµF', 'explains all of it']);
  });
});
