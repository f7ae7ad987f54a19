import { describe, expect, test } from 'vitest';
import { crossingError } from '#sim/engine/conditioning.ts';
import { CrossingFinder } from '#sim/engine/crossing.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { Crossing } from '#sim/trace/observer.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { errorOf } from '../../support/error-measure.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

/** -1/4 + d + exp(-t) - exp(-2 t), which passes 0 at -ln(1/2 + sqrt(d)): found there, and by how much it may be off. */
function grazing(d: number): { found: number; offBy: number } {
  const sums = {
    rates: Float64Array.of(1, 2),
    idle: 0,
    constants: Float64Array.of(-0.25 + d),
    slopes: Float64Array.of(0),
    tolerances: Float64Array.of(0),
    roots: Float64Array.of(0),
  };
  const coefficients = Float64Array.of(1, -1);
  const found = new CrossingFinder(2).first(sums, 0, coefficients, Infinity, false);
  const time = found === Infinity ? Math.LN2 : found;
  const powers = sums.rates.map((rate) => Math.exp(-rate * time));
  return { found, offBy: crossingError(sums, 0, coefficients, time, powers) };
}

describe('crossingError', () => {
  /** Guard 1 of two: level + slope t + coefficients exp(-rates t), with its tolerance. */
  function errorAt(
    time: number,
    line: { level: number; slope?: number; coefficients: readonly number[]; tolerance?: number },
    rates: readonly number[],
  ): number {
    const idle = rates.filter((rate) => rate === 0).length;
    const sums = {
      rates: Float64Array.from(rates),
      idle,
      constants: Float64Array.of(99, line.level),
      slopes: Float64Array.of(99, line.slope ?? 0),
      tolerances: Float64Array.of(99, line.tolerance ?? 0),
      roots: new Float64Array(2),
    };
    const coefficients = Float64Array.of(...rates.map(() => 99), ...line.coefficients);
    const powers = Float64Array.from(rates, (rate) => (rate === 0 ? Number.NaN : Math.exp(-rate * time)));
    return crossingError(sums, 1, coefficients, time, powers);
  }

  test('is the rounding of all terms, and of their exponents, over the slope', () => {
    // -1 + 2 exp(-t / 2) passes zero at 2 ln 2: terms 1 and 1, the second with its exponent ln 2; slope -1/2.
    const terms = 1 + 1 * (1 + Math.LN2);
    const decaying = errorAt(2 * Math.LN2, { level: -1, coefficients: [2] }, [0.5]);
    expect(decaying / Number.EPSILON).toBeCloseTo(terms / 0.5, 12);
    // -3 + 2 t: terms 3 and 3, slope 2.
    expect(errorAt(1.5, { level: -3, slope: 2, coefficients: [] }, [])).toBe((6 * Number.EPSILON) / 2);
    // -3 + 2 + t / 2: a part of the state that stands still is a term as well.
    expect(errorAt(2, { level: -3, slope: 0.5, coefficients: [2] }, [0])).toBe(((3 + 1 + 2) * Number.EPSILON) / 0.5);
    expect(errorAt(2, { level: -3, slope: 0.5, coefficients: [2, -4] }, [0, 0])).toBe(
      ((3 + 1 + 6) * Number.EPSILON) / 0.5,
    );
    // 4 - 4 exp(-2 t) - 4 t at t = 0: terms 4 and 4, slope 8 - 4.
    expect(errorAt(0, { level: 4, slope: -4, coefficients: [-4] }, [2])).toBe((8 * Number.EPSILON) / 4);
    // The tolerance of a guard is 32 roundings of the voltages behind its constant.
    expect(errorAt(1.5, { level: -3, slope: 2, coefficients: [], tolerance: 2 ** -30 }, [])).toBe(
      (6 * Number.EPSILON + 2 ** -35) / 2,
    );
  });

  test('is the root of twice the rounding over the bend where the slope is zero, and nothing known without a bend', () => {
    // 4 - 4 exp(-2 t) - 8 t at t = 0: terms 4 and 4, slope 8 - 8, bend -16.
    expect(errorAt(0, { level: 4, slope: -8, coefficients: [-4] }, [2])).toBeCloseTo(
      Math.sqrt((2 * 8 * Number.EPSILON) / 16),
      20,
    );
    expect(errorAt(1, { level: -1, coefficients: [] }, [])).toBe(Infinity);
    // Two parts: the bends add up. 2 exp(-t) - exp(-2 t) - 1 at t = 0: 2 - 4 of bend, terms 2 + 1 + 1.
    expect(errorAt(0, { level: -1, coefficients: [2, -1] }, [1, 2])).toBeCloseTo(
      Math.sqrt((2 * 4 * Number.EPSILON) / 2),
      20,
    );
  });

  test('covers what a grazing time is off by, and says little more', () => {
    // Errors found in a trial of the algorithm that is used here, against 40 digits: 3e-16, 4e-13, 3e-11, and 2e-8 where
    // the limit is only touched.
    const trial = [
      [1e-3, 3e-16],
      [1e-8, 4e-13],
      [1e-12, 3e-11],
      [0, 2e-8],
    ] as const;
    for (const [d, error] of trial) {
      const { offBy } = grazing(d);
      expect(offBy).toBeGreaterThanOrEqual(error);
      // A bound adds up what by chance may cancel.
      expect(offBy).toBeLessThanOrEqual(50 * error);
    }
  });

  test('covers the error of the time that is found', () => {
    for (const d of [1e-3, 1e-6, 1e-8, 1e-10, 1e-12]) {
      const { found, offBy } = grazing(d);
      expect(Math.abs(found + Math.log(0.5 + Math.sqrt(d)))).toBeLessThanOrEqual(offBy);
    }
  });
});

describe('crossings of a run', () => {
  /** A monostable whose leaking capacitor tends to its limit and a share more. */
  const leaking = (share: number) => [
    ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6, ofCapacitor: { leakage: 20e3 * (1 + share) } }),
    signal('G1', 'in', lowPulses(9, { period: 1, width: 1e-4, delay: 1e-3, count: 1 })),
  ];

  function crossingsOf(share: number): Crossing[] {
    const crossings: Crossing[] = [];
    const observers = [{ crossing: (crossing: Crossing) => void crossings.push(crossing) }];
    expect(runCircuit(circuitOf(leaking(share)), { until: 1, observers }).ok).toBe(true);
    return crossings;
  }

  test('name part, kind, time and error: the voltage of rounding over a slope that a grazed limit makes small', () => {
    for (const share of [0.5, 1e-3, 1e-6, 1e-9]) {
      const over = crossingsOf(share).find(({ kind }) => kind === 'thresholdOver')!;
      expect(over.part).toBe('U1');
      // It aims at 9 V Rl / (R + Rl) with the time constant of R beside Rl, and is as fast at 6 V as it has still to go.
      const leak = 20e3 * (1 + share);
      const aim = (9 * leak) / (10e3 + leak);
      const tau = (1e-6 * 10e3 * leak) / (10e3 + leak);
      expect(errorOf(over.time - 1e-3, tau * Math.log(aim / (aim - 6)))).toBeLessThanOrEqual((1e-14 * aim) / (aim - 6));
      const rounding = (over.offBy * (aim - 6)) / tau;
      // No less than the rounding of 6 V; no more than that of a few terms of 9 V, with an exponent below 25.
      expect(rounding).toBeGreaterThanOrEqual(Number.EPSILON * 6);
      expect(rounding).toBeLessThanOrEqual(Number.EPSILON * 9 * 26);
    }
  });

  test('are told of in order with the events, and change nothing', () => {
    const [seen, alone]: [string[], string[]] = [[], []];
    const event =
      (list: string[]) =>
      ({ kind, time }: { kind: string; time: number }) =>
        void list.push(`${kind} ${time}`);
    const asking = { event: event(seen), crossing: ({ kind }: Crossing) => void seen.push(`crossing ${kind}`) };
    runCircuit(circuitOf(leaking(0.5)), { until: 1, observers: [asking] });
    runCircuit(circuitOf(leaking(0.5)), { until: 1, observers: [{ event: event(alone) }] });
    expect(seen.filter((each) => !each.startsWith('crossing'))).toEqual(alone);
    const at = seen.indexOf('crossing thresholdOver');
    expect(seen[at + 1]).toMatch(/^thresholdOver /);
  });
});
