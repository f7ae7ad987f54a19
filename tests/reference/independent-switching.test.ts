import { describe, test } from 'vitest';
import { DIVIDER, expectAgreement, latch } from '../support/hand-comparison.ts';
import { overFactors } from '../support/over-factors.ts';
import { capacitor, diode, lamp, resistor, supply, timer } from '../support/timer-circuits.ts';

/**
 * Circuits whose equations are written out by hand, node by node from Kirchhoff's law, and integrated by an ODE package.
 * Nothing of the engine's way from parts to equations is used, so a wrong sign, a lost part or a wrong state would show.
 * Values are those given times random factors from a half to two. Here: more than the latch
 * switches: supplies that change, diodes and lamps, buttons.
 */
describe('the engine agrees with equations written by hand for', () => {
  test('an astable on a supply with series resistance that steps and ramps, with capacitors across it', () => {
    interface Rail {
      readonly high: boolean;
      readonly corner: number;
    }
    overFactors(1401, (factor) => {
      const [R1, R2, C] = [15e3 * factor(), 22e3 * factor(), 33e-9 * factor()];
      const [RS, CB, RL] = [330 * factor(), 2.2e-6 * factor(), 2.7e3 * factor()];
      const [RW, CW] = [470 * factor(), 4.7e-6 * factor()];
      const [drainHigh, drainLow] = [1e-3 * factor(), 3e-3 * factor()];
      const unit = (R1 + 2 * R2) * C;
      // Corners: a step up, the switch closes, a ramp down begins, it ends, the switch opens.
      const corners = [0.7 * unit, 1.3 * unit, 2.2 * unit, 3.1 * unit, 3.9 * unit];
      const source = ({ corner }: Rail, t: number): number => {
        if (corner === 0) return 8;
        if (corner < 3) return 12;
        return corner === 3 ? 12 - (6 * (t - corners[2]!)) / (corners[3]! - corners[2]!) : 6;
      };
      const closed = ({ corner }: Rail): boolean => corner >= 2 && corner < 5;
      expectAgreement<Rail>({
        parts: [
          supply(8, {
            resistance: RS,
            changes: [
              { at: corners[0], voltage: 12, over: 0 },
              { at: corners[2], voltage: 6, over: corners[3]! - corners[2]! },
            ],
          }),
          timer(
            'U1',
            { trigger: 'timing', threshold: 'timing', output: 'out', discharge: 'middle' },
            { with: { supplyCurrentHigh: drainHigh, supplyCurrentLow: drainLow } },
          ),
          resistor('R1', 'rail', 'middle', R1),
          resistor('R2', 'middle', 'timing', R2),
          capacitor('C1', 'timing', 'ground', C),
          capacitor('CB', 'rail', 'ground', CB, { initial: 5 }),
          resistor('RL', 'out', 'ground', RL),
          {
            name: 'S1',
            kind: 'switch',
            a: 'rail',
            b: 'store',
            resistance: RW,
            presses: [{ at: corners[1], for: corners[4]! - corners[1]! }],
          },
          capacitor('CW', 'store', 'ground', CW, { initial: 1 }),
        ],
        until: 5 * unit,
        volts: 12,
        events: latch,
        happens: ['corner'],
        equations: {
          discrete: { high: false, corner: 0 },
          state: [0, 5, 1],
          derivative: (now, [v, r, w], t) => {
            const timing = now.high ? (r! - v!) / (R1 + R2) : -v! / R2;
            const load = now.high ? timing + r! / RL + drainHigh : r! / R1 + drainLow;
            const store = closed(now) ? (r! - w!) / RW : 0;
            return [timing / C, ((source(now, t) - r!) / RS - r! / (3 * DIVIDER) - load - store) / CB, store / CW];
          },
          guards: (now) => [
            {
              label: 'corner',
              over: (_, t) => (now.corner < corners.length ? t - corners[now.corner]! : -1),
              go: () => ({ discrete: { ...now, corner: now.corner + 1 } }),
            },
            now.high
              ? { label: 'off', over: ([v, r]) => v! - (2 * r!) / 3, go: () => ({ discrete: { ...now, high: false } }) }
              : { label: 'on', over: ([v, r]) => r! / 3 - v!, go: () => ({ discrete: { ...now, high: true } }) },
          ],
        },
        nets: ({ high }, [v, r, w]) => ({ timing: v!, rail: r!, store: w!, out: high ? r! : 0 }),
      });
    });
  });

  test('an astable with a diode across its second resistor and two lamps, all on a supply with resistance', () => {
    interface Lamps {
      readonly high: boolean;
      readonly diode: boolean;
    }
    overFactors(1402, (factor) => {
      const V = 4.5;
      const [R1, R2, C] = [12e3 * factor(), 10e3 * factor(), 100e-9 * factor()];
      const [RS, R3, R4] = [47 * factor(), 470 * factor(), 680 * factor()];
      const [forward, slope] = [0.6, 300 * factor()];
      const [red, green, lampSlope] = [1.7, 2.2, 15];
      // Low: the lower lamp's path from the rail, and R1, which the discharge pin ties to 0 V.
      const lowRail =
        (V / RS + green / (R4 + lampSlope)) / (1 / RS + 1 / (3 * DIVIDER) + 1 / R1 + 1 / (R4 + lampSlope));
      /** Rail and discharge net while the output is high. */
      const highNets = (v: number, conducting: boolean): { rail: number; middle: number } => {
        // middle: (rail - middle)/R1 = (middle - v)/R2 + (middle - v - forward)/slope where the diode conducts.
        const across = 1 / R2 + (conducting ? 1 / slope : 0);
        const fixed = v / R2 + (conducting ? (v + forward) / slope : 0);
        // With middle = (rail/R1 + fixed)/(1/R1 + across), what R1 takes is (across rail - fixed)/(1 + R1 across).
        const share = 1 + R1 * across;
        const rail =
          (V / RS + fixed / share + red / (R3 + lampSlope)) /
          (1 / RS + 1 / (3 * DIVIDER) + across / share + 1 / (R3 + lampSlope));
        return { rail, middle: (rail / R1 + fixed) / (1 / R1 + across) };
      };
      const nets = (now: Lamps, v: number): { rail: number; middle: number } =>
        now.high ? highNets(v, now.diode) : { rail: lowRail, middle: 0 };
      expectAgreement<Lamps>({
        parts: [
          supply(V, { resistance: RS }),
          timer('U1', { trigger: 'timing', threshold: 'timing', output: 'out', discharge: 'middle' }),
          resistor('R1', 'rail', 'middle', R1),
          resistor('R2', 'middle', 'timing', R2),
          diode('D1', 'middle', 'timing', { forward, slope }),
          capacitor('C1', 'timing', 'ground', C),
          resistor('R3', 'out', 'upper', R3),
          lamp('D2', 'upper', 'ground', { forward: red, slope: lampSlope }),
          resistor('R4', 'rail', 'lower', R4),
          lamp('D3', 'lower', 'out', { forward: green, slope: lampSlope }),
        ],
        until: 4 * (R1 + 2 * R2) * C,
        volts: V,
        events: latch,
        happens: ['diode'],
        equations: {
          discrete: { high: false, diode: false },
          state: [0],
          derivative: (now, [v]) => {
            const { rail, middle } = nets(now, v!);
            return [(now.high ? (rail - middle) / R1 : -v! / R2) / C];
          },
          guards: (now) => {
            const over = (v: number): number => nets(now, v).middle - v - forward;
            return [
              {
                label: 'diode',
                over: ([v]) => (now.diode ? -over(v!) : over(v!)),
                go: () => ({ discrete: { ...now, diode: !now.diode } }),
              },
              now.high
                ? {
                    label: 'off',
                    over: ([v]) => v! - (2 * nets(now, v!).rail) / 3,
                    go: () => ({ discrete: { ...now, high: false } }),
                  }
                : {
                    label: 'on',
                    over: ([v]) => nets(now, v!).rail / 3 - v!,
                    go: () => ({ discrete: { ...now, high: true } }),
                  },
            ];
          },
        },
        nets: (now, [v]) => {
          const { rail, middle } = nets(now, v!);
          return {
            timing: v!,
            rail,
            middle,
            upper: now.high ? red + (lampSlope * (rail - red)) / (R3 + lampSlope) : 0,
          };
        },
      });
    });
  });

  test('an astable held by a slow RESET that a button pulls down again', () => {
    interface Held {
      readonly press: number;
      readonly reset: boolean;
      readonly low: boolean;
      readonly high: boolean;
    }
    overFactors(1405, (factor) => {
      const V = 9;
      const [R1, R2, C] = [10e3 * factor(), 22e3 * factor(), 47e-9 * factor()];
      const [RR, CR, RB] = [68e3 * factor(), 150e-9 * factor(), 1e3 * factor()];
      const level = 0.7;
      const unit = (R1 + 2 * R2) * C;
      const edges = [3.3 * unit, 4.1 * unit];
      const pressed = ({ press }: Held): boolean => press === 1;
      expectAgreement<Held>({
        parts: [
          supply(V),
          timer('U1', { trigger: 'timing', threshold: 'timing', output: 'out', discharge: 'middle', reset: 'hold' }),
          resistor('R1', 'rail', 'middle', R1),
          resistor('R2', 'middle', 'timing', R2),
          capacitor('C1', 'timing', 'ground', C),
          resistor('RR', 'rail', 'hold', RR),
          capacitor('CR', 'hold', 'ground', CR),
          {
            name: 'S1',
            kind: 'button',
            a: 'hold',
            b: 'ground',
            resistance: RB,
            presses: [{ at: edges[0], for: edges[1]! - edges[0]! }],
          },
        ],
        until: 7 * unit,
        volts: V,
        events: [
          { label: 'held', part: 'U1', kind: 'resetLow' },
          { label: 'free', part: 'U1', kind: 'resetHigh' },
          { label: 'low', part: 'U1', kind: 'triggerLow' },
          { label: 'off', part: 'U1', kind: 'thresholdOver' },
        ],
        equations: {
          discrete: { press: 0, reset: false, low: false, high: false },
          state: [0, 0],
          derivative: (now, [v, h]) => [
            now.high ? (V - v!) / ((R1 + R2) * C) : -v! / (R2 * C),
            ((V - h!) / RR - (pressed(now) ? h! / RB : 0)) / CR,
          ],
          guards: (now) => [
            {
              label: 'press',
              over: (_, t) => (now.press < 2 ? t - edges[now.press]! : -1),
              go: () => ({ discrete: { ...now, press: now.press + 1 } }),
            },
            now.reset
              ? {
                  label: 'free',
                  over: ([, h]) => h! - level,
                  go: () => ({ discrete: { ...now, reset: false, high: now.low } }),
                }
              : {
                  label: 'held',
                  over: ([, h]) => level - h!,
                  go: () => ({ discrete: { ...now, reset: true, high: false } }),
                },
            now.low
              ? { label: 'released', over: ([v]) => v! - V / 3, go: () => ({ discrete: { ...now, low: false } }) }
              : {
                  label: 'low',
                  over: ([v]) => V / 3 - v!,
                  go: () => ({ discrete: { ...now, low: true, high: !now.reset } }),
                },
            {
              label: 'off',
              over: ([v]) => (now.high && !now.low ? v! - (2 * V) / 3 : -1),
              go: () => ({ discrete: { ...now, high: false } }),
            },
          ],
        },
        nets: (now, [v, h]) => ({ timing: v!, hold: h!, out: now.high ? V : 0 }),
      });
    });
  });
});
