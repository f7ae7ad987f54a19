import {
  captureTables,
  estimatedValues,
  estimateStrip,
  explanationValue,
  sampleWords,
} from '#notebook/chart/capture-words.ts';
import { describe, expect, test } from 'vitest';
import { capture } from '../../support/example-capture.ts';

describe('words and values of a capture', () => {
  test('sampleWords tells what was measured, what was predicted and how far they are apart', () => {
    expect(sampleWords(capture, 1)).toBe(
      'timing 2\u2009V, predicted 2.5\u2009V, 500\u2009mV apart; out 10\u2009V, predicted 10\u2009V, 0\u2009V apart',
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

  test('explanationValue names the value of the board that an explanation is about', () => {
    const [first] = capture.explanations;
    const as = (kind: 'leakage' | 'probe' | 'supply') => explanationValue({ ...first!, kind, part: 'C1' });
    expect(explanationValue(first!)).toEqual({ name: 'C1', unit: 'F', value: 12e-6 });
    expect(as('leakage')?.name).toBe('C1.leakage');
    expect(as('supply')?.name).toBe('C1');
    // A load is no value of the board.
    expect(as('probe')).toBeUndefined();
  });

  test('captureTables tell edges, samples and explanations', () => {
    const [edges, samples, explained] = captureTables(capture);
    expect(edges?.rows[0]).toEqual(['4.5\u2009s', 'timing', 'low', '300\u2009ms', '3.5\u2009s', '-1\u2009s']);
    expect(samples?.rows).toHaveLength(7);
    expect(samples?.rows[6]).toEqual(['6\u2009s', '0\u2009V', '–', '0\u2009V', '–']);
    expect(explained?.rows[0]).toEqual(['1', 'capacitance of C1', '12\u2009µF', '10\u2009µF', 'explains all of it']);
  });
});
