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

/** What flows by its law from each terminal of a part to the part (A), at voltages of all nets (V). */
function currentsInto(part: FilePart, at: (net: string) => number): readonly (readonly [string, number])[] {
  const value = (name: string): number => part[name] as number;
  const net = (name: string): string => part[name] as string;
  if (part.kind === 'resistor') {
    const current = (at(net('a')) - at(net('b'))) / value('resistance');
    return [
      [net('a'), current],
      [net('b'), -current],
    ];
  }
  // Of a transistor the base is a junction, and the collector carries what it amplifies or what saturation lets through.
  const sign = part['polarity'] === 'npn' ? 1 : -1;
  const [base, collector, emitter] = [net('base'), net('collector'), net('emitter')];
  const through = (terminal: string, drop: number): number =>
    Math.max(0, (sign * (at(terminal) - at(emitter)) - drop) / value('slope'));
  const ofBase = through(base, value('forward'));
  const ofCollector = Math.min(value('gain') * ofBase, through(collector, value('saturation')));
  return [
    [base, sign * ofBase],
    [collector, sign * ofCollector],
    [emitter, -sign * (ofBase + ofCollector)],
  ];
}

/** What flows into each net that no source or capacitor holds: 0 A by Kirchhoff's law. */
function leftOver(parts: readonly FilePart[], at: (net: string) => number): number[] {
  const sums = new Map<string, number>();
  for (const part of parts) {
    if (part.kind !== 'resistor' && part.kind !== 'transistor') continue;
    for (const [net, current] of currentsInto(part, at)) sums.set(net, (sums.get(net) ?? 0) + current);
  }
  return [...sums].filter(([net]) => !['ground', 'rail', 'c'].includes(net)).map(([, sum]) => sum);
}

/** The platform lamp's driver of Fernhollow Junction, with a transistor too many that takes the base current of the other. */
const robbed: readonly FilePart[] = [
  capacitor('C1', 'c', 'ground', 1e-7, { initial: -7 }),
  resistor('R1', 'e', 'ground', 100),
  resistor('R2', 'b', 'c', 100),
  resistor('R3', 'x', 'c', 10e3),
  transistor('T1', 'pnp', ['x', 'c', 'e'], { forward: 0.1, saturation: 0.1, slope: 1, gain: 100 }),
  transistor('T2', 'pnp', ['b', 'x', 'e'], { forward: 0.9, saturation: 0.01, slope: 1, gain: 10 }),
];

/**
 * Two transistors of which the second holds the first one back, so that their strays would swing: as soon as a contact has
 * let them conduct, the supply breaks down to 1 V.
 */
const heldBack: readonly FilePart[] = [
  supply(10, { changes: [{ at: 4e-3, voltage: 1, over: 0 }] }),
  { name: 'S1', kind: 'button', a: 'b', b: 'rail', resistance: 100, presses: [{ at: 3e-3, for: 5e-3 }] },
  resistor('R1', 'x', 'y', 100),
  resistor('R2', 'x', 'ground', 1e6),
  resistor('R3', 'b', 'x', 1e3),
  resistor('R4', 'e', 'rail', 500),
  transistor('T1', 'pnp', ['e', 'x', 'rail'], { forward: 0.9, saturation: 0.01, slope: 1, gain: 10 }),
  transistor('T2', 'npn', ['b', 'y', 'e'], { forward: 0.6, saturation: 0.1, slope: 10, gain: 10 }),
  transistor('T3', 'npn', ['y', 'e', 'ground'], { forward: 0.6, saturation: 0.1, slope: 50, gain: 100 }),
];

describe('a run in which branches find no rest one by one', () => {
  test('begins in the state that is consistent', () => {
    const trace = storedRun(robbed, 1e-9);
    // By hand: T2 is saturated and leaves T1 less than its forward voltage. All currents into e are 0 A together:
    // (0 - e) / 100 = (e - 0.9 + 7) / 101 + (e - 0.01 + 7) / 10001.
    const conductances = [1 / 100, 1 / 101, 1 / 10001];
    const e = -(6.1 * conductances[1]! + 6.99 * conductances[2]!) / conductances.reduce((sum, one) => sum + one, 0);
    expect(trace.at({ net: 'e' }, 0)).toBeCloseTo(e, 12);
    expect(trace.at({ net: 'x' }, 0)).toBeCloseTo(e - 0.01 - (e + 6.99) / 10001, 12);
    for (const sum of leftOver(robbed, (net) => (net === 'ground' ? 0 : trace.at({ net }, 0)))) {
      // Rounding of 7 V across 1 ohm, times a gain of 100.
      expect(Math.abs(sum)).toBeLessThan(1e-11);
    }
  });

  test('goes on in the state that is consistent', () => {
    const trace = storedRun(heldBack, 6e-3);
    const [at, closed] = [5e-3, resistor('S1', 'b', 'rail', 100)];
    const sums = leftOver([...heldBack, closed], (net) => (net === 'ground' ? 0 : trace.at({ net }, at)));
    expect(sums).toHaveLength(4);
    for (const sum of sums) expect(Math.abs(sum)).toBeLessThan(1e-11);
    // T2 and T3 conduct, T1 does not.
    expect(trace.at({ net: 'y' }, at)).toBeGreaterThan(0.6);
    expect(trace.at({ net: 'b' }, at) - trace.at({ net: 'e' }, at)).toBeGreaterThan(0.6);
    expect(1 - trace.at({ net: 'e' }, at)).toBeLessThan(0.9);
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

  interface LatchValues {
    readonly collector?: number;
    readonly base?: number;
    readonly top?: number;
    readonly starting: number;
    readonly gains?: readonly [npn: number, pnp: number];
  }

  /**
   * The latch that keeps the points motor of Fernhollow Junction switched off: each of two transistors drives the other one,
   * and a resistor from the rail starts them.
   */
  function latch(values: LatchValues): FilePart[] {
    const { collector = 10e3, base = 10e3, top = 1e3, starting, gains = [100, 50] } = values;
    const common = { forward: 0.6, saturation: 0.1, slope: 5 };
    return [
      supply(9),
      resistor('R1', 'rail', 'y', collector),
      resistor('R2', 'x', 'ground', base),
      resistor('R3', 'top', 'rail', top),
      resistor('R4', 'x', 'rail', starting),
      transistor('T1', 'npn', ['x', 'y', 'ground'], { ...common, gain: gains[0] }),
      transistor('T2', 'pnp', ['y', 'x', 'top'], { ...common, gain: gains[1] }),
    ];
  }

  /** The same parts with the last two the other way round: their ways out of pieces are looked at in another order. */
  const swapped = (parts: readonly FilePart[]): FilePart[] => [...parts.slice(0, -2), parts.at(-1)!, parts.at(-2)!];

  /** By how much guards are past their limits at most, in pieces that are taken together (V, A). */
  function pastBy(parts: readonly FilePart[], pieces: readonly number[]): number {
    const { situation, z } = beginning(parts).at(pieces);
    const { stateCount: n, rest, constants, rows } = situation;
    const values = [...constants].map((constant, g) =>
      [...z.subarray(0, n)].reduce((sum, here, k) => sum + rows[g * n + k]! * (here - rest[k]!), constant),
    );
    return Math.max(...values);
  }

  function found(parts: readonly FilePart[]): readonly number[] {
    const { graph, start } = beginning(parts);
    return consistentPieces(graph, start.situation, start.z)!;
  }

  test.each([
    // Without the transistors x lies at 9 V 10k / (10k + R4): 0.643 V, above the 0.6 V of T1; 0.486 V, below them.
    ['on, where what starts it is enough', 130e3, [1, 2, 1, 2]],
    ['off, where it is not', 175e3, [0, 0, 0, 0]],
  ])('takes the state of a latch that is %s', (_, starting, expected) => {
    const parts = latch({ starting });
    expect(found(parts).slice(-4)).toEqual(expected);
    expect(pastBy(parts, found(parts))).toBeLessThan(1e-12);
    expect(found(swapped(parts)).slice(-4)).toEqual([...expected.slice(2), ...expected.slice(0, 2)]);
  });

  test('takes a state that is consistent whichever transistor of a latch saturates first, or at all', () => {
    const states = new Set<string>();
    for (const collector of [1e3, 30e3]) {
      for (const top of [10, 3e3]) {
        for (const starting of [20e3, 100e3]) {
          for (const gains of [
            [100, 50],
            [5, 300],
          ] as const) {
            const parts = latch({ collector, top, starting, gains });
            for (const each of [parts, swapped(parts)]) expect(pastBy(each, found(each))).toBeLessThan(1e-9);
            states.add(found(parts).slice(-4).join());
          }
        }
      }
    }
    expect(states.size).toBeGreaterThan(2);
  });

  test('takes the same state whatever the pieces are that it comes from', () => {
    const parts = flipFlop(0.6, 0.65);
    const { graph, at, start } = beginning(parts);
    const expected = consistentPieces(graph, start.situation, start.z);
    for (const bases of [
      [1, 1],
      [0, 1],
      [1, 0],
    ] as const) {
      const others = start.situation.pieces.slice();
      [others[others.length - 4], others[others.length - 2]] = bases;
      const { situation, z } = at(others);
      expect(consistentPieces(graph, situation, z)).toEqual(expected);
    }
  });

  test('leaves nets that transistors alone join where they are at that instant', () => {
    // T1 drives T2 (a pair). The net between them is at 0 V, its stray alone holds it: T1 carries on to it, a hundred times
    // what flows through R1, (9 V - 0.6 V) / 100 kohm, which is 8.4 mA; T2 does not conduct yet.
    const parts = [
      supply(9),
      resistor('R1', 'rail', 'x', 100e3),
      resistor('R2', 'rail', 'c', 1e3),
      resistor('R3', 'rail', 'd', 1e3),
      transistor('T1', 'npn', ['x', 'c', 'm'], { forward: 0.6, saturation: 0.1, slope: 5, gain: 100 }),
      transistor('T2', 'npn', ['m', 'd', 'ground'], { forward: 0.6, saturation: 0.1, slope: 5, gain: 100 }),
    ];
    const pieces = found(parts);
    expect(pieces.slice(-4)).toEqual([1, 0, 0, 0]);
    expect(pastBy(parts, pieces)).toBeLessThan(1e-12);
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
