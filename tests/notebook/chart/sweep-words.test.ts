import { sweepStopWords, sweepTables } from '#notebook/chart/sweep-words.ts';
import { sweepScene } from '#sim/chart/sweep-scene.ts';
import { describe, expect, test } from 'vitest';
import { sweep } from '../../support/example-studies.ts';

describe('sweepStopWords', () => {
  const { stops } = sweepScene(sweep, 760);
  const words = (index: number) => {
    const stop = stops[index];
    if (stop === undefined) throw new Error('the stop must exist');
    return sweepStopWords(sweep, stop);
  };

  test('tells the readings of a point and what becomes of its pulses', () => {
    expect(words(0)).toEqual({
      place: 'G1 period 150\u202fms',
      value: 'ratio 4, width 500\u202fms',
      more: 'Pulses at U1: started, 3 ignored.',
    });
  });

  test('names both sides of a jump', () => {
    expect(words(2)).toMatchObject({
      value: 'ratio from 4 to 3; pulses at U1 from “started, 1 held, 2 ignored” to “started, 2 ignored”',
      more: 'Below: ratio 4, width 500\u202fms. Above: ratio 3, width 500\u202fms.',
    });
  });
});

describe('sweepTables', () => {
  test('has the points with the reason where there is no value, and the jumps', () => {
    const [points, jumps] = sweepTables(sweep);
    expect(points?.rows.at(-1)).toEqual(['180\u202fms', '3', 'out never fell before 3 s', '–']);
    expect(jumps?.rows).toHaveLength(1);
    expect(jumps?.rows[0]?.[0]).toBe('165\u202fms');
  });
});
