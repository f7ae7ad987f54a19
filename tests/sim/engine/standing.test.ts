import { describe, expect, test } from 'vitest';
import type { Program } from '#sim/engine/program.ts';
import { carriedOver, type Standing } from '#sim/engine/standing.ts';

// What a run takes over from one of a circuit that was changed: its capacitors by part, the rest only where nothing but
// values differs. Expected values are those of the standing, or of the new program where it says so.

const program = {
  network: {
    nodeCount: 3,
    branches: [],
    held: [],
    inputCount: 1,
    capacitors: [
      { part: 'C1', a: 1, b: 0, capacitance: 1e-6 },
      { part: 'C2', a: 2, b: 0, capacitance: 1e-6 },
      { part: 'C2', a: 2, b: 1, capacitance: 1e-6 },
    ],
  },
  branches: [
    { part: 'R1', a: 1, b: 2, pieces: [{}], start: 0 },
    { part: 'S1', a: 1, b: 0, pieces: [{}, {}], start: 1 },
  ],
  initial: [7, 8, 9],
  inputs: [{ part: 'G1' }],
  reactors: [
    { part: 'U1', start: 2, slots: 1, timetable: [] },
    { part: 'S1', start: 1, slots: 2, timetable: [{ at: 1, event: 0 }] },
  ],
  nodeNames: ['ground', 'a', 'b'],
  currents: [],
} as unknown as Program;
const { network, branches, reactors, inputs, nodeNames } = program;

const standing: Standing = {
  handled: 5,
  pieces: [0, 0],
  states: [3, 0],
  capacitors: [1, 2, 3],
  nodes: [0, 4, 5],
  agenda: {
    anchor: [1, 0],
    clock: [0.5, 0],
    marks: [2],
    corners: [[1, 0]],
    timetables: [0, 1],
    entries: [null, null],
    slots: [[[0.25, 0, 1]], [], [[0.5, 0, 2]]],
  },
};

const withParts = (more: Partial<Program>): Program => ({ ...program, ...more });
const changedNetwork = (capacitors: Program['network']['capacitors'], initial = program.initial): Program =>
  withParts({ network: { ...network, capacitors }, initial });

describe('carriedOver()', () => {
  test('takes everything over where only values differ', () => {
    const other = withParts({
      initial: [0, 0, 0],
      network: { ...network, capacitors: network.capacitors.map((each) => ({ ...each, capacitance: 2e-6 })) },
      reactors: reactors.map((each) => ({ ...each, start: 0 })),
      branches: branches.map((each) => ({ ...each, start: 0 })),
    });
    expect(carriedOver(standing, program, other)).toEqual(standing);
  });

  test.each<[string, Program]>([
    ['a node', withParts({ nodeNames: ['ground', 'a', 'c'] })],
    ['the part of a branch', withParts({ branches: [{ ...branches[0]!, part: 'R2' }, branches[1]!] })],
    ['a node of a branch', withParts({ branches: [{ ...branches[0]!, a: 0 }, branches[1]!] })],
    ['the other node of a branch', withParts({ branches: [{ ...branches[0]!, b: 0 }, branches[1]!] })],
    ['a piece more', withParts({ branches: [branches[0]!, { ...branches[1]!, pieces: [] }] })],
    ['a branch less', withParts({ branches: branches.slice(1) })],
    ['a reactor less', withParts({ reactors: reactors.slice(1) })],
    ['a slot more', withParts({ reactors: [{ ...reactors[0]!, slots: 2 }, reactors[1]!] })],
    ['the part of a reactor', withParts({ reactors: [{ ...reactors[0]!, part: 'U2' }, reactors[1]!] })],
    ['an entry of a timetable', withParts({ reactors: [reactors[0]!, { ...reactors[1]!, timetable: [] }] })],
    ['an input', withParts({ inputs: [{ ...inputs[0]!, part: 'G2' }] })],
    ['a node of a capacitor', changedNetwork([{ ...network.capacitors[0]!, b: 2 }, ...network.capacitors.slice(1)])],
    [
      'the other node of a capacitor',
      changedNetwork([{ ...network.capacitors[0]!, a: 2 }, ...network.capacitors.slice(1)]),
    ],
  ])('begins pieces and states anew, and nothing is under way, where the network differs in %s', (_, other) => {
    const taken = carriedOver(standing, program, other);
    expect(taken.pieces).toEqual(other.branches.map(({ start }) => start));
    expect(taken.states).toEqual(other.reactors.map(({ start }) => start));
    expect(taken.agenda).toEqual({
      ...standing.agenda,
      slots: other.reactors.flatMap(({ slots }) => Array(slots).fill([])),
    });
    expect(taken.handled).toBe(5);
    expect(taken.capacitors).toEqual([1, 2, 3]);
  });

  test('keeps the voltages of capacitors by part, the second of a part as its second; a new one begins as it is told', () => {
    const [first, second, third] = network.capacitors as [
      Program['network']['capacitors'][number],
      Program['network']['capacitors'][number],
      Program['network']['capacitors'][number],
    ];
    const fresh = { part: 'C9', a: 1, b: 0, capacitance: 1e-6 };
    const reordered = changedNetwork([second, fresh, third, first], [11, 12, 13, 14]);
    expect(carriedOver(standing, program, reordered).capacitors).toEqual([2, 12, 3, 1]);
    const oneMore = changedNetwork([first, second, third, third], [11, 12, 13, 14]);
    expect(carriedOver(standing, program, oneMore).capacitors).toEqual([1, 2, 3, 14]);
  });

  test('keeps the voltages of nodes by name; one that was not there is at 0 V', () => {
    expect(carriedOver(standing, program, withParts({ nodeNames: ['ground', 'b', 'new', 'a'] })).nodes).toEqual([
      0, 5, 0, 4,
    ]);
    expect(nodeNames).toEqual(['ground', 'a', 'b']);
  });
});
