import { describe, expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import type { ArmedGuard } from '#sim/engine/armed-guards.ts';
import type { Checkpoint } from '#sim/engine/checkpoint.ts';
import { Driver } from '#sim/engine/driver.ts';
import { buildProgram } from '#sim/engine/program.ts';
import { Snap } from '#sim/engine/snap.ts';
import { WaysBack } from '#sim/engine/ways-back.ts';
import { beginning } from '../../support/circuit-beginning.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, resistor, supply } from '../../support/timer-circuits.ts';
import { amplifier, flipFlop } from '../../support/two-transistors.ts';

// When the state that follows is looked for, and what is told of it (decision 16), on a flip-flop whose two states are plain.
// A transistor's pieces are those of its base (1: conducts) and of its collector (0: amplifies, 2: saturated).

const crossed = flipFlop(9, [1e3, 1e3], [10e3, 10e3]);
const [NONE, FIRST, SECOND, BOTH] = [
  [0, 0, 0, 0],
  [1, 2, 0, 0],
  [0, 0, 1, 2],
  [1, 0, 1, 0],
] as const;

/** A snap of some parts, the last of which are T1 and T2, and the situation with these in given pieces. */
function looking(parts: readonly FilePart[] = crossed) {
  const { graph, at, start } = beginning(parts);
  const all = (pieces: readonly number[]): readonly number[] => start.situation.pieces.slice(0, -4).concat(pieces);
  const snap = Snap.of(graph)!;
  /** What it says while T1 and T2 are in some pieces: those that they come to and what is told of it, or who is undecided. */
  const next = (pieces: readonly number[], guard?: ArmedGuard, back = new WaysBack()) => {
    const { situation, z } = at(all(pieces));
    const found = snap.next(situation, z, guard, back);
    if (found === undefined || 'parts' in found) return found;
    return { pieces: found.pieces.slice(-4), changes: found.changes };
  };
  /** Lets it know how the circuit stood: T1 and T2, and the voltages of their bases (V). */
  const stood = (pieces: readonly number[], controls: readonly number[], more: Partial<Checkpoint['before']> = {}) => {
    const { capacitors, held } = graph.program.network;
    const speeds = [...capacitors, ...held].map(() => 0);
    snap.before = { pieces: all(pieces), controls, speeds, jumped: true, followed: false, ...more };
  };
  return { graph, snap, next, stood, at: (pieces: readonly number[]) => at(all(pieces)) };
}

/** A guard of a branch that moves, or of a reactor of some rank. */
function firing(code: number, rank?: number): ArmedGuard {
  const reads = { plus: 0, minus: 0, branch: -1, sign: 1, offset: 0 } as const;
  const guard = { event: 0, rank: rank ?? 0, watch: { branch: 0, sign: 1 }, offset: 0 } as const;
  return { code, rank: rank ?? 0, guard: rank === undefined ? undefined : guard, ...reads };
}

function waysBack(...events: readonly number[]): WaysBack {
  const back = new WaysBack();
  for (const event of events) back.add(event);
  return back;
}

describe('Snap.of()', () => {
  test('leaves circuits of fewer than two transistors with a gain alone', () => {
    const one = [
      supply(9),
      resistor('R1', 'rail', 'b', 10e3),
      resistor('R2', 'rail', 'c', 1e3),
      amplifier('T1', ['b', 'c', 'ground']),
    ];
    expect(Snap.of(beginning(one).graph)).toBeUndefined();
    expect(Snap.of(beginning(crossed).graph)).toBeDefined();
  });

  test('takes the standing of a run of another version of the circuit for what was before, and that it may have jumped', () => {
    // Emitters above ground, so that a base is not where its junction is.
    const raised = [
      ...crossed.map((part) => (part['emitter'] === undefined ? part : { ...part, emitter: 'e' })),
      resistor('RE', 'e', 'ground', 100),
      capacitor('CE', 'e', 'ground', 1e-6),
    ];
    const program = buildProgram(circuitOf(raised), standardDevices);
    const former = new Driver(program, []);
    former.advance(1, { maxEvents: 100 });
    const standing = former.standing()!;
    const { before } = Snap.of(beginning(raised).graph, standing)!;
    const at = (net: string): number => standing.nodes[program.nodeNames.indexOf(net)]!;
    expect(at('e')).toBeGreaterThan(0.5);
    expect(before).toEqual({
      pieces: standing.pieces,
      controls: [at('b1') - at('e'), at('b2') - at('e')],
      speeds: [0],
      jumped: true,
      followed: false,
    });
  });
});

describe('Snap.leave()', () => {
  test('notes the voltages of the bases, and how fast capacitors and nets that transistors alone hold change', () => {
    // C1 is charged through 1 kohm: 9 V / 1 ms. T3 lets T4 have 100 + 1 times what comes through 10 kohm, of which no more than
    // the stray of 10 pF takes note: 101 (9 - 0.65) V / (10 kohm + 5 ohm) / 10 pF. T1 and T2 do not conduct yet.
    const parts = [
      supply(9),
      resistor('R5', 'rail', 'x', 1e3),
      capacitor('C1', 'x', 'ground', 1e-6),
      resistor('R6', 'rail', 'y', 10e3),
      resistor('R7', 'rail', 'd', 1e3),
      amplifier('T3', ['y', 'rail', 'm']),
      amplifier('T4', ['m', 'd', 'ground']),
      ...crossed.slice(1),
    ];
    const { graph, snap } = looking(parts);
    const { start, at } = beginning(parts);
    const third = graph.program.branches.findIndex(({ part }) => part === 'T3');
    const { situation, z } = at(start.situation.pieces.map((piece, index) => (index === third ? 1 : piece)));
    snap.leave(situation, z, 0);
    const { speeds, controls, jumped } = snap.before!;
    expect(speeds[0]! / (9 / 1e-3)).toBeCloseTo(1, 9);
    const current = (9 - 0.65) / (10e3 + 5);
    expect(speeds[1]! / ((101 * current) / 10e-12)).toBeCloseTo(1, 9);
    const order = controls.map((_, k) => k);
    expect(order).toHaveLength(4);
    // T1 and T2 see 9 V behind their resistors, T3 its junction, T4 the empty stray.
    expect(controls.map((voltage) => Math.round(voltage * 1e3) / 1e3).sort()).toEqual([
      0,
      Math.round((0.65 + 5 * current) * 1e3) / 1e3,
      9,
      9,
    ]);
    expect(jumped).toBe(false);
  });
});

describe('Snap.jump()', () => {
  test('takes note of all that is more than the move of a branch, once there is something to jump from', () => {
    const { snap, stood } = looking();
    snap.jump('source');
    expect(snap.before).toBeUndefined();
    stood(FIRST, [0.65, 0.14], { jumped: false });
    snap.jump('piece');
    snap.jump('snap');
    expect(snap.before!.jumped).toBe(false);
    snap.jump('close');
    expect(snap.before).toMatchObject({ controls: [0.65, 0.14], jumped: true });
  });
});

describe('Snap.next() at the first instant', () => {
  test('goes on in the state that a slow rise of the supply comes to, as no snap', () => {
    // T1 comes first: the bases are alike, and so is the rest.
    expect(looking().next(BOTH)).toEqual({ pieces: FIRST, changes: [] });
    expect(looking().next(NONE)).toEqual({ pieces: FIRST, changes: [] });
    expect(looking().next(SECOND)).toEqual({ pieces: FIRST, changes: [] });
    expect(looking().next(FIRST)).toBeUndefined();
  });

  test('looks once, when branches have settled', () => {
    const { next } = looking();
    expect(next(BOTH, firing(0))).toBeUndefined();
    expect(next(BOTH)).toEqual({ pieces: FIRST, changes: [] });
    expect(next(BOTH)).toBeUndefined();
  });

  test('leaves what has one state to its branches', () => {
    const apart = crossed.map((part) => (part.name === 'R3' ? { ...part, a: 'rail' } : part));
    expect(looking(apart).next(NONE)).toBeUndefined();
  });
});

describe('Snap.next()', () => {
  test('follows the base that was ahead where both amplify, and tells of a snap', () => {
    const { next, stood } = looking();
    stood(SECOND, [0.7, 0]);
    expect(next(BOTH)).toEqual({
      pieces: FIRST,
      changes: [
        { part: 'T1', from: 'off', to: 'saturated' },
        { part: 'T2', from: 'saturated', to: 'off' },
      ],
    });
    stood(FIRST, [0, 0.7]);
    expect(next(BOTH)).toMatchObject({ pieces: SECOND });
  });

  test('follows it after a jump as well, which is no snap', () => {
    const { next, stood } = looking();
    stood(FIRST, [0, 0.7]);
    expect(next(NONE)).toEqual({ pieces: SECOND, changes: [] });
    stood(FIRST, [0, 0.7], { jumped: false });
    expect(next(NONE)).toBeUndefined();
  });

  test('follows it where a branch that has moved turns back, and tells of a snap', () => {
    const { next, stood } = looking();
    stood(FIRST, [0, 0.7], { jumped: false });
    expect(next(NONE, firing(7), waysBack(6))).toBeUndefined();
    expect(next(NONE, firing(7), waysBack(6, 7))).toMatchObject({ pieces: SECOND, changes: [{}, {}] });
  });

  test('does not look before branches have settled, nor where none has moved, nor twice', () => {
    const { snap, next, stood } = looking();
    stood(FIRST, [0, 0.7]);
    expect(next(BOTH, firing(7))).toBeUndefined();
    expect(snap.before!.followed).toBe(false);
    expect(next(FIRST)).toBeUndefined();
    expect(snap.before!.followed).toBe(false);
    expect(next(BOTH)).toMatchObject({ pieces: SECOND });
    expect(next(BOTH)).toBeUndefined();
  });

  test('looks where several states are possible after a jump or were before, not where there is one', () => {
    // A contact lets the first collector reach the second base.
    const parts = [
      { name: 'S1', kind: 'button', a: 'c1', b: 'x', resistance: 1, presses: [] },
      ...crossed.map((part) => (part.name === 'R3' ? { ...part, a: 'x' } : part)),
      resistor('R8', 'x', 'ground', 1e6),
    ];
    // T1 and T2 come last in `looking`.
    parts.push(...parts.splice(-3, 2));
    const { graph, snap, at, next, stood } = looking(parts);
    const contact = graph.program.branches.findIndex(({ part }) => part === 'S1');
    const closed = (pieces: readonly number[]): readonly number[] =>
      pieces.map((piece, index) => (index === contact ? 1 - piece : piece));
    const looksFrom = (before: readonly number[]): boolean => {
      stood(SECOND, [0.7, 0], { pieces: before });
      next(FIRST);
      return snap.before!.followed;
    };
    const second = at(SECOND).situation.pieces;
    expect(looksFrom(second)).toBe(false);
    expect(looksFrom(closed(second))).toBe(true);
  });

  test('names those that strays of other ratios leave in other states, not one that all of them turn on', () => {
    const third = [
      resistor('R5', 'rail', 'b3', 100e3),
      resistor('R6', 'rail', 'c3', 10e3),
      amplifier('T3', ['b3', 'c3', 'ground']),
    ];
    const { next, stood } = looking([supply(9), ...third, ...crossed.slice(1)]);
    stood(NONE, [0.66, 0, 0]);
    expect(next(BOTH)).toEqual({ parts: ['T1', 'T2'] });
  });

  test('names those that amplify where rounding alone would decide', () => {
    const { next, stood } = looking();
    // Both conduct alike: 9 V - 0.65 V = (101 times 1 kohm + 10 kohm + 5 ohm) i, to rounding.
    const base = 0.65 + (5 * (9 - 0.65)) / (101e3 + 10e3 + 5);
    stood(BOTH, [base, base]);
    expect(next(BOTH)).toEqual({ parts: ['T1', 'T2'] });
  });

  test('goes on in a consistent state where branches move on and on, as no snap', () => {
    const many = waysBack(...Array.from({ length: 64 }, (_, k) => 100 + k));
    const { next, stood } = looking();
    const follows = { jumped: false, followed: true };
    stood(FIRST, [0, 0.7], follows);
    expect(next(NONE, firing(7), many)).toEqual({ pieces: FIRST, changes: [] });
    expect(next(NONE, firing(7), waysBack(6))).toBeUndefined();
    // Not where it is a reactor's turn, nor where nothing moves.
    expect(next(NONE, firing(7, 0), many)).toBeUndefined();
    expect(next(NONE, firing(7, 1), many)).toBeUndefined();
    stood(FIRST, [0, 0.7], follows);
    expect(next(NONE, undefined, many)).toBeUndefined();
  });

  test('notes where the circuit stands before a reactor answers, and otherwise leaves that to who lets time pass', () => {
    const { snap, next } = looking();
    next(FIRST);
    next(FIRST, firing(7));
    next(FIRST, firing(7, 0));
    expect(snap.before).toBeUndefined();
    next(FIRST, firing(7, 1));
    expect(snap.before).toMatchObject({ jumped: false, followed: false });
    // T1 is saturated, 0.1 V and 5 ohm: T2 sees its collector.
    expect(snap.before!.controls[1]).toBeLessThan(0.2);
  });
});
