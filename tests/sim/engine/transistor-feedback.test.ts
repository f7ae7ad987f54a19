import { describe, expect, test } from 'vitest';
import { runCircuit } from '#sim/run/simulate.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, resistor, signal, supply } from '../../support/timer-circuits.ts';

function transistor(name: string, nets: Record<string, string>, more: Record<string, unknown> = {}): FilePart {
  return { name, kind: 'transistor', gain: 100, ...nets, ...more };
}

/** What a run tells up to where it ends, with its voltages at some earlier time. */
function endOf(parts: readonly FilePart[], until: number) {
  const trace = new StoredTrace();
  const outcome = runCircuit(circuitOf(parts), { until, observers: [trace] });
  return { outcome, trace };
}

/**
 * A ladder of three resistors and capacitors from the collector back to the base, which a press closes at 1 ms: the classic
 * phase-shift oscillator (from memory, in every textbook of electronics).
 */
function phaseShift(gain: number): FilePart[] {
  return [
    supply(9),
    resistor('RL', 'rail', 'c', 2.2e3),
    capacitor('C1', 'c', 'n1', 10e-9, { initial: 9 }),
    resistor('R1', 'n1', 'ground', 10e3),
    capacitor('C2', 'n1', 'n2', 10e-9),
    resistor('R2', 'n2', 'ground', 10e3),
    capacitor('C3', 'n2', 'n3', 10e-9),
    resistor('R3', 'n3', 'b', 10e3),
    { name: 'S1', kind: 'switch', a: 'rail', b: 'bias', resistance: 1, presses: [{ at: 1e-3, for: 1 }] },
    resistor('RB', 'bias', 'b', 1e6),
    transistor('T1', { base: 'b', collector: 'c', emitter: 'ground' }, { gain }),
  ];
}

describe('a run with transistors that feed back', () => {
  test('ends by name as the ladder rings, everything before it kept', () => {
    const { outcome, trace } = endOf(phaseShift(200), 5e-3);
    expect(outcome).toMatchObject({ code: 'rings', ok: false, parts: ['T1'] });
    // The moment at which the base has come up to its forward voltage.
    expect(outcome.time).toBeGreaterThan(1e-3);
    expect(trace.at({ net: 'b' }, outcome.time)).toBeCloseTo(0.65, 12);
    expect(outcome.message).toMatch(/^What T1 feeds back makes voltages swing.*leave gain out and state drive\.$/);
    expect(trace.at({ net: 'c' }, 0.9e-3)).toBe(9);
  });

  test('goes on where the gain is too small to ring', () => {
    const { outcome } = endOf(phaseShift(0.01), 5e-3);
    expect(outcome.code).toBe('reached');
  });

  test('ends by name where two time constants are the same, and goes on with a hundredth between them', () => {
    // The base has 10 nF behind 10 kohm beside the 5 ohm of the junction; the collector the same resistance and capacitance.
    const both = 1 / (1 / 10e3 + 1 / 5);
    const parts = (load: number): FilePart[] => [
      supply(9),
      signal('G1', 'in', { shape: 'constant', level: 0.7 }, { resistance: 0 }),
      resistor('R1', 'in', 'b', 10e3),
      capacitor('C1', 'b', 'ground', 10e-9, { initial: 0.7 }),
      resistor('R2', 'in', 'c', load),
      capacitor('C2', 'c', 'ground', 10e-9, { initial: 0.7 }),
      transistor('T1', { base: 'b', collector: 'c', emitter: 'ground' }, { gain: 0.5 }),
    ];
    const alike = endOf(parts(both), 1e-3).outcome;
    expect(alike).toMatchObject({ code: 'alike', ok: false, parts: ['T1'] });
    expect(alike.message).toMatch(/^Two time constants around T1 .*Change a resistor or a capacitor/);
    expect(endOf(parts(both * 1.01), 1e-3).outcome.code).toBe('reached');
  });

  describe('that amplify a ramp into a capacitor', () => {
    // From 1 V up by 2 V/s behind 1 Mohm: 100 (1 V + 2 V/s t - 0.65 V) / 1 Mohm out of 100 uF, 0.35 V/s and 2 V/s^2.
    const ramped = (more: readonly FilePart[], points: readonly (readonly [number, number])[]): FilePart[] => [
      supply(9),
      signal('G1', 'in', { shape: 'points', between: 'lines', points }),
      resistor('RB', 'in', 'b', 1e6),
      transistor('T1', { base: 'b', collector: 'c', emitter: 'ground' }),
      capacitor('C1', 'c', 'ground', 100e-6, { initial: 9 }),
      ...more,
    ];
    const level = [
      [0, 1],
      [0.25, 1],
    ] as const;

    test('ends by name as the ramp begins where nothing else discharges it, for its voltage is no straight line', () => {
      const { outcome, trace } = endOf(ramped([], [...level, [1, 2.5]]), 1);
      expect(outcome).toMatchObject({ code: 'curves', ok: false, time: 0.25, parts: ['T1'] });
      expect(outcome.message).toMatch(/^What T1 passes on .*leakage.*\.$/);
      expect(trace.at({ net: 'c' }, 0.25)).toBeCloseTo(9 - 0.35 * 0.25, 5);
      // A current that stands still makes a straight line, and one that is not amplified is not there.
      expect(endOf(ramped([], level), 1).outcome.code).toBe('reached');
      expect(
        endOf(
          ramped(
            [],
            [
              [0, 0],
              [1, 0.5],
            ],
          ),
          1,
        ).outcome.code,
      ).toBe('reached');
    });

    test('goes on where a resistor does: 9 V - 0.35 V/s t - 1 V/s^2 t^2, less what 10 Mohm take', () => {
      const { outcome, trace } = endOf(
        ramped(
          [resistor('R1', 'c', 'ground', 10e6)],
          [
            [0, 1],
            [1, 3],
          ],
        ),
        1,
      );
      expect(outcome.code).toBe('reached');
      // C v' = -v / R - (i + j t), with i = 35 uA less 0.5 nA for 5 ohm of the junction: solved with RC = 1000 s to 1e-4 V.
      for (const time of [0.25, 0.5, 1]) {
        const lost = ((9 - 0.35 * time) * time) / 1e3;
        expect(trace.at({ net: 'c' }, time)).toBeCloseTo(9 - 0.35 * time - time * time - lost, 3);
      }
    });
  });

  test('a transistor whose collector holds its own base settles, and does not ring with one capacitor', () => {
    const { outcome, trace } = endOf(
      [
        supply(9),
        resistor('R1', 'rail', 'c', 1e3),
        resistor('R2', 'c', 'b', 100e3),
        capacitor('C1', 'c', 'ground', 1e-6),
        transistor('T1', { base: 'b', collector: 'c', emitter: 'ground' }),
      ],
      1,
    );
    expect(outcome.code).toBe('reached');
    // 9 V = 1 kohm (gain + 1) i + 100 kohm i + 0.65 V + 5 ohm i.
    const base = 8.35 / (101e3 + 100e3 + 5);
    expect(trace.at({ net: 'c' }, 0.9)).toBeCloseTo(9 - 101e3 * base, 10);
  });
});
