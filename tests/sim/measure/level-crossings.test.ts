import { describe, expect, test } from 'vitest';
import { LevelCrossings } from '#sim/measure/level-crossings.ts';
import { charging, type MadeSignal, play } from '../../support/made-run.ts';

// Crossings of one exponential are a logarithm; found by a bracketed solver to the last bits.
const DIGITS = 14;

type Signal = MadeSignal | number;
type Edge = readonly [time: number, high: boolean];

/** Edges of the difference of the second net of a table and the first, at a level, through stretches of a length (s). */
function edgesOf(level: number, length: number, ...stretches: readonly (readonly [first: Signal, second: Signal])[]) {
  const edges: Edge[] = [];
  const crossings = new LevelCrossings(level, (high, at) => edges.push([at.high + at.low, high]));
  const steps = stretches.map(([first, second]) => ({ length, signals: { first, second } }));
  play({ nets: ['first', 'second'], steps }, { segment: (segment) => crossings.segment(segment, 1, 0) });
  return { edges, crossings };
}

const of = (level: number, length: number, ...signals: readonly Signal[]): readonly Edge[] =>
  edgesOf(level, length, ...signals.map((signal) => [0, signal] as const)).edges;

describe('LevelCrossings.segment()', () => {
  test('follows the difference of two signals, one of them the first of its table', () => {
    expect(edgesOf(1, 1, [4, 6], [4, 4], [2, 4]).edges).toEqual([
      [0, true],
      [1, false],
      [2, true],
    ]);
    // 12 (1 - exp(-t)) - 8 passes 1 V at exp(-t) = 1/4; 8 exp(-t) - 4 at exp(-t) = 5/8, where 8 exp(-t) alone stays above.
    const rising = edgesOf(1, 2, [8, charging(0, 12, 1)]).edges;
    expect(rising).toEqual([[expect.closeTo(Math.log(4), DIGITS), true]]);
    const falling = edgesOf(1, 1, [4, charging(8, 0, 1)]).edges;
    expect(falling).toEqual([
      [0, true],
      [expect.closeTo(Math.log(8 / 5), DIGITS), false],
    ]);
  });

  test('finds where a capacitor that empties comes down to the level', () => {
    expect(of(3, 2, charging(8, 0, 1))).toEqual([
      [0, true],
      [expect.closeTo(Math.log(8 / 3), DIGITS), false],
    ]);
    expect(of(-3, 2, charging(-8, 0, 1))).toEqual([[expect.closeTo(Math.log(8 / 3), DIGITS), true]]);
  });

  test('finds where what grows comes to the level, and none where the stretch ends before', () => {
    // exp(t) is 3 V at ln 3; 4 - exp(t) is 1 V then; 5 exp(t / 10) - 3 has doubled what it has above -3 V at 10 ln 2.
    const grown = (constant: number, coefficient: number, rate = -1): MadeSignal => ({
      constant,
      terms: [[coefficient, rate]],
    });
    expect(of(3, 2, grown(0, 1))).toEqual([[expect.closeTo(Math.log(3), DIGITS), true]]);
    expect(of(3, 1, grown(0, 1))).toEqual([]);
    expect(of(1, 2, grown(4, -1))).toEqual([
      [0, true],
      [expect.closeTo(Math.log(3), DIGITS), false],
    ]);
    expect(of(7, 10, grown(-3, 5, -0.1))).toEqual([[expect.closeTo(10 * Math.log(2), DIGITS - 1), true]]);
  });

  test('finds none where it would, but the stretch ends before', () => {
    expect(of(3, 0.5, charging(8, 0, 1))).toEqual([[0, true]]);
    expect(of(3, 0.1, charging(0, 8, 1))).toEqual([]);
  });

  test('takes what only approaches the level for what it was at first', () => {
    // After 100 time constants it lies on the level to rounding.
    expect(of(3, 100, charging(8, 3, 1))).toEqual([[0, true]]);
    expect(of(3, 100, 5, charging(0, 3, 1))).toEqual([
      [0, true],
      [100, false],
    ]);
  });

  test('takes what leaves the level for what it comes to', () => {
    expect(of(3, 1, charging(3, 8, 1))).toEqual([[0, true]]);
    expect(of(3, 1, 5, charging(3, 0, 1))).toEqual([
      [0, true],
      [1, false],
    ]);
  });

  test('begins anew with a signal that is low', () => {
    const { edges, crossings } = edgesOf(1, 1, [0, 2]);
    expect([crossings.isHigh, edges.length]).toEqual([true, 1]);
    crossings.beginAnew();
    expect([crossings.isHigh, edges.length]).toEqual([false, 1]);
  });
});
