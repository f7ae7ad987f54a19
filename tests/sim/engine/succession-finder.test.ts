import { beforeEach, describe, expect, test } from 'vitest';
import type { Reaction, Reactor } from '#sim/device/contract.ts';
import type { Program } from '#sim/engine/program.ts';
import type { Situation } from '#sim/engine/situation.ts';
import { SituationGraph } from '#sim/engine/situation-graph.ts';
import type { Succession } from '#sim/engine/succession.ts';
import { SuccessionFinder } from '#sim/engine/succession-finder.ts';
import { thevenin } from '../../support/compiled-mode.ts';

// A signal at node 1, 10 kohm to node 2, 1 uF to ground; a switch from node 2 to ground that is open (piece 0), has 1 kohm
// (piece 1), or 1 kohm as well (piece 2); a reactor that works it. What follows is what their descriptions say.

const reaction = (more: Partial<Reaction>): Reaction => ({
  state: 0,
  pieces: [],
  schedule: [],
  cancel: [],
  records: [],
  ...more,
});

const reactor: Reactor = {
  part: 'U1',
  start: 0,
  slots: 1,
  timetable: [],
  guards: (state) =>
    state === 0 ? [{ event: 0, rank: 1, watch: { plus: 2, minus: 0, seen: 'plus' }, offset: 6 }] : [],
  react: (_, event) =>
    [
      reaction({ state: 1, pieces: [[1, 1]] }),
      reaction({ state: 0, schedule: [{ slot: 0, after: 1, event: 0 }] }),
      reaction({ state: 0, cancel: [0] }),
    ][event]!,
};

const program: Program = {
  network: {
    nodeCount: 3,
    branches: [
      { part: 'G1', a: 1, b: 0 },
      { part: 'S1', a: 2, b: 0 },
      { part: 'R1', a: 1, b: 2 },
    ],
    capacitors: [{ part: 'C1', a: 2, b: 0, capacitance: 1e-6 }],
    held: [],
    inputCount: 1,
  },
  branches: [
    { part: 'G1', a: 1, b: 0, start: 0, pieces: [{ law: thevenin(0, 0, 0), exits: [] }] },
    {
      part: 'S1',
      a: 2,
      b: 0,
      start: 0,
      pieces: [
        { law: { kind: 'open' }, exits: [{ watch: 'voltage', rising: true, limit: 7, to: 1 }] },
        { law: thevenin(1e3), exits: [{ watch: 'voltage', rising: false, limit: 1, to: 0 }] },
        { law: thevenin(0, 3), exits: [] },
      ],
    },
    { part: 'R1', a: 1, b: 2, start: 0, pieces: [{ law: thevenin(1e4), exits: [] }] },
  ],
  initial: [0],
  inputs: [{ part: 'G1', wave: { shape: 'constant', level: 9 } }],
  reactors: [reactor],
  nodeNames: ['ground', 'in', 'out'],
  currents: [],
};

let source: { level: number; slope: number };
let since: number;
let graph: SituationGraph;
let finder: SuccessionFinder;
beforeEach(() => {
  source = { level: 9, slope: 0 };
  since = 0;
  graph = new SituationGraph(program, 10);
  finder = new SuccessionFinder(program, graph, { sources: [source], sinceCorner: () => since });
});

/** The situation that pieces and states make now. */
function now(pieces = [0, 0, 0], states = [0]): Situation {
  const found = graph.find({ pieces, states, ...finder.inputsNow() });
  if ('shortedParts' in found) throw new Error('a short');
  return found;
}

describe('SuccessionFinder.inputsNow()', () => {
  test('has the values and slopes of all inputs, and 1', () => {
    const { inputs, inputSlopes, recurs } = finder.inputsNow();
    expect([[...inputs], [...inputSlopes], recurs]).toEqual([[9, 1], [0, 0], true]);
  });

  test('goes along a slope from its corner, where alone it can be found again', () => {
    Object.assign(source, { level: 2, slope: 4 });
    expect(finder.inputsNow().recurs).toBe(true);
    since = 0.5;
    const { inputs, inputSlopes, recurs } = finder.inputsNow();
    expect([[...inputs], [...inputSlopes], recurs]).toEqual([[4, 1], [4, 0], false]);
    // How long a level has lasted plays no part.
    Object.assign(source, { slope: 0 });
    expect(finder.inputsNow()).toMatchObject({ recurs: true });
    expect(finder.inputsNow().inputs[0]).toBe(2);
  });
});

describe('SuccessionFinder: what follows', () => {
  test('a guard of a piece is its exit to another one', () => {
    const situation = now();
    const made = finder.ofGuard(situation, 0, 0);
    expect(made).toMatchObject({ part: 'S1', kind: 'piece', reactor: -1, reaction: undefined, schedules: false });
    expect(made.passage!.to).toBe(now([0, 1, 0]));
    // The way back is the exit of the new piece that leads to the old one.
    expect(made.back).toBe(graph.codeOfExit(1, 1, 0));
    expect(graph.event(made.back)).toMatchObject({ branch: 1, exit: { to: 0, limit: 1 } });
  });

  test('pieces taken up together are the move of the first branch that has another, or a snap of those that change', () => {
    const situation = now();
    const moved = finder.ofPieces(situation, [0, 1, 0], []);
    expect(moved).toMatchObject({ part: 'S1', kind: 'piece', snap: undefined, back: -1 });
    expect(moved.passage!.to).toBe(now([0, 1, 0]));
    const snap = [{ part: 'T2', from: 'off', to: 'saturated' }] as const;
    expect(finder.ofPieces(situation, [0, 1, 0], snap)).toMatchObject({ part: 'T2', kind: 'snap', snap });
    // Where none has another, something has to stand for what happened.
    expect(finder.ofPieces(situation, [0, 0, 0], [])).toMatchObject({ part: 'G1', kind: 'piece' });
  });

  test('a guard of a reactor is its reaction: another state and other pieces', () => {
    const situation = now();
    const made = finder.ofGuard(situation, 1, 0);
    expect(made).toMatchObject({ part: 'U1', reactor: 0, reaction: { state: 1 }, back: -1, schedules: false });
    expect(made.passage!.to).toBe(now([0, 1, 0], [1]));
  });

  test('an event of a reactor may touch the agenda', () => {
    const situation = now();
    expect(finder.ofReactor(situation, 0, 0, 0).schedules).toBe(false);
    expect(finder.ofReactor(situation, 0, 1, 0).schedules).toBe(true);
    expect(finder.ofReactor(situation, 0, 2, 0).schedules).toBe(true);
  });

  test('the corner of an input is the same pieces and states with what it does from there on', () => {
    const situation = now();
    Object.assign(source, { level: 4, slope: 2 });
    const made = finder.ofInput(situation, 0, 0);
    expect(made).toMatchObject({ part: 'G1', kind: 'source', level: 4, slope: 2, lasted: 0, reactor: -1, back: -1 });
    const { to } = made.passage!;
    expect([[...to.inputs], [...to.inputSlopes], to.pieces, to.states]).toEqual([[4, 1], [2, 0], [0, 0, 0], [0]]);
  });

  test('is a short, with the names of the parts, where sources contradict each other', () => {
    const shorting: Program = {
      ...program,
      branches: [
        ...program.branches.slice(0, 2),
        { ...program.branches[2]!, pieces: [{ law: thevenin(0), exits: [] }] },
      ],
      reactors: [{ ...reactor, react: () => reaction({ pieces: [[1, 2]] }) }],
    };
    const shorted = new SituationGraph(shorting, 10);
    const its = new SuccessionFinder(shorting, shorted, { sources: [source], sinceCorner: () => since });
    const situation = shorted.find({ pieces: [0, 0, 0], states: [0], ...its.inputsNow() }) as Situation;
    const made = its.ofReactor(situation, 0, 0, 0);
    expect(made.passage).toBe(undefined);
    expect(new Set(made.shortedParts)).toEqual(new Set(['G1', 'R1', 'S1']));
    // It is known from then on.
    expect(its.ofReactor(situation, 0, 0, 1)).toBe(made);
  });
});

describe('SuccessionFinder: what is kept', () => {
  test('is what follows where inputs stand still: for each guard, event and level', () => {
    const situation = now();
    const [guard, event] = [finder.ofGuard(situation, 0, 1), finder.ofReactor(situation, 0, 0, 1)];
    expect(situation.afterGuard[0]).toBe(guard);
    expect(finder.ofReactor(situation, 0, 0, 2)).toBe(event);
    expect(finder.ofReactor(situation, 0, 1, 2)).not.toBe(event);
    const followed = new Map<number, Succession>();
    for (const level of [4, 5, 4, 6, 5]) {
      source.level = level;
      const made = finder.ofInput(situation, 0, level);
      expect(made.passage!.to.inputs[0]).toBe(level);
      if (followed.has(level)) expect(made).toBe(followed.get(level));
      followed.set(level, made);
    }
    source.slope = 1;
    expect(finder.ofInput(situation, 0, 5)).not.toBe(followed.get(5));
  });

  test('on a slope is what follows a corner after the same time; for nothing else it is known how far it has come', () => {
    Object.assign(source, { level: 0, slope: 2 });
    const situation = now();
    since = 1;
    const [guard, event] = [finder.ofGuard(situation, 0, 1), finder.ofReactor(situation, 0, 0, 1)];
    expect(situation.afterGuard[0]).toBe(undefined);
    expect(finder.ofReactor(situation, 0, 0, 1)).not.toBe(event);
    // A situation that begins on a slope is made afresh.
    expect(guard.passage!.to.recurs).toBe(false);
    expect(guard.passage!.to.inputs[0]).toBe(2);
    Object.assign(source, { level: 3, slope: 0 });
    const corner = finder.ofInput(situation, 0, 1);
    expect(finder.ofInput(situation, 0, 1)).toBe(corner);
    const later = finder.ofInput(situation, 0, 1.5);
    expect(later).not.toBe(corner);
    expect(later.lasted).toBe(1.5);
  });

  test('is nothing at a situation that is not met again, nor what leads to one', () => {
    Object.assign(source, { level: 0, slope: 2 });
    since = 1;
    const passing = now();
    since = 0;
    Object.assign(source, { level: 3, slope: 0 });
    const corner = finder.ofInput(passing, 0, 1);
    expect(finder.ofInput(passing, 0, 1)).not.toBe(corner);
    const steady = now();
    Object.assign(source, { level: 3, slope: 2 });
    since = 1;
    const leading = finder.ofInput(steady, 0, 0);
    expect(leading.passage!.to.recurs).toBe(false);
    expect(finder.ofInput(steady, 0, 0)).not.toBe(leading);
    expect(finder.ofReactor(steady, 0, 0, 0)).not.toBe(finder.ofReactor(steady, 0, 0, 0));
    finder.ofGuard(steady, 0, 0);
    expect(steady.afterGuard[0]).toBe(undefined);
  });

  test('are 64 levels of an input, and no more', () => {
    const situation = now();
    const at = (level: number): Succession => {
      source.level = level;
      return finder.ofInput(situation, 0, 0);
    };
    const first = Array.from({ length: 64 }, (_, k) => at(10 + k));
    first.forEach((made, k) => expect(at(10 + k)).toBe(made));
    expect(at(100)).not.toBe(at(100));
    expect(situation.afterInput[0]!.length).toBe(64);
  });
});
