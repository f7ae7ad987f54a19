import { describe, expect, it } from 'vitest';
import { edgeObserver } from '#sim/measure/edges.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { charging, type MadeSignal, type MadeStretch, play } from '../../support/made-run.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

/** A crossing found by a bracketed solver to the last bits: some units in the last place. */
const DIGITS = 14;

type Stretch = readonly [length: number, signal: MadeSignal | number];

function edgesOf(stretches: readonly Stretch[], level: number, window = { from: 0, until: 1e9 }, most?: number) {
  const observer = edgeObserver('a', level, window, most === undefined ? {} : { most });
  const steps = stretches.map(([length, a]): MadeStretch => ({ length, signals: { a } }));
  play({ nets: ['ground', 'a'], steps }, observer);
  return observer.result();
}

describe('edgeObserver', () => {
  it('tells a rise at 0 for a net that is high once time 0 has settled', () => {
    expect(edgesOf([[1, 5]], 3).edges).toEqual([{ time: 0, to: 'high' }]);
    expect(edgesOf([[1, 0]], 3).edges).toEqual([]);
  });

  it('puts the edges of jumps at the jump', () => {
    expect(
      edgesOf(
        [
          [1, 0],
          [2, 5],
          [1, 0],
        ],
        3,
      ).edges,
    ).toEqual([
      { time: 1, to: 'high' },
      { time: 3, to: 'low' },
    ]);
  });

  it('finds a crossing of a charging capacitor at tau ln(V / (V - level))', () => {
    const { edges } = edgesOf([[2, charging(0, 12, 0.4)]], 8);
    expect(edges).toHaveLength(1);
    expect(edges[0]!.time).toBeCloseTo(0.4 * Math.log(3), DIGITS);
  });

  it('finds a crossing of a ramp at level / slope', () => {
    const { edges } = edgesOf([[2, { slope: 4 }]], 3);
    expect(edges).toEqual([{ time: 0.75, to: 'high' }]);
  });

  it('finds both passages of a hump inside one stretch', () => {
    // 8 (x - x^2) = 1.5 at x = 3/4 and 1/4, where x = exp(-t).
    const { edges } = edgesOf(
      [
        [
          3,
          {
            terms: [
              [8, 1],
              [-8, 2],
            ],
          },
        ],
      ],
      1.5,
    );
    expect(edges.map(({ to }) => to)).toEqual(['high', 'low']);
    expect(edges[0]!.time).toBeCloseTo(Math.log(4 / 3), DIGITS);
    expect(edges[1]!.time).toBeCloseTo(Math.log(4), DIGITS);
  });

  it('makes no edge where a capacitor turns round exactly at the level', () => {
    // Reaches 8 V at 0.4 ln 3 to rounding, whichever side; then falls from there.
    const length = 0.4 * Math.log(3);
    for (const error of [-2e-16, 0, 2e-16]) {
      const turning: Stretch[] = [
        [length * (1 + error), charging(0, 12, 0.4)],
        [1, charging(8 * (1 + error), 0, 0.4)],
      ];
      expect(edgesOf(turning, 8).edges).toEqual([]);
    }
  });

  it('counts a net that stands still at the level as low: high is above it', () => {
    expect(
      edgesOf(
        [
          [1, 5],
          [1, 3],
          [1, 5],
        ],
        3,
      ).edges.map(({ time, to }) => [time, to]),
    ).toEqual([
      [0, 'high'],
      [1, 'low'],
      [2, 'high'],
    ]);
  });

  it('finds one edge where a crossing falls on the border of two stretches', () => {
    for (const value of [3 - 4e-16, 3, 3 + 4e-16]) {
      const { edges } = edgesOf(
        [
          [1, { constant: 0, slope: value }],
          [1, { constant: value, slope: 3 }],
        ],
        3,
      );
      expect(edges.map(({ to }) => to)).toEqual(['high']);
      expect(edges[0]!.time).toBeCloseTo(1, DIGITS);
    }
  });

  it('counts edges of the window only: from belongs to it, until does not', () => {
    const stretches: Stretch[] = [
      [1, 5],
      [1, 0],
      [1, 5],
      [1, 0],
    ];
    expect(edgesOf(stretches, 3, { from: 1, until: 3 }).edges.map(({ time }) => time)).toEqual([1, 2]);
    expect(edgesOf(stretches, 3, { from: 0.5, until: 0.9 }).edges).toEqual([]);
    // A ramp that passes 3 V at 0.75 s, in the middle of its stretch.
    for (const [until, count] of [
      [0.5, 0],
      [0.75, 0],
      [1, 1],
    ] as const) {
      expect(edgesOf([[2, { slope: 4 }]], 3, { from: 0, until }).count).toBe(count);
    }
  });

  it('lists the first edges when told how many, and counts all', () => {
    const result = edgesOf(
      [
        [1, 5],
        [1, 0],
        [1, 5],
      ],
      3,
      undefined,
      2,
    );
    expect(result).toMatchObject({ count: 3, cut: true });
    expect(result.edges).toHaveLength(2);
  });

  it('adds local times to the start of their stretch', () => {
    // 1000 stretches of 1/8 s, then a ramp that meets 3 V after 1/4 s: every number is exact in binary.
    const observer = edgeObserver('a', 3, { from: 0, until: 1e9 });
    const quiet = Array.from({ length: 1000 }, (): MadeStretch => ({ length: 0.125, signals: { a: 0 } }));
    play({ nets: ['a'], steps: [...quiet, { length: 1, signals: { a: { slope: 12 } } }] }, observer);
    expect(observer.result().edges).toEqual([{ time: 125.25, to: 'high' }]);
  });

  it('says whether the list was cut', () => {
    const pulses: Stretch[] = [
      [1, 0],
      [1, 5],
      [1, 0],
    ];
    expect(edgesOf(pulses, 3)).toMatchObject({ count: 2, cut: false });
    expect(edgesOf(pulses, 3, { from: 0, until: 1e9 }, 2)).toMatchObject({ count: 2, cut: false });
    expect(edgesOf(pulses, 3, { from: 0, until: 1e9 }, 1)).toMatchObject({ count: 2, cut: true });
  });

  it('counts the edges of 10^12 pulses, period by period', () => {
    const circuit = circuitOf([
      ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-7 }),
      signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 })),
    ]);
    const observer = edgeObserver('out', 4.5, { from: 0, until: 1e9 }, { most: 3 });
    const outcome = runCircuit(circuit, { until: 1e9, observers: [observer], countPeriods: true, maxEvents: 1e5 });
    expect(outcome.ok).toBe(true);
    const { edges, count, cut } = observer.result();
    // 22 kohm x 100 nF x ln 3 = 2.417 ms: every third pulse starts an interval, pulse 0 and pulse 10^12 - 1 among them, and
    // the last one still lasts at the end: 333 333 333 334 rises and one fall less.
    expect([count, cut]).toEqual([666_666_666_667, true]);
    expect(edges.map(({ to }) => to)).toEqual(['high', 'low', 'high']);
    expect(edges[2]!.time).toBeCloseTo(3e-3, DIGITS);
  });
});
