import { describe, expect, test } from 'vitest';
import { runCircuit } from '#sim/run/simulate.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { capacitor, diode, lamp, resistor, supply, timer } from '../../support/timer-circuits.ts';

/** What a net has to ground where nobody wired anything (F), see `STRAY_CAPACITANCE`. */
const STRAY = 10e-12;

/** A constant current from a to b. */
function current(name: string, a: string, b: string, amperes: number): FilePart {
  return { name, kind: 'source', a, b, current: amperes, headroom: 0.5 };
}

/** A switch that is closed but for the time from `at` on (s). */
function opening(name: string, a: string, b: string, at: number): FilePart {
  return { name, kind: 'switch', a, b, closed: true, resistance: 1, presses: [{ at, for: 1 }] };
}

describe('a net that is handed over to a diode', () => {
  const fall = { at: 0, voltage: 0, over: 1e-3 };
  /** The net follows its rail to 0.5 ms, then the current takes it down more slowly than the rail falls. */
  const parts = [
    supply(9, { changes: [fall] }),
    opening('S1', 'rail', 'z', 0.5e-3),
    diode('D1', 'z', 'rail', { forward: 0.6, slope: 10 }),
    current('I1', 'z', 'ground', 50e-9),
  ];

  test('stays with it as long as the net would fall more slowly alone', () => {
    const trace = storedRun(parts, 2e-3);
    expect(trace.events.map(({ part, kind }) => `${part} ${kind}`)).toEqual([
      'S1 open',
      'D1 piece',
      'BT1 source',
      'D1 piece',
      'I1 piece',
    ]);
    const [, closes, stands, opens, fades] = trace.events.map(({ time }) => time);
    // From 4.5 V the rail falls 9 V/ms and the net 50 nA / 10 pF = 5 V/ms, so they part by 0.6 V in 0.15 ms. At 0.5 ms the
    // net is 1 Ω (50 nA + 10 pF 9 V/ms) below the rail: 0.14 µV, which is 4e-11 s.
    expect(Math.abs(closes! - 0.65e-3)).toBeLessThanOrEqual(1e-10);
    expect(stands).toBe(1e-3);
    // Then the rail stands; the diode carries 40 nA, and -50 nA is where that goes with 10 Ω 10 pF.
    expect(errorOf(opens! - stands!, 10 * STRAY * Math.log(90 / 50))).toBeLessThanOrEqual(1e-5);
    // From 0.6 V down to the headroom of 0.5 V at 5 V/ms.
    expect(errorOf(fades! - opens!, 0.1 / 5e3)).toBeLessThanOrEqual(1e-5);
    const at = (time: number): number => trace.at({ net: 'z' }, time);
    expect(errorOf(at(0.6e-3), 4.5 - 0.5)).toBeLessThanOrEqual(1e-6);
    // Headroom over current is 10 MΩ: with 10 pF, 0.1 ms.
    expect(errorOf(at(2e-3), 0.5 * Math.exp(-(2e-3 - fades!) / 1e-4))).toBeLessThanOrEqual(1e-9);
  });

  test('shows in the diode what charges the net: less than the slope of the rail alone would ask for', () => {
    const trace = storedRun(parts, 2e-3);
    expect(errorOf(trace.at({ current: 'D1' }, 0.9e-3), STRAY * 9e3 - 50e-9)).toBeLessThanOrEqual(1e-9);
  });
});

test('two loose nets that a diode joins move side by side at the mean of their speeds', () => {
  const parts = [
    supply(9),
    opening('S1', 'y', 'ground', 1e-3),
    opening('S2', 'z', 'ground', 1e-3),
    current('I1', 'rail', 'y', 10e-9),
    current('I2', 'rail', 'z', 30e-9),
    diode('D1', 'z', 'y', { forward: 0.6, slope: 10 }),
  ];
  const trace = storedRun(parts, 2e-3);
  const at = (net: string): number => trace.at({ net }, 1.5e-3);
  // They part by 2 V/ms until z leads by 0.6 V, after 0.3 ms; then both rise 2 V/ms.
  expect(errorOf(at('y'), 0.3 + 0.4)).toBeLessThanOrEqual(1e-6);
  expect(errorOf(at('z'), 0.9 + 0.4)).toBeLessThanOrEqual(1e-6);
});

test('a net that a closed switch holds has its voltage from the first instant on, whatever its stray', () => {
  // An ideal TRIGGER that looked at an empty stray capacitor would set its timer at once.
  const parts = [
    supply(9),
    opening('S1', 'rail', 'near', 1e-3),
    diode('D1', 'near', 'in', { forward: 0.6, slope: 10 }),
    current('I1', 'in', 'ground', 1e-9),
    timer('U1', { trigger: 'in', threshold: 'ground', output: 'out' }),
  ];
  const trace = new StoredTrace();
  const outcome = runCircuit(circuitOf(parts), { until: 0.5e-3, observers: [trace] });
  expect(outcome.code).toBe('reached');
  expect(trace.events.filter(({ part }) => part === 'U1')).toEqual([]);
  expect(errorOf(trace.at({ net: 'in' }, 0), 9 - 0.6)).toBeLessThanOrEqual(1e-6);
});

test('a net that a diode begins to lift from rest passes the limit it rests on once, not back and forth by rounding', () => {
  // Where the diode begins to conduct, the slopes of the fast part that is left over and of the slow one cancel.
  const parts = [
    supply(14),
    resistor('RN', 'rail', 'n1', 10e3),
    capacitor('CN', 'n1', 'ground', 10e-9),
    timer('U1', { trigger: 'n1', threshold: 'n1', discharge: 'z1', output: 'out' }, { family: 'cmos' }),
    resistor('RL', 'out', 'lit', 1e3),
    lamp('LL', 'lit', 'ground'),
    {
      name: 'S0',
      kind: 'switch',
      a: 'z1',
      b: 'rail',
      closed: false,
      resistance: 1,
      presses: [{ at: 1e-5, for: 1e-5 }],
    },
    diode('D0', 'n1', 'z2', { forward: 0.5126060964899954, slope: 10.42741870561778 }),
    { name: 'I0', kind: 'source', a: 'n1', b: 'ground', current: 0.00000190850355056027, headroom: 0.1298975200491549 },
    { name: 'I1', kind: 'source', a: 'z2', b: 'ground', current: 1.3794714583906216e-10, headroom: 0.3401328830282901 },
  ];
  const pieces = storedRun(parts, 1e-4).events.filter(({ part, time }) => part === 'I1' && time > 0);
  // Full from the headroom on.
  expect(pieces).toHaveLength(1);
});
