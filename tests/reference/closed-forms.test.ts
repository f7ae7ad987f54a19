import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { errorOf } from '../support/error-measure.ts';
import { between, farads, ohms, overDecades, volts } from '../support/random-values.ts';
import { clearedTimes, eventsOf, secondsFrom, setTimes, storedRun } from '../support/stored-run.ts';
import { astable, drivenControl, lowPulses, monostable, signal } from '../support/timer-circuits.ts';

// Room for LAWS_RUNS of a thousand on a small machine.
vi.setConfig({ testTimeout: 60_000 });

/**
 * Closed forms follow from one capacitor charging through one resistance: t = R C ln((Vf - V0) / (Vf - V1)).
 * The tolerance of each is 1e-12 times the condition number said beside it: about five thousand roundings, where a run
 * makes some dozen.
 */
const TOLERANCE = 1e-12;
const LN_3 = Math.log(3);

/** The interval that one short trigger starts, after the circuit has rested for a while. */
function intervalOf(parts: ReturnType<typeof monostable>, voltage: number, expected: number): number {
  const wave = lowPulses(voltage, { period: expected, width: expected / 1000, delay: expected / 3, count: 1 });
  return setTimes(storedRun([...parts, signal('G1', 'in', wave)], 2 * expected))[0] ?? Number.NaN;
}

describe('a monostable', () => {
  // Condition 1: time is in proportion to R and to C, and the supply cancels.
  test('holds for R C ln 3 from an empty capacitor, at any supply', () => {
    fc.assert(
      fc.property(ohms, farads, volts, (resistance, capacitance, voltage) => {
        const expected = resistance * capacitance * LN_3;
        const parts = monostable({ voltage, resistance, capacitance });
        expect(errorOf(intervalOf(parts, voltage, expected), expected)).toBeLessThanOrEqual(TOLERANCE);
      }),
      { seed: 1101 },
    );
  });

  // Condition 1, as from an empty capacitor.
  test('empties a capacitor charged at the start before it times', () => {
    fc.assert(
      fc.property(ohms, farads, volts, between(0, 20), (resistance, capacitance, voltage, initial) => {
        const expected = resistance * capacitance * LN_3;
        const parts = monostable({ voltage, resistance, capacitance, ofCapacitor: { initial } });
        expect(errorOf(intervalOf(parts, voltage, expected), expected)).toBeLessThanOrEqual(TOLERANCE);
      }),
      { seed: 1102 },
    );
  });

  // Condition V / (V - Vc): by how much the distance left to the limit magnifies an error of the supply.
  test('holds for R C ln(V / (V - Vc)) with CONTROL driven to Vc', () => {
    fc.assert(
      fc.property(ohms, farads, volts, between(0.02, 0.999), (resistance, capacitance, voltage, share) => {
        const control = share * voltage;
        const expected = -resistance * capacitance * Math.log1p(-control / voltage);
        const parts = [...monostable({ voltage, resistance, capacitance }), drivenControl(control)];
        const condition = voltage / (voltage - control);
        expect(errorOf(intervalOf(parts, voltage, expected), expected, { condition })).toBeLessThanOrEqual(TOLERANCE);
      }),
      { seed: 1103 },
    );
  });

  // Condition Vf / (Vf - 2V/3): the level that the capacitor aims at grazes its limit as Rl nears 2 R.
  test('holds for (R // Rl) C ln(Vf / (Vf - 2V/3)) with a leakage resistance Rl across C', () => {
    fc.assert(
      fc.property(ohms, farads, volts, overDecades(1e-6, 1e6), (resistance, capacitance, voltage, above) => {
        const leakage = 2 * resistance * (1 + above);
        const aim = (voltage * leakage) / (resistance + leakage);
        const both = (resistance * leakage) / (resistance + leakage);
        // Vf - 2V/3 = (V/3) (Rl - 2R) / (R + Rl), written so that nothing cancels.
        const left = ((voltage / 3) * 2 * resistance * above) / (resistance + leakage);
        const expected = both * capacitance * Math.log(aim / left);
        const parts = monostable({ voltage, resistance, capacitance, ofCapacitor: { leakage } });
        const condition = aim / left;
        expect(errorOf(intervalOf(parts, voltage, expected), expected, { condition })).toBeLessThanOrEqual(TOLERANCE);
      }),
      { seed: 1104 },
    );
  });

  test('never ends when the leakage resistance is 2 R or less', () => {
    fc.assert(
      fc.property(
        ohms,
        farads,
        volts,
        fc.oneof(fc.constant(0), overDecades(1e-9, 0.99)),
        (resistance, capacitance, voltage, below) => {
          const leakage = 2 * resistance * (1 - below);
          const parts = monostable({ voltage, resistance, capacitance, ofCapacitor: { leakage } });
          const long = 1000 * resistance * capacitance;
          const wave = lowPulses(voltage, { period: long, width: long / 1e6, count: 1 });
          const trace = storedRun([...parts, signal('G1', 'in', wave)], long);
          expect(eventsOf(trace, 'U1', 'set')).toHaveLength(1);
          expect(eventsOf(trace, 'U1', 'cleared')).toHaveLength(0);
        },
      ),
      { seed: 1105 },
    );
  });
});

describe('an astable', () => {
  // Condition 1 for all three: proportional to R and C, the supply cancels.
  test('started empty is first high for (R1 + R2) C ln 3, then (R1 + R2) C ln 2, and low for R2 C ln 2', () => {
    fc.assert(
      fc.property(ohms, ohms, farads, volts, (first, second, capacitance, voltage) => {
        const high = (first + second) * capacitance * Math.LN2;
        const low = second * capacitance * Math.LN2;
        const start = (first + second) * capacitance * LN_3;
        const trace = storedRun(astable({ voltage, first, second, capacitance }), start + 5.5 * (high + low));
        const [firstHigh, ...highs] = setTimes(trace);
        const lows = clearedTimes(trace);
        expect(errorOf(firstHigh!, start)).toBeLessThanOrEqual(TOLERANCE);
        expect(highs.length).toBeGreaterThanOrEqual(4);
        expect(lows.length).toBeGreaterThanOrEqual(5);
        expect(
          errorOf(
            highs,
            highs.map(() => high),
          ),
        ).toBeLessThanOrEqual(TOLERANCE);
        expect(
          errorOf(
            lows,
            lows.map(() => low),
          ),
        ).toBeLessThanOrEqual(TOLERANCE);
      }),
      { seed: 1106 },
    );
  });

  // Condition V / (V - Vc), as for the monostable.
  test('is high for (R1 + R2) C ln((V - Vc/2) / (V - Vc)) and low for R2 C ln 2 with CONTROL driven to Vc', () => {
    fc.assert(
      fc.property(
        fc.record({ first: ohms, second: ohms, capacitance: farads, voltage: volts }),
        between(0.02, 0.999),
        (values, share) => {
          const { first, second, capacitance, voltage } = values;
          const control = share * voltage;
          const high = (first + second) * capacitance * Math.log1p(control / 2 / (voltage - control));
          const low = second * capacitance * Math.LN2;
          const start = -(first + second) * capacitance * Math.log1p(-control / voltage);
          const trace = storedRun([...astable(values), drivenControl(control)], start + 3.5 * (high + low));
          const condition = voltage / (voltage - control);
          const [firstHigh, ...highs] = setTimes(trace);
          const lows = clearedTimes(trace);
          expect(highs.length).toBeGreaterThanOrEqual(2);
          expect(errorOf(firstHigh!, start, { condition })).toBeLessThanOrEqual(TOLERANCE);
          expect(
            errorOf(
              highs,
              highs.map(() => high),
              { condition },
            ),
          ).toBeLessThanOrEqual(TOLERANCE);
          expect(
            errorOf(
              lows,
              lows.map(() => low),
            ),
          ).toBeLessThanOrEqual(TOLERANCE);
        },
      ),
      { seed: 1107 },
    );
  });
});

describe('a frequency divider with ideal discharge and short triggers', () => {
  const voltage = 12;

  /** How many input pulses come from each start of an interval up to the next, over a run of `periods` input periods. */
  function ratios(resistance: number, capacitance: number, period: number, periods: number): number[] {
    const width = Math.min(period, resistance * capacitance) / 1000;
    const parts = [
      ...monostable({ voltage, resistance, capacitance }),
      signal('G1', 'in', lowPulses(voltage, { period, width })),
    ];
    const trace = storedRun(parts, period * periods);
    const words = eventsOf(trace, 'U1', 'triggerLow', 'set').map(({ kind }) => kind);
    const starts = words.flatMap((word, i) => (word === 'set' ? [i] : []));
    return starts
      .slice(1)
      .map((start, i) => words.slice(starts[i], start).filter((word) => word === 'triggerLow').length);
  }

  test('divides by floor(T / Tin) + 1', () => {
    fc.assert(
      fc.property(ohms, farads, between(0.05, 40), (resistance, capacitance, quotient) => {
        // Nearer to a whole number than 1e-9 the roundings of the two times would decide; ties have their own test.
        fc.pre(Math.abs(quotient - Math.round(quotient)) > 1e-9);
        const period = (resistance * capacitance * LN_3) / quotient;
        const expected = Math.floor(quotient) + 1;
        const found = ratios(resistance, capacitance, period, 4.5 * expected);
        expect(found).toEqual([expected, expected, expected, expected]);
      }),
      { seed: 1108 },
    );
  });

  test('divides by k + 1 when T is k input periods exactly: the pulse finds the interval running', () => {
    fc.assert(
      fc.property(ohms, farads, fc.integer({ min: 1, max: 40 }), (resistance, capacitance, k) => {
        const parts = monostable({ voltage, resistance, capacitance });
        const about = resistance * capacitance * LN_3;
        const wave = lowPulses(voltage, { period: 2 * about, width: about / 1000, count: 1 });
        const trace = storedRun([...parts, signal('G1', 'in', wave)], 2 * about);
        const [set, cleared] = eventsOf(trace, 'U1', 'set', 'cleared');
        const period = secondsFrom(set, cleared) / k;
        expect(ratios(resistance, capacitance, period, 4.5 * (k + 1))).toEqual([k + 1, k + 1, k + 1, k + 1]);
      }),
      { seed: 1109 },
    );
  });
});
