import { describe, test } from 'vitest';
import { DIVIDER, expectAgreement, latch } from '../support/hand-comparison.ts';
import { overFactors } from '../support/over-factors.ts';
import { astable, capacitor, resistor, supply, timer } from '../support/timer-circuits.ts';

/**
 * Circuits whose equations are written out by hand, node by node from Kirchhoff's law, and integrated by an ODE package.
 * Nothing of the engine's way from parts to equations is used, so a wrong sign, a lost part or a wrong state would show.
 * Values are those given times random factors from a half to two. Here: one timer among several capacitors.
 */
describe('the engine agrees with equations written by hand for', () => {
  test('an astable whose CONTROL carries a capacitor and is pulled about by the output', () => {
    overFactors(1301, (factor) => {
      const V = 9;
      const [R1, R2, C] = [22e3 * factor(), 33e3 * factor(), 10e-9 * factor()];
      const [CK, RM] = [47e-9 * factor(), 8.2e3 * factor()];
      expectAgreement<boolean>({
        parts: [
          ...astable({ voltage: V, first: R1, second: R2, capacitance: C }),
          capacitor('CK', 'control', 'ground', CK),
          resistor('RM', 'out', 'control', RM),
        ],
        until: 5 * (R1 + 2 * R2) * C,
        volts: V,
        events: latch,
        equations: {
          discrete: false,
          state: [0, 0],
          derivative: (high, [v, k]) => [
            high ? (V - v!) / ((R1 + R2) * C) : -v! / (R2 * C),
            ((V - k!) / DIVIDER - k! / (2 * DIVIDER) + ((high ? V : 0) - k!) / RM) / CK,
          ],
          guards: (high) =>
            high
              ? [
                  // At the start CONTROL and timing are both at 0 V; the lower limit moves up faster than the capacitor.
                  { label: 'off', over: ([v, k], t) => (t > 0 ? v! - k! : -1), go: () => ({ discrete: false }) },
                ]
              : [{ label: 'on', over: ([v, k], t) => (t > 0 ? k! / 2 - v! : 1), go: () => ({ discrete: true }) }],
        },
        nets: (high, [v, k]) => ({
          timing: v!,
          control: k!,
          'U1.lower': k! / 2,
          out: high ? V : 0,
          middle: high ? V - (R1 * (V - v!)) / (R1 + R2) : 0,
        }),
      });
    });
  });

  test('a chain of three capacitors between the output, a pull-up, a pull-down and ground', () => {
    overFactors(1302, (factor) => {
      const V = 12;
      const [R1, R2, C] = [10e3 * factor(), 15e3 * factor(), 100e-9 * factor()];
      const [C1, C2, C3] = [22e-9 * factor(), 10e-9 * factor(), 33e-9 * factor()];
      const [RA, RB] = [47e3 * factor(), 68e3 * factor()];
      // Charge on the nodes p and q: C1 (out' - p') + (V - p)/RA = C2 (p' - q'), C2 (p' - q') = C3 q' + q/RB.
      const solve = (intoP: number, intoQ: number): [number, number] => {
        const [a, b, d] = [C1 + C2, -C2, C2 + C3];
        const determinant = a * d - b * b;
        return [(intoP * d - b * intoQ) / determinant, (a * intoQ - b * intoP) / determinant];
      };
      const jump = ([v, p, q]: readonly number[], volts: number): number[] => {
        const [dp, dq] = solve(C1 * volts, 0);
        return [v!, p! + dp, q! + dq];
      };
      expectAgreement<boolean>({
        parts: [
          ...astable({ voltage: V, first: R1, second: R2, capacitance: C }),
          capacitor('CA', 'out', 'p', C1),
          capacitor('CB', 'p', 'q', C2),
          capacitor('CC', 'q', 'ground', C3),
          resistor('RA', 'rail', 'p', RA),
          resistor('RB', 'q', 'ground', RB),
        ],
        until: 4 * (R1 + 2 * R2) * C,
        volts: V,
        events: latch,
        equations: {
          discrete: false,
          state: [0, 0, 0],
          derivative: (high, [v, p, q]) => [
            high ? (V - v!) / ((R1 + R2) * C) : -v! / (R2 * C),
            ...solve((V - p!) / RA, -q! / RB),
          ],
          guards: (high) =>
            high
              ? [
                  {
                    label: 'off',
                    over: ([v]) => v! - (2 * V) / 3,
                    go: (x) => ({ discrete: false, state: jump(x, -V) }),
                  },
                ]
              : [{ label: 'on', over: ([v]) => V / 3 - v!, go: (x) => ({ discrete: true, state: jump(x, V) }) }],
        },
        nets: (_, [v, p, q]) => ({ timing: v!, p: p!, q: q! }),
      });
    });
  });

  test('timing capacitors side by side, two of them behind a series resistance and one leaking', () => {
    overFactors(1303, (factor) => {
      const V = 6;
      const [R1, R2] = [12e3 * factor(), 18e3 * factor()];
      const [C0, C1, C2] = [22e-9 * factor(), 100e-9 * factor(), 47e-9 * factor()];
      const [r1, r2, leak] = [2.2e3 * factor(), 4.7e3 * factor(), 220e3 * factor()];
      const more = 10e-9 * factor();
      expectAgreement<boolean>({
        parts: [
          ...astable({ voltage: V, first: R1, second: R2, capacitance: C0 }),
          capacitor('CX', 'ground', 'timing', more),
          capacitor('CY', 'timing', 'ground', C1, { series: r1, leakage: leak, initial: -1 }),
          capacitor('CZ', 'timing', 'ground', C2, { series: r2, initial: 0.5 }),
        ],
        until: 4 * (R1 + 2 * R2) * (C0 + C1 + C2),
        volts: V,
        events: latch,
        equations: {
          discrete: false,
          state: [0, -1, 0.5],
          derivative: (high, [v, y, z]) => {
            const [intoY, intoZ] = [(v! - y!) / r1, (v! - z!) / r2];
            const supplied = high ? (V - v!) / (R1 + R2) : -v! / R2;
            return [(supplied - intoY - intoZ) / (C0 + more), (intoY - y! / leak) / C1, intoZ / C2];
          },
          guards: (high) =>
            high
              ? [{ label: 'off', over: ([v]) => v! - (2 * V) / 3, go: () => ({ discrete: false }) }]
              : [{ label: 'on', over: ([v]) => V / 3 - v!, go: () => ({ discrete: true }) }],
        },
        nets: (_, [v, y, z]) => ({ timing: v!, 'CY.inner': y!, 'CZ.inner': z! }),
      });
    });
  });

  test('timing capacitors that are all behind a series resistance, so that the pin itself jumps', () => {
    overFactors(1304, (factor) => {
      const V = 15;
      const [R1, R2] = [22e3 * factor(), 33e3 * factor()];
      const [C1, C2, r1, r2] = [47e-9 * factor(), 68e-9 * factor(), 1e3 * factor(), 3.3e3 * factor()];
      // The pin's voltage: no charge stays on the node, so the currents into it add up to nothing.
      const pin = (high: boolean, y: number, z: number): number => {
        const [drive, through] = high ? [V, R1 + R2] : [0, R2];
        return (drive / through + y / r1 + z / r2) / (1 / through + 1 / r1 + 1 / r2);
      };
      expectAgreement<boolean>({
        parts: [
          supply(V),
          timer('U1', { trigger: 'timing', threshold: 'timing', output: 'out', discharge: 'middle' }),
          resistor('R1', 'rail', 'middle', R1),
          resistor('R2', 'middle', 'timing', R2),
          capacitor('C1', 'timing', 'ground', C1, { series: r1 }),
          capacitor('C2', 'timing', 'ground', C2, { series: r2 }),
        ],
        until: 4 * (R1 + 2 * R2) * (C1 + C2),
        volts: V,
        events: latch,
        equations: {
          discrete: false,
          state: [0, 0],
          derivative: (high, [y, z]) => {
            const v = pin(high, y!, z!);
            return [(v - y!) / (r1 * C1), (v - z!) / (r2 * C2)];
          },
          guards: (high) =>
            high
              ? [{ label: 'off', over: ([y, z]) => pin(true, y!, z!) - (2 * V) / 3, go: () => ({ discrete: false }) }]
              : [{ label: 'on', over: ([y, z]) => V / 3 - pin(false, y!, z!), go: () => ({ discrete: true }) }],
        },
        nets: (high, [y, z]) => ({ timing: pin(high, y!, z!), 'C1.inner': y!, 'C2.inner': z! }),
      });
    });
  });
});
