import { nearestStop, sweepScene } from '#sim/chart/sweep-scene.ts';
import { describe, expect, test } from 'vitest';
import { sweep } from '../../support/example-studies.ts';

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

  test('a rule of thumb is a line through the points where it gives something, in the panel of its reading', () => {
    const rule = { reading: 'width', text: '1.1 * R1 * C1', values: [0.5, null, 0.6, 0.7], error: [], greatest: null };
    const [ratio, width] = sweepScene({ ...sweep, against: [rule] }, 760).panels;
    expect(ratio?.rules).toEqual([]);
    const [line] = width?.rules ?? [];
    expect(line?.path.match(/M/g)).toHaveLength(2);
    // The panel reaches as far as the rule, and its text stands at the end of the line.
    expect(width?.axis.scale(0.7)).toBeGreaterThan(width?.top ?? 0);
    expect(line?.at).toMatchObject({ x: scene.right, y: expect.closeTo((width?.axis.scale(0.7) ?? 0) - 6, 1) });
  });

  test('the text of a rule stands below its line where its reading ends near above', () => {
    const series = sweep.series.map((each) =>
      each.name === 'width' ? { ...each, values: [0.9, 0.5, 0.5, 0.5] } : each,
    );
    const textOf = (value: number): number => {
      const values = [value, value, value, value];
      const rule = { reading: 'width', text: 'T', values, error: [], greatest: null };
      const [, width] = sweepScene({ ...sweep, series, against: [rule] }, 760).panels;
      return (width?.rules[0]?.at?.y ?? 0) - (width?.axis.scale(value) ?? 0);
    };
    expect(textOf(0.48)).toBeCloseTo(15, 1);
    expect(textOf(0.3)).toBeCloseTo(-6, 1);
    expect(textOf(0.52)).toBeCloseTo(-6, 1);
  });

  test('texts of two rules that end at the same place stand above each other', () => {
    const rule = { reading: 'width', text: 'T', values: [0.5, 0.5, 0.5, 0.5], error: [], greatest: null };
    const [, width] = sweepScene({ ...sweep, against: [rule, { ...rule, text: 'S' }] }, 760).panels;
    const [first, second] = (width?.rules ?? []).map(({ at }) => at?.y ?? 0);
    expect(Math.abs((second ?? 0) - (first ?? 0))).toBeGreaterThanOrEqual(14);
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
