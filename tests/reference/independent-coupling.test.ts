import { describe, test } from 'vitest';
import { expectAgreement, latch } from '../support/hand-comparison.ts';
import type { HandGuard } from '../support/hand-integration.ts';
import { overFactors } from '../support/over-factors.ts';
import { astable, capacitor, lowPulses, monostable, resistor, signal, timer } from '../support/timer-circuits.ts';

/**
 * Circuits whose equations are written out by hand, node by node from Kirchhoff's law, and integrated by an ODE package.
 * Nothing of the engine's way from parts to equations is used, so a wrong sign, a lost part or a wrong state would show.
 * Values are those given times random factors from a half to two. Here: inputs that are reached through capacitors or a body.
 */
describe('the engine agrees with equations written by hand for', () => {
  test('an astable that triggers a monostable through a coupling capacitor', () => {
    interface Chain {
      readonly first: boolean;
      readonly second: boolean;
      readonly low: boolean;
    }
    overFactors(1305, (factor) => {
      const V = 10;
      const [R1, R2, C] = [10e3 * factor(), 33e3 * factor(), 100e-9 * factor()];
      const [CC, RP] = [10e-9 * factor(), 15e3 * factor()];
      const [R3, C3] = [47e3 * factor(), 22e-9 * factor()];
      // u is the voltage across the coupling capacitor; the trigger net lies below the first output by u.
      const out = (on: boolean): number => (on ? V : 0);
      const trigger = ({ first }: Chain, u: number): number => out(first) - u;
      const guards = (now: Chain): HandGuard<Chain>[] => [
        now.first
          ? { label: 'off', over: ([v]) => v! - (2 * V) / 3, go: () => ({ discrete: { ...now, first: false } }) }
          : { label: 'on', over: ([v]) => V / 3 - v!, go: () => ({ discrete: { ...now, first: true } }) },
        now.low
          ? {
              label: 'trigger high',
              over: ([, u]) => trigger(now, u!) - V / 3,
              go: () => ({ discrete: { ...now, low: false } }),
            }
          : {
              label: 'trigger low',
              over: ([, u]) => V / 3 - trigger(now, u!),
              go: () => ({ discrete: { ...now, low: true, second: true } }),
            },
        ...(now.second && !now.low
          ? [
              {
                label: 'end',
                over: ([, , w]: readonly number[]) => w! - (2 * V) / 3,
                go: ([v, u]: readonly number[]) => ({ discrete: { ...now, second: false }, state: [v!, u!, 0] }),
              },
            ]
          : []),
      ];
      expectAgreement<Chain>({
        parts: [
          ...astable({ voltage: V, first: R1, second: R2, capacitance: C }),
          capacitor('CC', 'out', 'next', CC),
          resistor('RP', 'rail', 'next', RP),
          timer('U2', { trigger: 'next', threshold: 'second', output: 'out2', discharge: 'second' }),
          resistor('R3', 'rail', 'second', R3),
          capacitor('C3', 'second', 'ground', C3),
        ],
        until: 4 * (R1 + 2 * R2) * C,
        volts: V,
        events: [
          ...latch,
          { label: 'trigger low', part: 'U2', kind: 'triggerLow' },
          { label: 'trigger high', part: 'U2', kind: 'triggerHigh' },
          { label: 'end', part: 'U2', kind: 'cleared' },
        ],
        equations: {
          discrete: { first: false, second: false, low: false },
          state: [0, 0, 0],
          derivative: ({ first, second }, [v, u, w]) => [
            first ? (V - v!) / ((R1 + R2) * C) : -v! / (R2 * C),
            (out(first) - u! - V) / (RP * CC),
            second ? (V - w!) / (R3 * C3) : 0,
          ],
          guards,
        },
        nets: (now, [v, u, w]) => ({ timing: v!, next: trigger(now, u!), second: w!, out2: out(now.second) }),
      });
    });
  });

  test('a touch plate: pin and body capacitance, skin, pull-up and the leak of the body', () => {
    interface Touch {
      readonly edge: number;
      readonly set: boolean;
      readonly low: boolean;
    }
    overFactors(1306, (factor) => {
      const V = 6;
      const [R, C] = [100e3 * factor(), 33e-9 * factor()];
      const [pull, series, skin, earth] = [22e6 * factor(), 1e6 * factor(), 50e3 * factor(), 60e6 * factor()];
      const [pinC, bodyC] = [8e-12 * factor(), 150e-12 * factor()];
      const unit = R * C;
      const edges = [0.5 * unit, 1.7 * unit, 2.4 * unit, 2.9 * unit];
      const touching = ({ edge }: Touch): boolean => edge % 2 === 1;
      const intoBody = (now: Touch, p: number, b: number): number => (touching(now) ? (p - b) / (series + skin) : 0);
      expectAgreement<Touch>({
        parts: [
          ...monostable({ voltage: V, resistance: R, capacitance: C }),
          resistor('R2', 'rail', 'in', pull),
          capacitor('CP', 'in', 'ground', pinC, { initial: V }),
          resistor('R3', 'in', 'plate', series),
          {
            name: 'F1',
            kind: 'finger',
            a: 'plate',
            capacitance: bodyC,
            resistance: skin,
            earth,
            touches: [
              { at: edges[0], for: edges[1]! - edges[0]! },
              { at: edges[2], for: edges[3]! - edges[2]! },
            ],
          },
        ],
        until: 5 * unit,
        volts: V,
        events: [
          { label: 'low', part: 'U1', kind: 'triggerLow' },
          { label: 'end', part: 'U1', kind: 'cleared' },
        ],
        equations: {
          discrete: { edge: 0, set: false, low: false },
          state: [V, 0, 0],
          derivative: (now, [p, b, v]) => {
            const into = intoBody(now, p!, b!);
            return [((V - p!) / pull - into) / pinC, (into - b! / earth) / bodyC, now.set ? (V - v!) / (R * C) : 0];
          },
          guards: (now) => [
            {
              label: 'touch',
              over: (_, t) => (now.edge < edges.length ? t - edges[now.edge]! : -1),
              go: () => ({ discrete: { ...now, edge: now.edge + 1 } }),
            },
            now.low
              ? { label: 'high', over: ([p]) => p! - V / 3, go: () => ({ discrete: { ...now, low: false } }) }
              : {
                  label: 'low',
                  over: ([p]) => V / 3 - p!,
                  go: () => ({ discrete: { ...now, low: true, set: true } }),
                },
            {
              label: 'end',
              over: ([, , v]) => (now.set && !now.low ? v! - (2 * V) / 3 : -1),
              go: ([p, b]) => ({ discrete: { ...now, set: false }, state: [p!, b!, 0] }),
            },
          ],
        },
        nets: (now, [p, b, v]) => ({
          in: p!,
          'F1.body': b!,
          timing: v!,
          plate: p! - series * intoBody(now, p!, b!),
        }),
      });
    });
  });

  test('a pulse train that reaches TRIGGER through a coupling capacitor, with pull-up and clamp diode', () => {
    interface Coupled {
      readonly edge: number;
      readonly diode: boolean;
      readonly low: boolean;
      readonly set: boolean;
    }
    overFactors(1307, (factor) => {
      const V = 9;
      const [R, C] = [47e3 * factor(), 47e-9 * factor()];
      const [CC, RP, RS] = [10e-9 * factor(), 22e3 * factor(), 680 * factor()];
      const [forward, slope] = [0.6, 40 * factor()];
      const unit = R * C;
      const [period, width, delay] = [0.83 * unit, 0.31 * unit, 0.2 * unit];
      const level = ({ edge }: Coupled): number => (edge % 2 === 1 ? 0 : V);
      const edgeTime = (edge: number): number => delay + Math.floor(edge / 2) * period + (edge % 2) * width;
      // TRIGGER above the rail by `over`; u is across the capacitor, source side plus. What comes through the capacitor
      // goes into pull-up and diode: (source - u - V - over)/RS = over/RP + (over - forward)/slope.
      const above = (now: Coupled, u: number): number => {
        const drive = (level(now) - u - V) / RS + (now.diode ? forward / slope : 0);
        return drive / (1 / RS + 1 / RP + (now.diode ? 1 / slope : 0));
      };
      const trigger = (now: Coupled, u: number): number => V + above(now, u);
      expectAgreement<Coupled>({
        parts: [
          ...monostable({ voltage: V, resistance: R, capacitance: C }),
          signal('G1', 'source', lowPulses(V, { period, width, delay }), { resistance: RS }),
          capacitor('CC', 'source', 'in', CC),
          resistor('RP', 'rail', 'in', RP),
          { name: 'D1', kind: 'diode', a: 'in', b: 'rail', forward, slope },
        ],
        until: 6 * unit,
        volts: V,
        events: [
          { label: 'low', part: 'U1', kind: 'triggerLow' },
          { label: 'high', part: 'U1', kind: 'triggerHigh' },
          { label: 'end', part: 'U1', kind: 'cleared' },
        ],
        equations: {
          discrete: { edge: 0, diode: false, low: false, set: false },
          state: [0, 0],
          derivative: (now, [u, v]) => [
            (level(now) - u! - trigger(now, u!)) / (RS * CC),
            now.set ? (V - v!) / (R * C) : 0,
          ],
          guards: (now) => [
            {
              label: 'edge',
              over: (_, t) => t - edgeTime(now.edge),
              go: () => ({ discrete: { ...now, edge: now.edge + 1 } }),
            },
            {
              label: 'diode',
              over: ([u]) => (now.diode ? forward - above(now, u!) : above(now, u!) - forward),
              go: () => ({ discrete: { ...now, diode: !now.diode } }),
            },
            now.low
              ? {
                  label: 'high',
                  over: ([u]) => trigger(now, u!) - V / 3,
                  go: () => ({ discrete: { ...now, low: false } }),
                }
              : {
                  label: 'low',
                  over: ([u]) => V / 3 - trigger(now, u!),
                  go: () => ({ discrete: { ...now, low: true, set: true } }),
                },
            {
              label: 'end',
              over: ([, v]) => (now.set && !now.low ? v! - (2 * V) / 3 : -1),
              go: ([u]) => ({ discrete: { ...now, set: false }, state: [u!, 0] }),
            },
          ],
        },
        nets: (now, [u, v]) => ({ in: trigger(now, u!), source: trigger(now, u!) + u!, timing: v! }),
      });
    });
  });
});
