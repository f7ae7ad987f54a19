import { describe, expect, test } from 'vitest';
import { SeveralStates } from '#sim/engine/several-states.ts';
import { beginning } from '../../support/circuit-beginning.ts';
import type { FilePart } from '../../support/run-board.ts';
import { resistor, supply } from '../../support/timer-circuits.ts';
import { amplifier, flipFlop } from '../../support/two-transistors.ts';

/** Transistors side by side, none of which does anything to another. */
const sideBySide = (count: number): FilePart[] => [
  supply(9),
  ...Array.from({ length: count }, (_, k) => [
    resistor(`RB${k}`, 'rail', `b${k}`, 100e3),
    resistor(`RC${k}`, 'rail', `c${k}`, 1e3),
    amplifier(`T${k}`, [`b${k}`, `c${k}`, 'ground']),
  ]).flat(),
];
const crossed = flipFlop(9, [1e3, 1e3], [10e3, 10e3]);

function possible(parts: readonly FilePart[]): boolean {
  const { graph, start } = beginning(parts);
  const states = new SeveralStates(graph);
  const answer = states.possible(start.situation.pieces);
  expect(states.possible(start.situation.pieces)).toBe(answer);
  return answer;
}

describe('SeveralStates.possible()', () => {
  test('is so of a flip-flop, and not of transistors side by side', () => {
    expect(possible(crossed)).toBe(true);
    for (const count of [1, 2, 3, 5]) expect(possible(sideBySide(count))).toBe(false);
  });

  test('is taken to be so of more than five transistors', () => {
    expect(possible(sideBySide(6))).toBe(true);
  });

  test('is so where a third transistor, once it is saturated, joins one to the other', () => {
    // While T3 amplifies, what it lets through to the base of T2 does not hang on the collector of T1.
    const joined = crossed.map((part) => (part.name === 'R3' ? { ...part, b: 'x' } : part));
    // A net that transistors alone hold would have a stray, which would say what follows.
    joined.push(resistor('R6', 'b2', 'ground', 1e6));
    const third = [resistor('R5', 'rail', 'b3', 1e6), amplifier('T3', ['b3', 'x', 'b2'])];
    expect(possible([...joined, ...third])).toBe(true);
    // Without T3 nothing joins them that way.
    expect(possible(joined)).toBe(false);
  });
});

describe('SeveralStates.changes()', () => {
  test('tells of each transistor that does something else what it did and does', () => {
    const { graph, start } = beginning(crossed);
    const states = new SeveralStates(graph);
    const [base, amplifying, saturated] = [1, 0, 2];
    const of = (first: readonly [number, number], second: readonly [number, number]): readonly number[] => [
      ...start.situation.pieces.slice(0, -4),
      ...first,
      ...second,
    ];
    const before = of([base, saturated], [0, 0]);
    expect(states.changes(before, before)).toEqual([]);
    expect(states.changes(before, of([0, 0], [base, amplifying]))).toEqual([
      { part: 'T1', from: 'saturated', to: 'off' },
      { part: 'T2', from: 'off', to: 'amplifying' },
    ]);
    expect(states.changes(before, of([base, amplifying], [0, 0]))).toEqual([
      { part: 'T1', from: 'saturated', to: 'amplifying' },
    ]);
  });
});
