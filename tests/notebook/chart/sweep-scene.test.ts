import { nearestStop, sweepScene } from '#notebook/chart/sweep-scene.ts';
import { sweepStopWords, sweepTables } from '#notebook/chart/sweep-words.ts';
import { describe, expect, test } from 'vitest';
import { sweep } from './example-studies.ts';

describe('sweepScene', () => {
  const scene = sweepScene(sweep, 760);

  test('readings of one unit share a panel, others stand below', () => {
    expect(scene.panels.map(({ lines }) => lines.map(({ name }) => name))).toEqual([['ratio'], ['width']]);
    expect(scene.panels.map(({ unitWords }) => unitWords)).toEqual(['', 'milliseconds']);
  });

  test('a line is broken at a jump, and ends where there is no value', () => {
    const [ratio, width] = scene.panels.map(({ lines }) => lines[0]);
    expect(ratio?.path.match(/M/g)).toHaveLength(2);
    expect(width?.path.match(/M/g)).toHaveLength(1);
    expect(width?.dots).toHaveLength(3);
  });

  test('from a jump to a point that differs there is only a bridge', () => {
    const ramp = sweep.series.map((each) => (each.name === 'width' ? { ...each, values: [0.5, 0.5, 0.9, 0.9] } : each));
    const [, width] = sweepScene({ ...sweep, series: ramp }, 760).panels.map(({ lines }) => lines[0]);
    expect(width?.bridges).toMatch(/^M[\d.]+ [\d.]+L[\d.]+ [\d.]+$/);
  });

  test('the regions between jumps stand in rows above, pulses as one fate each', () => {
    const [ratio, fates] = scene.strips;
    expect(ratio?.regions.map(({ text }) => text)).toEqual(['4', '3']);
    expect(fates?.regions.map(({ pulses }) => pulses)).toEqual([
      ['started', 'ignored', 'ignored', 'held'],
      ['started', 'ignored', 'ignored'],
    ]);
    expect(ratio?.regions[0]).toMatchObject({ from: scene.left, isUneven: false });
    expect(ratio?.regions[0]?.until).toBeCloseTo(scene.x.scale(0.165), 1);
  });

  test('the cursor stops at points and at both sides of jumps; a pointer near a jump means the jump', () => {
    expect(scene.stops.map(({ mark }) => mark)).toEqual([undefined, undefined, 0, 0, undefined, undefined]);
    expect(scene.stops[nearestStop(scene, scene.x.scale(0.165) + 3, 5)]?.mark).toBe(0);
    expect(scene.stops[nearestStop(scene, scene.x.scale(0.162), 5)]?.point).toBe(1);
  });

  test('where the board stands is marked if it is in the range', () => {
    expect(scene.now).toBe(scene.x.scale(0.15));
    expect(sweepScene({ ...sweep, vary: { ...sweep.vary, now: 0.3 } }, 760).now).toBeUndefined();
  });

  test('a reading that hardly changes is not blown up', () => {
    const [, width] = scene.panels;
    const { scale } = width?.axis ?? scene.x;
    // A share of 1 % of the value stays well under the height of the panel.
    expect(Math.abs(scale(0.505) - scale(0.5))).toBeLessThan(((width?.bottom ?? 0) - (width?.top ?? 0)) * 0.6);
  });
});

describe('sweepStopWords', () => {
  const { stops } = sweepScene(sweep, 760);
  const words = (index: number) => {
    const stop = stops[index];
    if (stop === undefined) throw new Error('the stop must exist');
    return sweepStopWords(sweep, stop);
  };

  test('tells the readings of a point and what becomes of its pulses', () => {
    expect(words(0)).toEqual({
      place: 'G1.wave.period 150\u2009ms',
      value: 'ratio 4, width 500\u2009ms',
      more: 'Pulses at U1: started, 3 ignored.',
    });
  });

  test('names both sides of a jump', () => {
    expect(words(2)).toMatchObject({
      value: 'ratio from 4 to 3; pulses at U1 from “started, 1 held, 2 ignored” to “started, 2 ignored”',
      more: 'Below: ratio 4, width 500\u2009ms. Above: ratio 3, width 500\u2009ms.',
    });
  });
});

describe('sweepTables', () => {
  test('has the points with the reason where there is no value, and the jumps', () => {
    const [points, jumps] = sweepTables(sweep);
    expect(points?.rows.at(-1)).toEqual(['180\u2009ms', '3', 'out never fell before 3 s', '–']);
    expect(jumps?.rows).toHaveLength(1);
    expect(jumps?.rows[0]?.[0]).toBe('165\u2009ms');
  });
});
