import { describe, expect, test } from 'vitest';
import type { Program } from '#sim/engine/program.ts';
import type { Settled, Situation } from '#sim/engine/situation.ts';
import { SituationGraph } from '#sim/engine/situation-graph.ts';
import { thevenin } from '../../support/compiled-mode.ts';

// A signal at node 1 through 1 uF to node 2, 3 uF from there to ground; R1 from node 2 to ground, or not; node 3 hangs on
// a switch to node 2.

function programOf(resistance: number, smaller = 1e-6): Program {
  const branches = [
    { part: 'G1', a: 1, b: 0 },
    { part: 'R1', a: 2, b: 0 },
    { part: 'S1', a: 2, b: 3 },
  ];
  const laws = [
    [thevenin(0, 0, 0)],
    [thevenin(resistance), { kind: 'open' } as const, thevenin(0, 4)],
    [thevenin(0), { kind: 'open' } as const],
  ];
  return {
    network: {
      nodeCount: 4,
      branches,
      capacitors: [
        { part: 'C1', a: 1, b: 2, capacitance: smaller },
        { part: 'C2', a: 2, b: 0, capacitance: 3e-6 },
      ],
      held: [],
      inputCount: 1,
    },
    branches: branches.map((branch, b) => ({
      ...branch,
      start: 0,
      pieces: laws[b]!.map((law) => ({ law, exits: [] })),
    })),
    initial: [0, 0],
    inputs: [],
    reactors: [
      {
        part: 'U1',
        start: 0,
        slots: 0,
        timetable: [],
        guards: () => [{ event: 0, rank: 1, watch: { plus: 2, minus: 0, seen: 'plus' }, offset: 1 }],
        react: (state) => ({ state, pieces: [], schedule: [], cancel: [], records: [] }),
      },
    ],
    nodeNames: ['ground', 'in', 'out', 'tip'],
    currents: [],
  };
}

const settledAt = (volts: number, more: Partial<Settled> & { readonly slope?: number } = {}): Settled => {
  const { slope = 0, ...others } = more;
  return {
    pieces: [0, 0, 0],
    states: [0],
    inputs: Float64Array.of(volts, 1),
    inputSlopes: Float64Array.of(slope, 0),
    recurs: true,
    ...others,
  };
};

function found(graph: SituationGraph, settled: Settled, guess?: Situation): Situation {
  const situation = graph.find(settled, guess);
  if ('shortedParts' in situation) throw new Error('a short');
  return situation;
}

describe('SituationGraph.find()', () => {
  test('gives one situation for one settled state, with a guess or without, right or wrong', () => {
    const graph = new SituationGraph(programOf(1e3), 10);
    const settleds = [
      settledAt(5),
      settledAt(6),
      settledAt(5, { slope: 1 }),
      settledAt(5, { pieces: [0, 1, 0] }),
      settledAt(5, { states: [1] }),
    ];
    const all = settleds.map((settled) => found(graph, settled));
    expect(new Set(all).size).toBe(settleds.length);
    settleds.forEach((settled, s) => {
      expect(found(graph, settled)).toBe(all[s]);
      for (const guess of all) expect(found(graph, settled, guess)).toBe(all[s]);
    });
  });

  test('keeps what the inputs do, though their arrays are used again', () => {
    const graph = new SituationGraph(programOf(1e3), 10);
    const settled = settledAt(5, { slope: 1 });
    const one = found(graph, settled);
    settled.inputs[0] = 6;
    const other = found(graph, settled);
    settled.inputSlopes[0] = 0;
    const third = found(graph, settled);
    expect(new Set([one, other, third]).size).toBe(3);
    expect(found(graph, settledAt(5, { slope: 1 }))).toBe(one);
    expect(found(graph, settledAt(6, { slope: 1 }))).toBe(other);
    expect(found(graph, settledAt(6))).toBe(third);
  });

  test('makes afresh what begins on a slope', () => {
    const graph = new SituationGraph(programOf(1e3), 10);
    const settled = settledAt(5, { slope: 1, recurs: false });
    expect(found(graph, settled)).not.toBe(found(graph, settled));
    expect(graph.guesses()).toEqual([]);
  });

  test('names the parts of a short, kept or on a slope', () => {
    const graph = new SituationGraph(programOf(1e3), 10);
    const program = graph.program;
    const tied: Program = {
      ...program,
      network: { ...program.network, branches: [{ part: 'G1', a: 2, b: 0 }, ...program.network.branches.slice(1)] },
    };
    const shorting = new SituationGraph(tied, 10);
    for (const recurs of [true, false]) {
      for (let time = 0; time < 2; time++) {
        const short = shorting.find(settledAt(5, { pieces: [0, 2, 0], recurs }));
        expect('shortedParts' in short && new Set(short.shortedParts)).toEqual(new Set(['G1', 'R1']));
      }
    }
    expect(shorting.guesses()).toEqual([]);
  });
});

describe('SituationGraph.stateOf()', () => {
  /** Voltages of the nodes that capacitor and node voltages make, at an input of 6 V. */
  function nodesOf(pieces: readonly number[], capacitors: readonly number[], nodes: readonly number[]): number[] {
    const graph = new SituationGraph(programOf(1e3), 10);
    const situation = found(graph, settledAt(6, { pieces }));
    const z = new Float64Array(graph.largestStateCount);
    graph.stateOf(situation, capacitors, nodes, z);
    return situation.mode.nodes.all().map((readout) => situation.valueOf(readout, z, 0));
  }

  test('takes capacitors that agree with the source as they are', () => {
    nodesOf([0, 0, 0], [4, 2], []).forEach((volts, node) => expect(volts).toBeCloseTo([0, 6, 2, 2][node]!, 13));
  });

  test('shares between capacitors in series what the source does not agree with: 1/4 of 6 V across the larger', () => {
    nodesOf([0, 0, 0], [0, 0], []).forEach((volts, node) => expect(volts).toBeCloseTo([0, 6, 1.5, 1.5][node]!, 13));
  });

  test('gives nets that only a stray holds the voltage that they are said to have, 0 V where nothing is said', () => {
    nodesOf([0, 0, 1], [4, 2], [0, 0, 0, 3]).forEach((volts, node) => {
      expect(volts).toBeCloseTo([0, 6, 2, 3][node]!, 13);
    });
    expect(nodesOf([0, 0, 1], [4, 2], [])[3]).toBeCloseTo(0, 13);
  });
});

describe('SituationGraph: guesses of roots', () => {
  const guarded = (): SituationGraph => new SituationGraph(programOf(1e3), 10);

  test('go with a checkpoint to the same situations of another graph, when they are met', () => {
    const graph = guarded();
    const one = found(graph, settledAt(5));
    const other = found(graph, settledAt(5, { pieces: [0, 1, 0] }));
    const third = found(graph, settledAt(6, { slope: 2 }));
    Object.assign(one, { likely: 0 });
    one.roots[0] = 0.5;
    other.roots[0] = 0.25;
    third.roots[0] = 0.125;
    const kept = graph.roots();
    expect(kept.map(({ likely, roots }) => [likely, ...roots])).toEqual([
      [0, 0.5],
      [-1, 0.25],
      [-1, 0.125],
    ]);
    expect(new Set(kept.map(({ situation }) => situation)).size).toBe(3);
    const next = guarded();
    next.remember(kept);
    // What has not been met yet is not lost.
    expect(next.roots()).toEqual(kept);
    const met = found(next, settledAt(5, { pieces: [0, 1, 0] }));
    expect([met.likely, ...met.roots]).toEqual([-1, 0.25]);
    expect(new Set(next.roots())).toEqual(new Set(kept));
    expect(next.roots().length).toBe(3);
    const first = found(next, settledAt(5));
    expect([first.likely, ...first.roots]).toEqual([0, 0.5]);
    const unknown = found(next, settledAt(7));
    expect([unknown.likely, ...unknown.roots]).toEqual([-1, 0]);
    expect(next.guesses()).toEqual([-1, 0.25, 0, 0.5, -1, 0]);
  });

  test('stay where a situation is met again', () => {
    const graph = guarded();
    const situation = found(graph, settledAt(5));
    situation.roots[0] = 0.5;
    situation.likely = 0;
    found(graph, settledAt(6));
    found(graph, settledAt(5));
    expect(graph.guesses()).toEqual([0, 0.5, -1, 0]);
  });

  test('are gone when another run begins, and the situations are not', () => {
    const graph = guarded();
    const situation = found(graph, settledAt(5));
    situation.roots[0] = 0.5;
    graph.remember([{ situation: 'none', likely: 0, roots: [1] }]);
    expect(graph.begin()).toBe(true);
    expect(graph.roots().map(({ likely, roots }) => [likely, ...roots])).toEqual([[-1, 0]]);
    expect(found(graph, settledAt(5))).toBe(situation);
  });
});

describe('SituationGraph.renew()', () => {
  test('works each situation out anew in its place when it is met', () => {
    const graph = new SituationGraph(programOf(1e3), 10);
    const situation = found(graph, settledAt(5));
    const rate = situation.rates[0]!;
    const other = programOf(2e3);
    expect(graph.renew(other, 12)).toBe(true);
    expect(graph.voltScale).toBe(12);
    expect(graph.program).toBe(other);
    expect(graph.guesses()).toEqual([]);
    const again = found(graph, settledAt(5), situation);
    expect(again).toBe(situation);
    // One state, discharged through R1: 1 / (R (1 uF + 3 uF)).
    expect(rate).toBeCloseTo(1 / (1e3 * 4e-6), 10);
    expect(again.rates[0]).toBeCloseTo(1 / (2e3 * 4e-6), 10);
    expect(found(graph, settledAt(5))).toBe(again);
  });

  test('is no use where capacitors come in another order of size', () => {
    const graph = new SituationGraph(programOf(1e3), 10);
    found(graph, settledAt(5));
    expect(graph.renew(programOf(1e3, 5e-6), 10)).toBe(false);
  });
});

describe('SituationGraph: what is forgotten', () => {
  test('is everything, once 4096 situations are kept; those in use go on', () => {
    const graph = new SituationGraph(programOf(1e3), 10);
    const first = found(graph, settledAt(0));
    for (let k = 1; k < 4096; k++) found(graph, settledAt(0, { states: [k] }));
    expect(graph.begin()).toBe(true);
    expect(found(graph, settledAt(0))).toBe(first);
    const next = found(graph, settledAt(0, { states: [4096] }));
    expect(graph.begin()).toBe(false);
    expect(found(graph, settledAt(0, { states: [4096] }), next)).toBe(next);
    const again = found(graph, settledAt(0), first);
    expect(again).not.toBe(first);
    expect([...again.rest]).toEqual([...first.rest]);
  });
});
