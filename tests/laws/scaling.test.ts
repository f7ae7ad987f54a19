import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import type { Outcome } from '#sim/engine/outcome.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import '../support/costly-runs.ts';
import { spread } from '../support/arbitrary-numbers.ts';
import { scaled } from '../support/circuit-scaling.ts';
import { everyBoard, type LawCase, randomCases, turnedBoards } from '../support/law-cases.ts';

/**
 * Two runs of one law agree in time to this share of the run: some dozen roundings of times and volts. A circuit may pass
 * a comparator so slowly that rounding shows: few may be worse, none by more than the second number.
 */
const TOLERANCE = 1e-12;
const ILL = 1e-7;
const SHARE_OF_ILL = 0.03;
/** Events compared. Some circuits are chaotic: there, rounding doubles every few events, whatever the engine does. */
const COMPARED = 100;
/** Events that a run may take here, so that an oscillator beside a long input ends as well. */
const BUDGET = 1000;

/** Boards with other values, and random circuits in which how to go on is settled at every instant. */
const cases = fc.oneof(
  turnedBoards(['ideal', 'cmos', 'bipolar']),
  randomCases({ timers: [1, 2], ramps: true, abrupt: false, real: true }),
);

/** What each part did and when; kind by kind, since at one instant several have no order of their own. */
function storyOf({ circuit, until }: LawCase, rename: (part: string) => string): Story {
  const stories = new Map<string, RunEvent[]>();
  let count = 0;
  let end = Infinity;
  const event = (each: RunEvent): void => {
    if (each.kind === 'piece') return;
    if (++count === COMPARED) end = each.time;
    const key = `${rename(each.part)} ${each.kind}`;
    const story = stories.get(key) ?? [];
    stories.set(key, story);
    story.push(each);
  };
  const outcome = runCircuit(circuit, { until, observers: [{ event }], maxEvents: BUDGET });
  return { stories, outcome, end: Math.min(end, outcome.time) };
}

interface Story {
  readonly stories: ReadonlyMap<string, readonly RunEvent[]>;
  readonly outcome: Outcome;
  /** Up to where everything is in the stories (s). */
  readonly end: number;
}

/** Greatest difference of the times in two stories, as a share of the run; `slower` is the second run's scale of time. */
function difference(a: Story, b: Story, until: number, slower: number): number {
  const codes = [a.outcome.code, b.outcome.code];
  // In another order the pieces of curves may take more steps to settle, so that a budget runs out earlier.
  if (!codes.includes('budget')) expect(codes[1]).toBe(codes[0]);
  const end = Math.min(a.end, b.end / slower) - ILL * until;
  let worst = 0;
  for (const key of new Set([...a.stories.keys(), ...b.stories.keys()])) {
    const mine = (a.stories.get(key) ?? []).map(({ time }) => time);
    const yours = (b.stories.get(key) ?? []).map(({ time }) => time / slower);
    for (let k = 0; Math.min(mine[k] ?? Infinity, yours[k] ?? Infinity) < end; k++) {
      const off = Math.abs((mine[k] ?? Infinity) - (yours[k] ?? Infinity)) / until;
      expect(off, `${key} number ${k + 1}: ${mine[k]} s, ${yours[k]} s`).toBeLessThanOrEqual(ILL);
      worst = Math.max(worst, off);
    }
  }
  return worst;
}

/** How a law changes a circuit, by a factor and random numbers. */
type Change = (circuit: Circuit, factor: number, random: () => number) => Circuit;

/** Checks a law on every board as it is, on boards with other values and on random circuits. */
function holds(change: Change, options: { slows?: boolean; rename?: (part: string) => string } = {}): void {
  const { slows = false, rename = (part) => part } = options;
  const differences: number[] = [];
  fc.assert(
    fc.property(cases, spread(0.1, 10), fc.array(fc.nat(), { minLength: 50, maxLength: 50 }), (drawn, k, numbers) => {
      let next = 0;
      const random = (): number => numbers[next++ % numbers.length]!;
      const slower = slows ? k : 1;
      const other = { ...drawn, circuit: change(drawn.circuit, k, random), until: drawn.until * slower };
      const stories = [storyOf(drawn, rename), storyOf(other, (part) => part)] as const;
      differences.push(difference(...stories, drawn.until, slower));
    }),
    {
      examples: everyBoard.map((board, k): [LawCase, number, number[]] => [board, k % 2 === 0 ? 3.7 : 0.31, [5, 2, 9]]),
    },
  );
  const ill = differences.filter((value) => value > TOLERANCE).length;
  expect(ill).toBeLessThanOrEqual(Math.max(2, SHARE_OF_ILL * differences.length));
}

test('runCircuit() does not depend on the names of nets and parts, nor on the order of the passive parts', () => {
  const passive = ['resistor', 'capacitor', 'probe', 'pot', 'led', 'diode', 'speaker', 'source'];
  const rename = (name: string): string => (name === 'ground' ? name : `other_${name}`);
  const relabelled: Change = ({ parts, nets }, _k, random) => {
    const renamed = parts.map((part) => ({
      ...part,
      name: rename(part.name),
      nets: Object.fromEntries(Object.entries(part.nets).map(([terminal, net]) => [terminal, rename(net)])),
    }));
    const shuffled = renamed
      .filter(({ kind }) => passive.includes(kind))
      .map((part) => ({ part, key: random() }))
      .sort((p, q) => p.key - q.key);
    const places = renamed.map((part) => (passive.includes(part.kind) ? shuffled.pop()!.part : part));
    return { parts: places, nets: nets.map(rename).reverse() };
  };
  holds(relabelled, { rename });
});

test('runCircuit() does not change when resistances are k times, capacitances and currents 1/k times as large', () => {
  holds((circuit, k) => scaled(circuit, { resistance: k, capacitance: 1 / k, current: 1 / k, time: 1 }));
});

test('runCircuit() takes k times as long when capacitances and all times of inputs and timers are k times as large', () => {
  holds((circuit, k) => scaled(circuit, { resistance: 1, capacitance: k, current: 1, time: k }), { slows: true });
});
