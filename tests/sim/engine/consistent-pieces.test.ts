import { describe, expect, test } from 'vitest';
import { consistentPieces } from '#sim/engine/consistent-pieces.ts';
import { GuardCheck } from '#sim/engine/guard-check.ts';
import { beginning } from '../../support/circuit-beginning.ts';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, supply } from '../../support/timer-circuits.ts';

/** A transistor with a gain, between its base, collector and emitter. */
function transistor(name: string, polarity: string, joined: readonly [string, string, string], more: object): FilePart {
  const [base, collector, emitter] = joined;
  return { name, kind: 'transistor', polarity, base, collector, emitter, ...more };
}

/**
 * The bell driver of Fernhollow Junction, wired wrongly: the base of either transistor hangs on the other one. While T2 is
 * taken to conduct into T1, T1 has no consistent piece, so moving one branch at a time goes back and forth.
 */
const crossed: readonly FilePart[] = [
  supply(10),
  resistor('R1', 'e', 'rail', 400e3),
  resistor('R2', 'x', 'rail', 60e3),
  resistor('R3', 'y', 'ground', 40e3),
  capacitor('C1', 'c', 'rail', 20e-9, { initial: -5 }),
  transistor('T1', 'npn', ['x', 'c', 'e'], { forward: 1, saturation: 0.1, slope: 1, gain: 20 }),
  transistor('T2', 'pnp', ['y', 'x', 'e'], { forward: 1, saturation: 0.05, slope: 5, gain: 50 }),
];

describe('a run in which branches find no rest one by one', () => {
  test('begins in the state that is consistent', () => {
    const trace = storedRun(crossed, 1e-6);
    // By hand: x lies above e by the forward voltage of T1, so T2, whose collector it is, has no current in it. T1 is
    // saturated: its collector stands at 5 V. All currents into e go through the base of T2, and are 0 A together:
    // (10 - e) / 400k + (9 - e) / (60k + 1) + (4.9 - e) / 1 = (e - 1) / (40k + 5).
    const conductances = [1 / 400e3, 1 / 60001, 1, 1 / 40005];
    const driven = 10 * conductances[0]! + 9 * conductances[1]! + 4.9 * conductances[2]! + conductances[3]!;
    const e = driven / conductances.reduce((sum, one) => sum + one, 0);
    expect(trace.at({ net: 'c' }, 0)).toBeCloseTo(5, 12);
    expect(trace.at({ net: 'e' }, 0)).toBeCloseTo(e, 12);
    expect(trace.at({ net: 'x' }, 0)).toBeCloseTo(e + 1 + (9 - e) / 60001, 12);
  });
});

describe('consistentPieces()', () => {
  /** A flip-flop; the one that conducts at lower voltages is ahead when it is switched on. */
  const flipFlop = (first: number, second: number): FilePart[] => [
    supply(9),
    resistor('R1', 'rail', 'c1', 1e3),
    resistor('R2', 'rail', 'c2', 1e3),
    resistor('R3', 'c1', 'b2', 10e3),
    resistor('R4', 'c2', 'b1', 10e3),
    transistor('T1', 'npn', ['b1', 'c1', 'ground'], { forward: first, saturation: 0.1, slope: 5, gain: 100 }),
    transistor('T2', 'npn', ['b2', 'c2', 'ground'], { forward: second, saturation: 0.1, slope: 5, gain: 100 }),
  ];

  test.each([
    ['T1', 0.6, 0.65, [1, 2, 0]],
    ['T2', 0.65, 0.6, [0, 0, 1]],
  ])('takes the one of two states of a flip-flop that %s comes to first', (_, first, second, expected) => {
    const { graph, start } = beginning(flipFlop(first, second));
    const pieces = consistentPieces(graph, start.situation, start.z)!;
    // Base and collector of T1, base of T2: a base is open (0) or conducts (1), a collector is cut off (0) or saturated (2).
    expect(pieces.slice(-4, -1)).toEqual(expected);
  });

  test('leaves a circuit without transistors that amplify to whoever asked', () => {
    const { graph, start } = beginning([
      supply(10),
      resistor('R1', 'rail', 'x', 1e3),
      { name: 'D1', kind: 'diode', a: 'x', b: 'ground' },
    ]);
    expect(new GuardCheck().pastLimit(start.situation, start.z)).toBeGreaterThanOrEqual(0);
    expect(consistentPieces(graph, start.situation, start.z)).toBeUndefined();
  });
});
