import { describe, expect, test } from 'vitest';
import type { Law } from '#sim/network/element.ts';
import { ProgramBuilder } from '#sim/engine/program.ts';
import { thevenin } from '../../support/compiled-mode.ts';

const OPEN: Law = { kind: 'open' };
const FED: Law = { kind: 'current', current: 1e-3 };
const TIED = thevenin(1e3);

interface Made {
  /** The nodes between which a current goes, or what may be 0 A instead. */
  readonly fed?: Law;
  /** Where the other branch lies, and the laws that it may follow. */
  readonly between?: readonly [a: number, b: number];
  readonly laws: readonly Law[];
  /** Where there are capacitors. */
  readonly charged?: readonly (readonly [a: number, b: number])[];
}

/** A current from ground to x (node 1), another branch, and capacitors, of which one hangs on y (node 2). */
function made({ fed = FED, between: [a, b] = [1, 0], laws, charged = [[2, 0]] }: Made): ProgramBuilder {
  const builder = new ProgramBuilder(['ground', 'x', 'y'], false);
  builder.branch({ part: 'I1', a: 0, b: 1, pieces: [{ law: fed, exits: [] }], start: 0 });
  builder.branch({ part: 'X1', a, b, pieces: laws.map((law) => ({ law, exits: [] })), start: 0 });
  for (const [from, to] of charged) builder.capacitor('C1', from, to, 1e-6, 0);
  return builder;
}

describe('ProgramBuilder.program(), the nodes that are held in every mode', () => {
  // A node is held where some mode cuts it off from all others and a current can then move it.
  const cases: readonly (readonly [what: string, made: Made, held: readonly number[]])[] = [
    ['a branch that may open', { laws: [TIED, OPEN] }, [1]],
    ['one that is open at first', { laws: [OPEN, TIED] }, [1]],
    ['one that never opens', { laws: [TIED, TIED] }, []],
    ['one that never opens, of one piece', { laws: [TIED] }, []],
    ['one that is always open', { laws: [OPEN] }, [1]],
    ['a current of nothing', { fed: { kind: 'current', current: 0 }, laws: [TIED, OPEN] }, []],
    ['a capacitor at x', { laws: [TIED, OPEN], charged: [[1, 0]] }, []],
    ['a capacitor at x, the other way round', { laws: [TIED, OPEN], charged: [[0, 1]] }, []],
    ['a capacitor from x to y', { laws: [TIED, OPEN], charged: [[1, 2]] }, [1]],
    [
      'a capacitor more',
      {
        laws: [TIED, OPEN],
        charged: [
          [2, 0],
          [1, 0],
        ],
      },
      [],
    ],
    ['a branch to y instead', { laws: [TIED], between: [2, 0] }, [1]],
    ['a branch from ground instead', { laws: [TIED], between: [0, 1] }, []],
    ['a branch from ground to y', { laws: [TIED], between: [0, 2] }, [1]],
  ];

  test.each(cases)('with %s', (_, one, held) => {
    expect(made(one).program().network.held).toEqual(held);
  });

  test('are what they are by themselves, whatever the program before was', () => {
    for (const [, before] of cases) {
      for (const [what, one, held] of cases) {
        expect(made(one).program(made(before).program()).network.held, what).toEqual(held);
      }
    }
  });

  test('are the very list of the program before where nothing that decides on them has changed', () => {
    const before = made({ laws: [TIED, OPEN] }).program();
    for (const one of [
      { laws: [TIED, OPEN] },
      { laws: [thevenin(2e3, 5), OPEN] },
      { laws: [TIED, OPEN], fed: { kind: 'current', current: 2e-3 } },
    ] as const) {
      expect(made(one).program(before).network.held).toBe(before.network.held);
    }
    expect(made({ laws: [OPEN, TIED] }).program(before).network.held).not.toBe(before.network.held);
  });
});

test('buildProgram() takes the elements of a program before only where all of a list is the same', () => {
  const before = made({ laws: [TIED, OPEN] }).program();
  expect(made({ laws: [TIED, OPEN] }).program(before).nodeNames).toBe(before.nodeNames);
  const other = made({
    laws: [TIED, OPEN],
    charged: [
      [2, 0],
      [1, 0],
    ],
  }).program(before);
  expect(other.network.capacitors).toHaveLength(2);
  expect(other.branches).not.toBe(before.branches);
});
