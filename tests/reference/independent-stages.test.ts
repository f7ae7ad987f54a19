import { describe, test } from 'vitest';
import { expectAgreement, latch } from '../support/hand-comparison.ts';
import type { HandGuard } from '../support/hand-integration.ts';
import { overFactors } from '../support/over-factors.ts';
import { capacitor, lowPulses, monostable, resistor, signal, supply, timer } from '../support/timer-circuits.ts';

/**
 * Circuits whose equations are written out by hand, node by node from Kirchhoff's law, and integrated by an ODE package.
 * Nothing of the engine's way from parts to equations is used, so a wrong sign, a lost part or a wrong state would show.
 * Values are those given times random factors from a half to two. Here: a timer's own
 * delays, one-way and limited stages.
 */
describe('the engine agrees with equations written by hand for', () => {
  test('a monostable with delay, least trigger width and a discharge that is limited, resistive and not empty', () => {
    interface Limited {
      readonly edge: number;
      readonly low: boolean;
      readonly accept: number;
      readonly accepted: boolean;
      readonly latched: boolean;
      readonly due: number;
      readonly out: boolean;
      readonly piece: 'blocked' | 'sinking' | 'limited';
    }
    const never = Number.POSITIVE_INFINITY;
    overFactors(1403, (factor) => {
      const V = 12;
      const [R, C] = [22e3 * factor(), 100e-9 * factor()];
      const [ron, saturation, most] = [220 * factor(), 0.15, 12e-3 * factor()];
      const unit = R * C;
      const [delay, least] = [0.05 * unit * factor(), 0.02 * unit * factor()];
      const [period, width, first] = [1.37 * unit, 0.11 * unit, 0.3 * unit];
      const corner = saturation + ron * most;
      const sink = ({ out, piece }: Limited, v: number): number =>
        out || piece === 'blocked' ? 0 : piece === 'limited' ? most : (v - saturation) / ron;
      const level = ({ edge }: Limited): number => (edge % 2 === 1 ? 0 : V);
      const edgeTime = (edge: number): number => first + Math.floor(edge / 2) * period + (edge % 2) * width;
      /** The latch takes a value; output and discharge follow after the delay. */
      const latchTo = (now: Limited, latched: boolean, t: number): Limited =>
        now.latched === latched ? now : { ...now, latched, due: t + delay };
      const pieces = (now: Limited): HandGuard<Limited>[] => {
        if (now.out) return [];
        const to = (piece: Limited['piece'], over: (v: number) => number): HandGuard<Limited> => ({
          label: 'piece',
          over: ([v]) => over(v!),
          go: () => ({ discrete: { ...now, piece } }),
        });
        if (now.piece === 'blocked') return [to('sinking', (v) => v - saturation)];
        if (now.piece === 'limited') return [to('sinking', (v) => corner - v)];
        return [to('blocked', (v) => saturation - v), to('limited', (v) => v - corner)];
      };
      expectAgreement<Limited>({
        parts: [
          ...monostable({
            voltage: V,
            resistance: R,
            capacitance: C,
            ofTimer: {
              with: {
                delay,
                minimumTrigger: least,
                dischargeResistance: ron,
                dischargeSaturation: saturation,
                dischargeCurrent: most,
              },
            },
          }),
          signal('G1', 'in', lowPulses(V, { period, width, delay: first })),
        ],
        until: 6 * unit,
        volts: V,
        events: [
          ...latch,
          { label: 'follow', part: 'U1', kind: 'outputHigh' },
          { label: 'piece', part: 'U1', kind: 'piece' },
          { label: 'back', part: 'U1', kind: 'outputLow' },
        ],
        equations: {
          discrete: {
            edge: 0,
            low: false,
            accept: never,
            accepted: false,
            latched: false,
            due: never,
            out: false,
            piece: 'sinking',
          },
          state: [0],
          derivative: (now, [v]) => [((V - v!) / R - sink(now, v!)) / C],
          guards: (now) => [
            ...pieces(now),
            {
              label: 'edge',
              over: (_, t) => t - edgeTime(now.edge),
              go: () => ({ discrete: { ...now, edge: now.edge + 1 } }),
            },
            {
              label: now.out ? 'back' : 'follow',
              over: (_, t) => (now.due === never ? -1 : t - now.due),
              go: () => ({ discrete: { ...now, out: !now.out, due: never, piece: 'sinking' } }),
            },
            {
              label: now.latched ? 'accepted' : 'on',
              over: (_, t) => (now.accept === never ? -1 : t - now.accept),
              go: (_, t) => ({ discrete: latchTo({ ...now, accept: never, accepted: true }, true, t) }),
            },
            now.low
              ? {
                  label: 'high',
                  over: () => level(now) - V / 3,
                  go: () => ({ discrete: { ...now, low: false, accepted: false, accept: never } }),
                }
              : {
                  label: 'low',
                  over: () => V / 3 - level(now),
                  go: (_, t) => ({ discrete: { ...now, low: true, accept: t + least } }),
                },
            {
              label: 'off',
              over: ([v]) => (now.latched && !now.accepted ? v! - (2 * V) / 3 : -1),
              go: (_, t) => ({ discrete: latchTo(now, false, t) }),
            },
          ],
        },
        nets: (now, [v]) => ({ timing: v!, in: level(now), out: now.out ? V : 0 }),
      });
    });
  });

  test('an astable fed from a bipolar output: one-way stages with drops, a pull-up, bias currents and delay', () => {
    interface Fed {
      readonly low: boolean;
      readonly accept: number;
      readonly accepted: boolean;
      readonly latched: boolean;
      readonly due: number;
      readonly out: boolean;
      readonly giving: boolean;
      readonly near: boolean;
    }
    const never = Number.POSITIVE_INFINITY;
    overFactors(1404, (factor) => {
      const V = 5;
      const [RF, RU, C] = [20e3 * factor(), 10e3 * factor(), 10e-9 * factor()];
      const [drop, rh, saturation, rl] = [1.3, 60 * factor(), 0.1, 90 * factor()];
      const [intoThreshold, outOfTrigger, fade] = [2e-6 * factor(), 5e-6 * factor(), 0.5];
      const unit = RF * C;
      const [delay, least] = [0.03 * unit * factor(), 0.005 * unit * factor()];
      // The output pin: pull-up, the resistor to the capacitor, and whichever stage conducts.
      const pin = (now: Fed, v: number): number => {
        const [aim, through] = now.out ? [V - drop, now.giving ? rh : Infinity] : [saturation, rl];
        return (V / RU + v / RF + aim / through) / (1 / RU + 1 / RF + 1 / through);
      };
      const latchTo = (now: Fed, latched: boolean, t: number): Fed =>
        now.latched === latched ? now : { ...now, latched, due: t + delay };
      expectAgreement<Fed>({
        parts: [
          supply(V),
          timer(
            'U1',
            { trigger: 'timing', threshold: 'timing', output: 'out' },
            {
              family: 'bipolar',
              with: {
                outputHighDrop: drop,
                outputHighResistance: rh,
                outputLowSaturation: saturation,
                outputLowResistance: rl,
                thresholdCurrent: intoThreshold,
                triggerCurrent: outOfTrigger,
                delay,
                minimumTrigger: least,
              },
            },
          ),
          resistor('RF', 'out', 'timing', RF),
          resistor('RU', 'rail', 'out', RU),
          capacitor('C1', 'timing', 'ground', C),
        ],
        until: 9 * unit,
        volts: V,
        events: [
          ...latch,
          { label: 'follow', part: 'U1', kind: 'outputHigh' },
          { label: 'back', part: 'U1', kind: 'outputLow' },
        ],
        happens: ['stage', 'full'],
        equations: {
          discrete: {
            low: false,
            accept: never,
            accepted: false,
            latched: false,
            due: never,
            out: false,
            giving: false,
            near: true,
          },
          state: [0],
          derivative: (now, [v]) => {
            // The threshold's current fades over the last half volt above ground; the pin never comes near the rail.
            const bias = outOfTrigger - (now.near ? (intoThreshold * v!) / fade : intoThreshold);
            return [((pin(now, v!) - v!) / RF + bias) / C];
          },
          guards: (now) => [
            {
              label: 'full',
              over: ([v]) => (now.near ? v! - fade : -1),
              go: () => ({ discrete: { ...now, near: false } }),
            },
            {
              label: 'stage',
              over: ([v]) => {
                if (!now.out) return -1;
                const above = V - drop - pin(now, v!);
                return now.giving ? -above : above;
              },
              go: () => ({ discrete: { ...now, giving: !now.giving } }),
            },
            {
              label: now.out ? 'back' : 'follow',
              over: (_, t) => (now.due === never ? -1 : t - now.due),
              go: () => ({ discrete: { ...now, out: !now.out, due: never, giving: true } }),
            },
            {
              label: now.latched ? 'accepted' : 'on',
              over: (_, t) => (now.accept === never ? -1 : t - now.accept),
              go: (_, t) => ({ discrete: latchTo({ ...now, accept: never, accepted: true }, true, t) }),
            },
            now.low
              ? {
                  label: 'high',
                  over: ([v]) => v! - V / 3,
                  go: () => ({ discrete: { ...now, low: false, accepted: false, accept: never } }),
                }
              : {
                  label: 'low',
                  over: ([v]) => V / 3 - v!,
                  go: (_, t) => ({ discrete: { ...now, low: true, accept: t + least } }),
                },
            {
              label: 'off',
              over: ([v]) => (now.latched && !now.accepted ? v! - (2 * V) / 3 : -1),
              go: (_, t) => ({ discrete: latchTo(now, false, t) }),
            },
          ],
        },
        nets: (now, [v]) => ({ timing: v!, out: pin(now, v!) }),
      });
    });
  });
});
