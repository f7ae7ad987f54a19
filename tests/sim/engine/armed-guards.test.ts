import { describe, expect, test } from 'vitest';
import type { BranchDescription, Exit, Guard, Piece, Reactor } from '#sim/device/contract.ts';
import { ArmedGuards } from '#sim/engine/armed-guards.ts';
import type { Program } from '#sim/engine/program.ts';

// What is expected is what the description of the part says, as given beside it.

const open: Piece['law'] = { kind: 'open' };
const source = (resistance: number): Piece['law'] => ({ kind: 'thevenin', input: -1, offset: 0, resistance });
const up = (limit: number, to: number): Exit => ({ watch: 'voltage', rising: true, limit, to });

/** A branch like a diode, off below its voltage and on above, and back where its current falls below zero. */
function diode(volts: number, change: Partial<Exit> = {}): BranchDescription {
  return {
    part: 'D1',
    a: 1,
    b: 2,
    start: 0,
    pieces: [
      { law: open, exits: [up(volts, 1)] },
      { law: source(10), exits: [{ watch: 'current', rising: false, limit: 0.125, to: 0, ...change }] },
    ],
  };
}

/** A comparator that watches a node against another in state 0, and a current in state 1. */
function comparator(offset: number, change: Partial<Guard> = {}): Reactor {
  const guards: Guard[][] = [
    [{ event: 0, rank: 3, watch: { plus: 2, minus: 1, seen: 'plus' }, offset, ...change }],
    [
      { event: 1, rank: 2, watch: { branch: 0, sign: -1 }, offset: offset / 4 },
      { event: 2, rank: 1, watch: { plus: 2, minus: 0, seen: 'plus' }, offset },
    ],
  ];
  return {
    part: 'U1',
    start: 0,
    slots: 0,
    timetable: [],
    guards: (state) => guards[state]!,
    react: (state) => ({ state, pieces: [], schedule: [], cancel: [], records: [] }),
  };
}

function programOf(branches: readonly BranchDescription[], reactors: readonly Reactor[]): Program {
  return { branches, reactors } as unknown as Program;
}

const program = programOf([diode(0.5)], [comparator(3)]);

describe('ArmedGuards.of()', () => {
  test('lists what is watched for in the pieces and states that hold', () => {
    const armed = new ArmedGuards(program);
    const [exit, guard] = armed.of([0], [0]);
    expect(exit).toMatchObject({ rank: 0, plus: 1, minus: 2, branch: -1, sign: 1, offset: 0.5, guard: undefined });
    expect(guard).toMatchObject({ rank: 3, plus: 2, minus: 1, branch: -1, sign: 1, offset: 3 });
    // A falling current is watched with the other sign.
    expect(armed.of([1], [0])[0]).toMatchObject({ branch: 0, sign: -1, offset: -0.125 });
  });

  test('has them in the order of rank, of one rank in the order of the parts', () => {
    const armed = new ArmedGuards(programOf([diode(0.5), diode(0.25)], [comparator(3), comparator(4)]));
    const ranks = armed.of([0, 0], [1, 0]).map(({ rank, offset }) => [rank, offset]);
    expect(ranks).toEqual([
      [0, 0.5],
      [0, 0.25],
      [1, 3],
      [2, 0.75],
      [3, 4],
    ]);
  });

  test('puts a piece that forces a voltage after those that do not', () => {
    const forcing: BranchDescription = {
      ...diode(0.5),
      pieces: [
        { law: open, exits: [up(0.5, 1), up(0.75, 2)] },
        { law: source(0), exits: [] },
        { law: source(10), exits: [] },
      ],
    };
    expect(new ArmedGuards(programOf([forcing], [])).of([0], []).map(({ offset }) => offset)).toEqual([0.75, 0.5]);
  });

  test('gives the same guards for the same pieces and states', () => {
    const armed = new ArmedGuards(program);
    const [first, second] = [armed.of([0], [0]), armed.of([0], [0])];
    first.forEach((guard, g) => expect(second[g]).toBe(guard));
  });
});

describe('ArmedGuards: numbers of events', () => {
  test('stand for the exit or the event of a reactor, each for one', () => {
    const armed = new ArmedGuards(program);
    const exit = armed.codeOfExit(0, 0, 1);
    const back = armed.codeOfExit(0, 1, 0);
    const event = armed.codeOf(0, 7);
    expect(new Set([exit, back, event]).size).toBe(3);
    expect(armed.event(exit)).toEqual({ branch: 0, exit: program.branches[0]!.pieces[0]!.exits[0] });
    expect(armed.event(back)).toEqual({ branch: 0, exit: program.branches[0]!.pieces[1]!.exits[0] });
    expect(armed.event(event)).toEqual({ reactor: 0, event: 7 });
    expect(armed.codeOf(0, 7)).toBe(event);
    expect(armed.of([0], [0])[0]!.code).toBe(exit);
  });

  test('of exits are told apart by where they lead; -1 where none leads there', () => {
    const three: BranchDescription = {
      ...diode(0.5),
      pieces: [
        { law: open, exits: [up(1, 1), { ...up(-1, 2), rising: false }] },
        { law: source(1), exits: [] },
        { law: source(1), exits: [] },
      ],
    };
    const armed = new ArmedGuards(programOf([three], []));
    expect(armed.event(armed.codeOfExit(0, 0, 2))).toMatchObject({ exit: { limit: -1 } });
    expect(armed.event(armed.codeOfExit(0, 0, 1))).toMatchObject({ exit: { limit: 1 } });
    expect(armed.codeOfExit(0, 1, 2)).toBe(-1);
  });
});

describe('ArmedGuards.renew()', () => {
  test('takes up the limits of another program, in the guards that are there', () => {
    const armed = new ArmedGuards(program);
    const guards = [...armed.of([0], [0]), ...armed.of([1], [1])];
    const codes = [armed.codeOfExit(0, 0, 1), armed.codeOf(0, 0)];
    const other = programOf([diode(0.75, { limit: 0.25 })], [comparator(5)]);
    expect(armed.renew(other)).toBe(true);
    const again = [...armed.of([0], [0]), ...armed.of([1], [1])];
    again.forEach((guard, g) => expect(guard).toBe(guards[g]));
    const anew = new ArmedGuards(other);
    expect(again).toEqual([...anew.of([0], [0]), ...anew.of([1], [1])]);
    expect([armed.codeOfExit(0, 0, 1), armed.codeOf(0, 0)]).toEqual(codes);
    expect(armed.event(codes[0]!)).toEqual({ branch: 0, exit: other.branches[0]!.pieces[0]!.exits[0] });
  });

  test('takes up what has not been watched for yet', () => {
    const armed = new ArmedGuards(program);
    const other = programOf([diode(0.75, { limit: 0.25 })], [comparator(5)]);
    expect(armed.renew(other)).toBe(true);
    expect(armed.of([1], [1])).toEqual(new ArmedGuards(other).of([1], [1]));
    expect(armed.event(armed.codeOfExit(0, 1, 0))).toMatchObject({ exit: { limit: 0.25 } });
  });

  test('takes up how many times another current is taken off, of the same branch', () => {
    const less = (times: number, branch = 0): Exit['less'] => ({ branch, times });
    const armed = new ArmedGuards(programOf([diode(0.5, { less: less(2) })], []));
    armed.of([1], []);
    expect(armed.renew(programOf([diode(0.5, { less: less(3) })], []))).toBe(true);
    expect(armed.of([1], [])[0]!.less).toEqual(less(3));
    expect(armed.renew(programOf([diode(0.5, { less: less(3, 1) })], []))).toBe(false);
  });

  const otherPieces = (pieces: readonly Piece[]): BranchDescription => ({ ...diode(0.5), pieces });
  const [off, on] = diode(0.5).pieces as [Piece, Piece];

  test.each<[string, BranchDescription]>([
    ['one piece more', otherPieces([off, on, on])],
    ['an exit more', otherPieces([{ ...off, exits: [...off.exits, up(9, 1)] }, on])],
    ['an exit to another piece', diode(0.5, { to: 1 })],
    ['an exit that watches a voltage', diode(0.5, { watch: 'voltage' })],
    ['an exit that watches for a rise', diode(0.5, { rising: true })],
    ['an exit that takes a current off', diode(0.5, { less: { branch: 0, times: 1 } })],
    ['a piece that forces a voltage now', otherPieces([off, { ...on, law: source(0) }])],
  ])('refuses %s', (_, branch) => {
    const armed = new ArmedGuards(program);
    armed.of([0], [0]);
    armed.of([1], [1]);
    expect(armed.renew(programOf([branch], [comparator(3)]))).toBe(false);
  });

  test.each<[string, Partial<Guard>]>([
    ['another rank', { rank: 4 }],
    ['another event', { event: 5 }],
    ['another node', { watch: { plus: 1, minus: 1, seen: 'plus' } }],
    ['another node below', { watch: { plus: 2, minus: 2, seen: 'plus' } }],
    ['a current', { watch: { branch: 0, sign: 1 } }],
  ])('refuses a guard that watches %s', (_, change) => {
    const armed = new ArmedGuards(program);
    armed.of([0], [0]);
    expect(armed.renew(programOf([diode(0.5)], [comparator(3, change)]))).toBe(false);
  });

  test('refuses a guard of a current that watches another branch, the other direction, or a voltage', () => {
    const watching = (guards: readonly Guard[]): Program =>
      programOf([diode(0.5), diode(0.5)], [{ ...comparator(3), guards: () => guards }]);
    const guard: Guard = { event: 0, rank: 1, watch: { branch: 1, sign: 1 }, offset: 1 };
    const renews = (guards: readonly Guard[], from = [guard]): boolean => {
      const armed = new ArmedGuards(watching(from));
      armed.of([0, 0], [0]);
      return armed.renew(watching(guards));
    };
    expect(renews([{ ...guard, offset: 2 }])).toBe(true);
    expect(renews([{ ...guard, watch: { branch: 0, sign: 1 } }])).toBe(false);
    expect(renews([{ ...guard, watch: { branch: 1, sign: -1 } }])).toBe(false);
    expect(renews([{ ...guard, watch: { plus: 0, minus: 0, seen: 'plus' } }])).toBe(false);
    expect(renews([guard, guard])).toBe(false);
    const first: Guard = { ...guard, watch: { branch: 0, sign: 1 } };
    expect(renews([{ ...guard, watch: { plus: 0, minus: 0, seen: 'plus' } }], [first])).toBe(false);
  });
});
