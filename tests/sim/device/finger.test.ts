import { describe, expect, test } from 'vitest';
import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import { cautions } from '#sim/circuit/cautions.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { LiveRun } from '#sim/run/live-run.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { errorOf } from '../../support/error-measure.ts';
import { boardOf, type FilePart } from '../../support/run-board.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { monostable, resistor, supply } from '../../support/timer-circuits.ts';

describe('finger', () => {
  const plate = (more: Record<string, unknown> = {}): FilePart[] => [
    supply(6),
    resistor('R2', 'rail', 'x', 8e6),
    resistor('R3', 'x', 'plate', 1e6),
    {
      name: 'F1',
      kind: 'finger',
      a: 'plate',
      touches: [{ at: 0.1, for: 0.3 }],
      capacitance: 100e-12,
      resistance: 1e6,
      earth: 'none',
      ...more,
    },
  ];

  test('at the touch the net drops to V (R3 + skin) / (R2 + R3 + skin), then rises as the body charges', () => {
    const trace = storedRun(plate(), 0.5);
    expect(trace.at({ net: 'x' }, 0.05)).toBe(6);
    expect(errorOf(trace.at({ net: 'x' }, 0.1), 1.2)).toBeLessThanOrEqual(1e-12);
    // 10 Mohm, 100 pF: 1 ms.
    expect(errorOf(trace.at({ net: 'x' }, 0.101), 6 - 4.8 * Math.exp(-1))).toBeLessThanOrEqual(1e-10);
    expect(errorOf(trace.at({ current: 'F1' }, 0.1), 6 / 10e6)).toBeLessThanOrEqual(1e-12);
  });

  test('the body keeps its charge after the touch, and loses it through its leak to earth', () => {
    const kept = storedRun(plate(), 2);
    expect(errorOf(kept.at({ net: 'F1.body' }, 2), 6)).toBeLessThanOrEqual(1e-12);
    expect(kept.at({ net: 'x' }, 1)).toBe(6);
    // 90 Mohm beside the 10 Mohm of the path: 5.4 V at the end of the touch, then 9 ms to 1/e.
    const leaking = storedRun(plate({ earth: 90e6 }), 2);
    expect(errorOf(leaking.at({ net: 'F1.body' }, 0.409), 5.4 / Math.E)).toBeLessThanOrEqual(1e-12);
  });

  test('a second touch finds the body as the first one left it', () => {
    const twice = plate({
      touches: [
        { at: 0.1, for: 0.1 },
        { at: 0.3, for: 0.1 },
      ],
    });
    const trace = storedRun(twice, 0.5);
    // Charged to 6 V less e^-100: nothing drops.
    expect(errorOf(trace.at({ net: 'x' }, 0.3), 6)).toBeLessThanOrEqual(1e-12);
    expect(eventsOf(trace, 'F1', 'close', 'open').map(({ kind }) => kind)).toEqual(['close', 'open', 'close', 'open']);
  });
});

describe('hum on a finger', () => {
  /** A finger that touches all the time, 230 V mains around it, on a plate that a resistor joins to 0 V. */
  const touching = (resistance: number, more: Record<string, unknown> = {}): FilePart[] => [
    supply(6),
    resistor('R1', 'plate', 'ground', resistance),
    {
      name: 'F1',
      kind: 'finger',
      a: 'plate',
      touches: [{ at: 0, for: 100 }],
      hum: 325,
      earth: 'none',
      resistance: 0,
      ...more,
    },
  ];

  /** Half the distance from the lowest to the highest value of a net in the tenth period of 20 ms. */
  function amplitude(parts: readonly FilePart[], net = 'plate'): number {
    const trace = storedRun(parts, 0.2);
    const values = Array.from({ length: 2001 }, (_, k) => trace.at({ net }, 0.18 + k * 1e-5));
    return (Math.max(...values) - Math.min(...values)) / 2;
  }

  const total = 103e-12;
  const open = (325 * 3) / 103;

  test('an untouched body swings by mains times coupling / (coupling + capacitance)', () => {
    const parts = touching(1e6, { touches: [] });
    expect(errorOf(amplitude(parts, 'F1.body'), open, { scale: open })).toBeLessThanOrEqual(5e-4);
  });

  test('through a resistor it swings by the closed form of an RC divider', () => {
    for (const resistance of [1e6, 10e6, 100e6]) {
      const ratio = 2 * Math.PI * 50 * resistance * total;
      const meant = (open * ratio) / Math.hypot(1, ratio);
      // The lines of a sine make steps of its slope: pi / 84 of it at most where nothing smooths them.
      expect(Math.abs(amplitude(touching(resistance)) / meant - 1)).toBeLessThanOrEqual(
        ratio < 0.1 ? Math.PI / 84 : 4e-3,
      );
    }
  });

  test('3 pF to 230 V at 50 Hz give 0.22 µA rms into a plate at 0 V (derived: 2 pi f C V)', () => {
    const trace = storedRun(touching(1), 0.2);
    const count = 8400;
    let squares = 0;
    for (let k = 0; k < count; k++) squares += trace.at({ current: 'F1' }, 0.1 + ((k + 0.5) / count) * 0.1) ** 2;
    const rms = Math.sqrt(squares / count);
    expect(Math.abs(rms / ((2 * Math.PI * 50 * 3e-12 * 325) / Math.SQRT2) - 1)).toBeLessThanOrEqual(1e-3);
    expect(rms * 1e6).toBeCloseTo(0.217, 3);
  });

  test('a board that is not at earth gets less: its stray capacitance stands in the way', () => {
    // Two capacitances in series: 103 pF of the body and 10 pF of the board.
    const series = 1 / (1 / total + 1 / 10e-12);
    const ratio = 2 * Math.PI * 50 * 10e6 * series;
    const meant = (open * ratio) / Math.hypot(1, ratio);
    const floating = touching(10e6, { earthed: false });
    expect(Math.abs(amplitude(floating) / meant - 1)).toBeLessThanOrEqual(0.02);
    expect(amplitude(floating)).toBeLessThan(amplitude(touching(10e6)) / 3);
  });

  test('60 Hz mains hums at 60 Hz', () => {
    const times = eventsOf(storedRun(plateSwitch({ frequency: 60 }), 0.5), 'U1', 'triggerLow').map(({ time }) => time);
    expect(times.length).toBeGreaterThan(10);
    const gaps = times.slice(1).map((time, k) => time - times[k]!);
    for (const gap of gaps.slice(5)) expect(Math.abs(gap * 60 - 1)).toBeLessThanOrEqual(1e-3);
  });

  /** A touch switch with a 22 MΩ pull-up at 6 V, touched for as long as the run lasts. */
  function plateSwitch(more: Record<string, unknown>): FilePart[] {
    return [
      ...monostable({ voltage: 6, resistance: 10e3, capacitance: 100e-9, ofTimer: { family: 'cmos' } }),
      resistor('R2', 'rail', 'in', 22e6),
      resistor('R3', 'in', 'plate', 1e6),
      { name: 'F1', kind: 'finger', a: 'plate', touches: [{ at: 0.1, for: 100 }], hum: 325, earth: 'none', ...more },
    ];
  }

  test('a plate works at a bench with mains and hardly on a battery far from it', () => {
    const count = (more: Record<string, unknown>): number =>
      eventsOf(storedRun(plateSwitch(more), 1), 'U1', 'triggerLow').length;
    // At the bench every period of the hum triggers; on a battery only the charge of the body at the first touch.
    expect(count({})).toBeGreaterThan(40);
    expect(count({ hum: 0 })).toBe(1);
    expect(count({ earthed: false })).toBeLessThanOrEqual(1);
  });

  test('a live finger hums while it is held on', () => {
    const board = boardOf(plateSwitch({ touches: [] }));
    const trace = new StoredTrace();
    const run = new LiveRun(board.circuit, { observers: [trace] });
    run.advance(0.1);
    expect(run.value('in')).toBeCloseTo(6, 3);
    run.press('F1');
    run.advance(0.4);
    run.release('F1');
    expect(eventsOf(trace, 'U1', 'triggerLow').length).toBeGreaterThan(12);
    run.advance(0.5);
    expect(run.value('in')).toBeCloseTo(6, 3);
  });

  test('the cautions for touching stand beside every board with a finger, hum or not', () => {
    for (const hum of [0, 325]) {
      const { circuit } = checkCircuit({ parts: touching(1e6, { hum }) }, standardKinds);
      const text = cautions(circuit!).join(' ');
      expect(text).toContain('battery');
      expect(text).toContain('1 MΩ');
    }
  });
});
