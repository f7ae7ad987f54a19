import { describe, expect, test } from 'vitest';
import { simulate } from '#sim/run/run.ts';
import type { FilePart } from '../support/run-board.ts';

/*
 * What a run leaves out by counting a winding as its resistance, against closed forms of a winding with inductance. The
 * relay: 12 V, 300 Ω, pull-in at 7 V, operate time 10 ms at most (a maker's data of a relay for vehicles). Its inductance
 * is not stated; 0.3 H is a middle value for relays of this size, from memory.
 */
const [V, R, L] = [12, 300, 0.3];
const PULL_IN = 7 / R;
const OPERATE = 10e-3;
/** From a winding's end to ground: wires and a transistor that is off; a judgement, no source. */
const STRAY = 100e-12;

function board(across: readonly FilePart[]): FilePart[] {
  const wave = { shape: 'pulses', period: 1, width: 0.1, rest: 0, pulse: V, delay: 0.1, count: 1 };
  return [
    { name: 'G1', kind: 'signal', plus: 'coil', minus: 'ground', wave, resistance: 0 },
    { name: 'K1', kind: 'relay', a: 'coil', b: 'ground', voltage: V, resistance: R, pullIn: PULL_IN },
    ...across,
  ];
}

describe('a winding without its inductance', () => {
  test('the current of the real one reaches pull-in well within the operate time, which contains it', () => {
    // i = V/R (1 - exp(-t R/L)): pull-in after L/R ln(1 / (1 - 7/12)).
    const reached = (L / R) * Math.log(1 / (1 - (PULL_IN * R) / V));
    expect(reached).toBeCloseTo(0.875e-3, 6);
    expect(reached).toBeLessThan(OPERATE / 10);
    const { events } = simulate({ parts: board([]) }, { until: 0.3 });
    const pulled = events.find(({ kind }) => kind === 'pulledIn');
    // The data sheet's time, from the voltage on; with the rise counted again it would be later than stated.
    expect(pulled?.time).toBeCloseTo(0.1 + OPERATE, 12);
  });

  test('when it is switched on the run shows more charge than flows: V/R for one time constant L/R', () => {
    // The integral of V/R exp(-t R/L) is V L / R².
    const missing = (V * L) / R ** 2;
    const run = simulate({ parts: board([]) }, { until: 0.3 });
    const shown = Number(run.read('current(K1)', { from: 0.1, until: 0.2 }).value) * 0.1;
    expect(shown).toBeCloseTo((V / R) * 0.1, 12);
    // One part in a hundred of what a tenth of a second takes.
    expect(missing / shown).toBeCloseTo(0.01, 12);
  });

  test('without a diode the kick would be hundreds of times the supply, and ring: both is beyond what a run computes', () => {
    // I sqrt(L / C) for the first swing, and a damping R/2 sqrt(C/L) far below 1: complex eigenvalues.
    const kick = (V / R) * Math.sqrt(L / STRAY);
    expect(kick / V).toBeGreaterThan(100);
    expect((R / 2) * Math.sqrt(STRAY / L)).toBeLessThan(0.01);
    const run = simulate({ parts: board([]) }, { until: 0.3 });
    expect(run.trace('coil').envelope(1).low[0]).toBe(0);
  });

  test('even a microfarad across it would ring', () => {
    // Series resistance of the winding alone: R/2 sqrt(C/L) < 1 up to C = 4 L / R².
    expect((R / 2) * Math.sqrt(1e-6 / L)).toBeLessThan(1);
    expect((4 * L) / R ** 2).toBeCloseTo(13.3e-6, 7);
  });
});
