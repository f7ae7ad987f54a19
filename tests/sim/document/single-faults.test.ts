import type { SymptomsFault, SymptomsResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, resultOf } from '../../support/documents.ts';

function symptomsOf(parts: readonly object[], take: object, until = '1 s'): (title: string) => SymptomsFault {
  const cell = { id: 'bench', kind: 'symptoms', board: 'board', until, take };
  const result: SymptomsResult = resultOf(computed(documentOf({ board: { parts } }, [cell])), 'bench', 'symptoms');
  return (title) => {
    const found = result.rows.find((each) => plain(each.title) === title);
    if (found === undefined) throw new Error(result.rows.map((each) => plain(each.title)).join('\n'));
    return found;
  };
}

const battery = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V', origin: 'battery' };
/** A transistor that lights a lamp while its base is driven, by a resistor from the rail. */
const driven = [
  battery,
  { name: 'R1', kind: 'resistor', a: 'rail', b: 'base', resistance: '10 kΩ' },
  { name: 'R2', kind: 'resistor', a: 'rail', b: 'collector', resistance: '1 kΩ' },
  { name: 'Q1', kind: 'transistor', base: 'base', collector: 'collector', emitter: 'ground' },
];

describe('computeDocument(document): single faults', () => {
  test('of a pot, by its voltage divider', () => {
    const parts = [
      battery,
      { name: 'P1', kind: 'pot', a: 'rail', wiper: 'wiper', b: 'ground', resistance: '10 kΩ', position: 0.25 },
      { name: 'R1', kind: 'resistor', a: 'wiper', b: 'ground', resistance: '1 GΩ' },
    ];
    const fault = symptomsOf(parts, { volts: 'mean(wiper)' });
    const volts = (title: string): number => Number(fault(title).values[0]);
    // Closed forms of the divider: 9 V times the share of the track below the wiper; 1 GΩ loads it by 2 ppm.
    expect(volts('ends of P1 exchanged')).toBeCloseTo(2.25, 4);
    expect(volts('P1 stuck with its wiper at a')).toBeCloseTo(9, 4);
    expect(volts('P1 stuck with its wiper at b')).toBeCloseTo(0, 4);
    expect(volts('P1 22 kΩ instead of 10 kΩ')).toBeCloseTo(6.75, 3);
    expect(volts('P1 4.7 kΩ instead of 10 kΩ')).toBeCloseTo(6.75, 4);
    // An open joint leaves 1 GΩ: half of the 6.75 V at the wiper's track over 1 GΩ of R1.
    expect(volts('wiper of P1 open')).toBeCloseTo(3.375, 3);
    expect(volts('track of P1 broken at its end b')).toBeCloseTo(9, 3);
    // 1 GΩ above, 7.5 kΩ beside 1 GΩ below.
    expect(volts('track of P1 broken at its end a')).toBeCloseTo(67.5e-6, 6);
    expect(volts('the wiper of P1 has a dry joint (1 kΩ in series)')).toBeCloseTo(6.75, 4);
  });

  test('of a transistor, by whether its load gets current, and only safe ones for building', () => {
    const fault = symptomsOf(driven, { load: 'current(R2)', driver: 'current(R1)' });
    const load = (title: string): number => Number(fault(title).values[0]);
    const saturated = (9 - 0.1) / 1005;
    expect(load('R1 12 kΩ instead of 10 kΩ')).toBeCloseTo(saturated, 9);
    for (const lead of ['base', 'collector', 'emitter']) expect(load(`${lead} of Q1 open`)).toBeLessThan(1e-6);
    // 0.1 Ω beside the saturated path; with the base at ground nothing is saturated.
    expect(load('collector and emitter of Q1 shorted')).toBeCloseTo(9 / 1000.1, 6);
    expect(load('base and emitter of Q1 shorted')).toBe(0);
    expect(fault('base and emitter of Q1 shorted').values[1]).toBeCloseTo(9 / 10000.1, 9);
    // Base and collector together: a diode of 0.65 V... a silicon diode of 0.6 V and 10 Ω takes both currents.
    expect(load('base and collector of Q1 shorted')).toBeCloseTo((9 - 0.6) / 1000, 3);
    // Exchanged base and collector: the junction of base and emitter (0.65 V) lies in the path of the load.
    expect(load('base and collector of Q1 exchanged')).toBeCloseTo((9 - 0.65) / 1005, 3);
    // The other polarity blocks; only its junction from collector to base is there, which stays reverse or at rest.
    expect(load('Q1 pnp instead of npn')).toBeCloseTo(0, 9);
    const never = [
      'base and collector of Q1 shorted',
      'collector and emitter of Q1 exchanged',
      'Q1 pnp instead of npn',
    ];
    for (const title of never) expect([title, fault(title).build]).toEqual([title, false]);
    for (const title of ['base of Q1 open', 'collector and emitter of Q1 shorted']) {
      expect([title, fault(title).build]).toEqual([title, true]);
    }
  });

  test('of a transistor with a gain: another gain, and little of it the wrong way round', () => {
    const parts = driven.map((part) => (part.kind === 'transistor' ? { ...part, gain: 100 } : part));
    const fault = symptomsOf(parts, { load: 'current(R2)' });
    const load = (title: string): number => Number(fault(title).values[0]);
    // The base gets (9 V - 0.65 V) / (10 kΩ + 5 Ω), 0.83 mA; saturated, the load would get 8.9 mA.
    const base = (9 - 0.65) / 10005;
    expect(load('Q1 with a gain of 300 instead of 100')).toBeCloseTo((9 - 0.1) / 1005, 6);
    expect(load('Q1 with a gain of 10 instead of 100')).toBeCloseTo(10 * base, 9);
    expect(load('collector and emitter of Q1 exchanged')).toBeCloseTo(5 * base, 9);
    expect(fault('Q1 with a gain of 10 instead of 100').build).toBe(true);
    expect(fault('collector and emitter of Q1 exchanged').build).toBe(false);
    // As a switch with the usual drive of 100 µA it then wants 2 mA, which it does not get.
    expect(symptomsOf(driven, { load: 'current(R2)' })('collector and emitter of Q1 exchanged').values[0]).toBeLessThan(
      1e-6,
    );
  });

  test('of a supply: flat, wrong and reversed, none reversed or too high for building', () => {
    const rated = { name: 'C1', kind: 'capacitor', a: 'rail', b: 'ground', capacitance: '1 µF', polarised: true };
    const fault = symptomsOf([...driven, rated], { rail: 'mean(rail)' });
    // 0.7 of 9 V behind 20 Ω, over 1005 Ω with 0.1 V in the path and 10 kΩ: within 0.2 V of 6.3 V.
    const flat = fault('BT1 flat (6.3 V behind 20 Ω instead of 9 V)');
    expect(flat.values[0]).toBeGreaterThan(6.1);
    expect(flat.values[0]).toBeLessThan(6.25);
    expect(flat.build).toBe(true);
    expect(fault('BT1 6 V instead of 9 V').values[0]).toBeCloseTo(6, 9);
    expect(fault('BT1 6 V instead of 9 V').build).toBe(true);
    expect(fault('BT1 12 V instead of 9 V').values[0]).toBeCloseTo(12, 9);
    expect(fault('BT1 12 V instead of 9 V').harms).toEqual(['What voltage C1 may have is not stated.']);
    expect(fault('BT1 reversed').values[0]).toBeCloseTo(-9, 9);
    expect(fault('BT1 reversed').build).toBe(false);
    expect(fault('BT1 not joined').values[0]).toBeLessThan(0.7);
    const steps = { ...battery, changes: [{ at: '0.5 s', voltage: '5 V' }] };
    const falling = symptomsOf([steps, ...driven.slice(1)], { late: 'level(rail, 0.8 s)' });
    expect(falling('BT1 6 V instead of 9 V').values[0]).toBeCloseTo((5 * 6) / 9, 9);
  });

  test('of a signal: its lead off, and a wave that stays at rest', () => {
    const wave = { shape: 'pulses', period: '100 ms', width: '10 ms', rest: '2 V', pulse: '0 V' };
    const parts = [
      { name: 'G1', kind: 'signal', plus: 'in', minus: 'ground', wave, resistance: '50 Ω' },
      { name: 'R1', kind: 'resistor', a: 'in', b: 'ground', resistance: '1 MΩ' },
    ];
    const fault = symptomsOf(parts, { rises: 'count(in)', volts: 'mean(in)' });
    expect(fault('G1 gives nothing (stays at 2 V)').values[1]).toBeCloseTo(2, 3);
    expect(fault('G1 gives nothing (stays at 2 V)').values[0]).toBe(1);
    expect(fault('lead of G1 off').values[1]).toBeLessThan(0.002);
  });

  test('inside a timer: dead inputs, stuck stages, and the package turned round is computed only', () => {
    const parts = [
      battery,
      {
        ...{ name: 'U1', kind: 'timer', family: 'bipolar' },
        pins: {
          ...{ supply: 'rail', ground: 'ground', trigger: 'timing', threshold: 'timing', output: 'out' },
          ...{ reset: 'rail', control: 'control', discharge: 'dis' },
        },
      },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'dis', resistance: '10 kΩ' },
      { name: 'R2', kind: 'resistor', a: 'dis', b: 'timing', resistance: '10 kΩ' },
      { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '1 µF', rating: '25 V' },
      { name: 'C2', kind: 'capacitor', a: 'control', b: 'ground', capacitance: '10 nF' },
      { name: 'R3', kind: 'resistor', a: 'out', b: 'ground', resistance: '1 kΩ' },
    ];
    const fault = symptomsOf(parts, { out: 'mean(out)', cap: 'mean(timing)', period: 'period(out)' });
    // A trigger that never acts leaves the latch cleared: output low, discharge closed.
    expect(fault('TRIGGER of U1 never acts').values[0]).toBeLessThan(0.1);
    // A threshold that never acts leaves it set: the capacitor charges to the rail.
    expect(fault('THRESHOLD of U1 never acts').values[1]).toBeGreaterThan(8.5);
    expect(fault('OUTPUT of U1 stuck high (10 Ω)').values[0]).toBeCloseTo((9 * 1000) / 1010, 2);
    expect(fault('OUTPUT of U1 stuck low (10 Ω)').values[0]).toBeCloseTo(0, 3);
    expect(fault('DISCHARGE of U1 stuck closed (10 Ω)').values[1]).toBeLessThan(0.05);
    for (const title of ['OUTPUT of U1 stuck low (10 Ω)', 'DISCHARGE of U1 stuck closed (10 Ω)', 'BT1 not joined']) {
      expect([title, fault(title).build, fault(title).harms]).toEqual([title, true, []]);
    }
    const turned = fault('U1 turned round in its socket');
    expect(turned.build).toBe(false);
    expect(turned.values[2]).toBe(null);
    // With the reset at the rail it is the supply of the turned timer, whose ground then hangs on the capacitor of CONTROL.
    expect(turned.change.steps).toHaveLength(4);
  });

  test('tells readings of a shorted LED on', () => {
    const parts = [
      battery,
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'anode', resistance: '470 Ω' },
      { name: 'D1', kind: 'led', a: 'anode', b: 'ground', colour: 'red' },
    ];
    const fault = symptomsOf(parts, { light: 'light(D1)' });
    expect(fault('D1 shorted').values[0]).toBe(0);
    expect(fault('D1 shorted').build).toBe(true);
  });
});
