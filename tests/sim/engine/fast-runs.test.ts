import { describe, expect, test } from 'vitest';
import { FastRuns } from '#sim/engine/fast-runs.ts';
import { beginning } from '../../support/circuit-beginning.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, resistor, supply } from '../../support/timer-circuits.ts';
import { amplifier, flipFlop } from '../../support/two-transistors.ts';

// Where circuits come to rest while their strays charge (decision 16), by what they are: of a flip-flop the transistor
// whose base is ahead wins, and a ring of an odd number finds no rest.

/** `count` transistors, each of which drives or holds the bases of those that `reaches` names. */
function transistors(count: number, cross: number, reaches: (one: number) => readonly number[]): FilePart[] {
  const numbers = Array.from({ length: count }, (_, k) => k);
  return [
    supply(9),
    ...numbers.map((k) => resistor(`RC${k}`, 'rail', `c${k}`, 1e3)),
    ...numbers.flatMap((k) => reaches(k).map((to) => resistor(`R${k}${to}`, `c${k}`, `b${to}`, cross))),
    ...numbers.map((k) => amplifier(`T${k}`, [`b${k}`, `c${k}`, 'ground'])),
  ];
}

/**
 * Which bases conduct in the end with each ratio of the strays, all alike first, from bases at given voltages; `undefined`
 * and `balanced` as they are.
 */
function conducting(parts: readonly FilePart[], controls: readonly number[], pieces?: readonly number[]) {
  const { graph, start, at } = beginning(parts);
  const { situation, z } = pieces === undefined ? start : at(pieces);
  const before = { pieces: situation.pieces, controls, speeds: [], jumped: true, followed: false };
  const { program, voltScale } = graph;
  return new FastRuns(program, voltScale).rests(situation, z, before).map((rest) => {
    if (typeof rest !== 'object') return rest;
    const bases = program.branches.flatMap(({ part }, index) => (part.startsWith('T') ? [rest.pieces[index]!] : []));
    return bases.filter((_, index) => index % 2 === 0).join('');
  });
}

describe('FastRuns.rests()', () => {
  const crossed = flipFlop(9, [1e3, 1e3], [10e3, 10e3]);

  test('comes to the state of the base that conducts already, whatever the strays', () => {
    expect(conducting(crossed, [0.7, 0])).toEqual(['10', '10', '10']);
    expect(conducting(crossed, [0, 0.7])).toEqual(['01', '01', '01']);
  });

  test('has each base in turn come last by far', () => {
    // Either of two collectors that are high lets the third base conduct: two conduct and hold off the one that comes last.
    const three = transistors(3, 20e3, (one) => [0, 1, 2].filter((other) => other !== one));
    const [alike, ...apart] = conducting(three, [0, 0, 0]);
    expect(apart).toEqual(['011', '101', '110']);
    expect(apart).toContain(alike);
  });

  test('is balanced where both conduct alike and neither is ahead by more than rounding', () => {
    // With both amplifying, 9 V - 1 kohm (100 i + i) - 10 kohm i - 0.65 V - 5 ohm i = 0.
    const current = (9 - 0.65) / (1e3 * 101 + 10e3 + 5);
    const pieces = beginning(crossed).start.situation.pieces.slice(0, -4).concat(1, 0, 1, 0);
    const base = 0.65 + 5 * current;
    expect(conducting(crossed, [base, base], pieces)).toEqual(['balanced', 'balanced', 'balanced']);
  });

  test('finds no rest where three turn each other over for ever, and says so after so many turns', () => {
    const ring = transistors(3, 10e3, (one) => [(one + 1) % 3]);
    expect(conducting(ring, [0.7, 0, 0])[0]).toBeUndefined();
  });

  test('keeps the voltages of capacitors, and of nets that transistors alone hold', () => {
    // C1 is charged to 3 V; between T3 and T4 there is no more than the stray of the net, which is at 0 V.
    const parts = [
      ...crossed,
      capacitor('C1', 'c1', 'x', 1e-6, { initial: 3 }),
      resistor('R5', 'x', 'ground', 1e3),
      resistor('R7', 'y', 'ground', 10e3),
      amplifier('T3', ['y', 'rail', 'm']),
      amplifier('T4', ['m', 'd', 'ground']),
      resistor('R6', 'rail', 'd', 1e3),
    ];
    const { graph, start } = beginning(parts);
    const { program, voltScale } = graph;
    const { pieces } = start.situation;
    const speeds = [...program.network.capacitors, ...program.network.held].map(() => 0);
    const before = { pieces, controls: [0.7, 0, 0, 0], speeds, jumped: true, followed: false };
    const rests = new FastRuns(program, voltScale).rests(start.situation, start.z, before);
    expect(rests).toHaveLength(5);
    for (const rest of rests) {
      if (typeof rest !== 'object') throw new Error('It finds no rest.');
      const at = (net: string): number => rest.nodes[program.nodeNames.indexOf(net)]!;
      expect(rest.onLimits).toBe(0);
      // Rounding of 9 V.
      expect(at('c1') - at('x')).toBeCloseTo(3, 12);
      expect(at('m')).toBeCloseTo(0, 12);
      expect(at('b1')).toBeGreaterThan(0.65);
      expect(at('b2')).toBeLessThan(0.65);
    }
  });
});
