import { describe, expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { GraphStore, type Prepared } from '#sim/engine/graph-store.ts';
import { GuardCheck } from '#sim/engine/guard-check.ts';
import { NONE } from '#sim/engine/one-state-found.ts';
import { CHANGING, type Place, PlaceMaker, type WatchedSignal, type Way } from '#sim/engine/one-state-place.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, lowPulses, monostable, signal } from '../../support/timer-circuits.ts';
import { flipFlop } from '../../support/two-transistors.ts';

// A monostable of 22 kohm and 100 nF at 9 V, ideal, with pulses at its trigger. The state of one capacitor is
// sqrt(C) v: its energy is z^2 / 2. An ideal discharge has no resistance, so while it is on there is no state.

const [R, C, VOLTS] = [22e3, 1e-7, 9];
const board = (resistance = R): FilePart[] => [
  ...monostable({ voltage: VOLTS, resistance, capacitance: C }),
  signal('G1', 'in', lowPulses(VOLTS, { period: 1e-3, width: 1e-4 })),
];

function makerOf(
  parts: readonly FilePart[],
  watch: readonly (readonly [net: string, level: number])[] = [],
): {
  readonly maker: PlaceMaker;
  readonly prepared: Prepared;
} {
  const prepared = new GraphStore(standardDevices).prepare(circuitOf([...parts]));
  const { nodeNames, inputs } = prepared.program;
  const watched = watch.map(([net, level]): WatchedSignal => ({ signal: nodeNames.indexOf(net), level }));
  const index = inputs.findIndex(({ part }) => part === 'G1');
  return { maker: new PlaceMaker(prepared, watched, { index, rest: VOLTS, raised: 0 }), prepared };
}

/** A place with a state in it, and the way that led there. */
interface Stand {
  readonly place: Place;
  readonly z: number;
  readonly ways: readonly Way[];
}

/** Goes a way, and on by whatever is past its limit there, until nothing is. */
function settled(maker: PlaceMaker, way: Way, z: number): Stand {
  const check = new GuardCheck();
  const ways = [way];
  let state = way.factor * z + way.offset;
  for (;;) {
    const place = ways.at(-1)!.to;
    const firing = check.pastLimit(place.situation, Float64Array.of(state - place.rest));
    if (firing === NONE) return { place, z: state, ways };
    const next = maker.afterGuard(place, firing)!;
    state = next.factor * state + next.offset;
    ways.push(next);
  }
}

/** During an interval until its limit at 6 V is met, at rest after that, while a pulse is there, and when it has gone. */
function places(watch: Parameters<typeof makerOf>[1] = [], parts = board()) {
  const { maker, prepared } = makerOf(parts, watch);
  const resting = settled(maker, maker.afterInput(maker.start(false)!.place, false)!, Math.sqrt(C) * 8);
  const triggered = settled(maker, maker.afterInput(resting.place, true)!, 0);
  const running = settled(maker, maker.afterInput(triggered.place, false)!, 0);
  return {
    maker,
    prepared,
    resting: resting.place,
    triggered: triggered.place,
    running: running.place,
    begun: triggered,
  };
}

describe('PlaceMaker: a place', () => {
  test('has rest, rate and reach of its state, or none while the capacitor is held empty', () => {
    const { resting, running, prepared } = places();
    expect([resting.rate, resting.rest, resting.reach]).toEqual([0, 0, 0]);
    expect(running.rate * R * C).toBeCloseTo(1, 12);
    expect(running.rest / Math.sqrt(C)).toBeCloseTo(VOLTS, 12);
    // Four times the largest voltage of the circuit, as a state.
    expect(running.reach / Math.sqrt(C)).toBeCloseTo(4 * prepared.graph.voltScale, 9);
  });

  test('knows which limits follow the state: THRESHOLD during an interval, none at rest', () => {
    const { resting, running } = places();
    expect(resting.moving).toEqual([]);
    expect(running.moving.length).toBe(1);
    expect([running.standing, running.passes]).toEqual([NONE, false]);
    // 6 V and 9 V: the limit lies 3 V below where the state rests.
    const guard = running.moving[0]!;
    expect(running.situation.constants[guard]).toBeCloseTo(3, 12);
  });

  test('has a limit that is passed whatever the state is, such as TRIGGER once the pulse has come', () => {
    const { maker, resting } = places();
    const { to } = maker.afterInput(resting, true)!;
    expect(to.standing).toBeGreaterThanOrEqual(0);
    expect(to.passes).toBe(true);
    const way = maker.afterGuard(to, to.standing)!;
    expect(way.reactor).toBeGreaterThanOrEqual(0);
    expect(maker.afterGuard(to, to.standing)).toBe(way);
  });

  test('is one for each situation', () => {
    const { maker, resting, running, triggered } = places();
    expect(maker.of(running.situation)).toBe(running);
    expect(new Set([resting, triggered, running]).size).toBe(3);
    expect(maker.afterInput(resting, true)).toBe(maker.afterInput(resting, true));
    expect(maker.afterInput(running, false)!.to).not.toBe(maker.afterInput(running, true)!.to);
  });
});

describe('PlaceMaker: ways', () => {
  test('leave law and limits alone where only the input moves', () => {
    const { maker, triggered } = places();
    const way = maker.afterInput(triggered, false)!;
    expect(way).toMatchObject({ continues: true, keepsLimits: true, factor: 1, offset: 0, back: -1 });
    expect(way.to.law).toBe(triggered.law);
    expect(way.to.limits).toBe(triggered.limits);
  });

  test('begin another course where the capacitor is let go or emptied', () => {
    const { maker, resting, triggered, running } = places();
    expect(running.law).not.toBe(resting.law);
    expect(running.law).toBe(triggered.law);
    expect(running.limits).not.toBe(resting.limits);
    // THRESHOLD ends the interval: the discharge comes on, and there is no state to go on with.
    const { place, ways } = settled(maker, maker.afterGuard(running, running.moving[0]!)!, Math.sqrt(C) * 6);
    expect(place.law).toBe(resting.law);
    expect(ways.find(({ to }) => to.situation.stateCount === 0)).toMatchObject({
      continues: false,
      factor: 0,
      offset: 0,
    });
  });

  test('take over what a state becomes: none of it from a capacitor that was held', () => {
    const way = places().begun.ways.find(({ to }) => to.situation.stateCount === 1)!;
    expect(way).toMatchObject({ continues: false, factor: 0 });
    expect(way.offset).toBeCloseTo(0, 15);
  });

  test('tell apart laws of the same rate that rest elsewhere, and limits of the same place that lie elsewhere', () => {
    // A real discharge leaves a state all the time. With the same time constant, it rests at 9 V or near 0 V.
    const parts: FilePart[] = [
      ...monostable({ voltage: VOLTS, resistance: R, capacitance: C, ofTimer: { with: { dischargeResistance: 100 } } }),
      signal('G1', 'in', lowPulses(VOLTS, { period: 1e-3, width: 1e-4 })),
    ];
    const { resting, running, triggered } = places([], parts);
    expect(resting.situation.stateCount).toBe(1);
    expect(resting.rate).toBeCloseTo((1 / 100 + 1 / R) / C, 3);
    expect(resting.rest / Math.sqrt(C)).toBeCloseTo((VOLTS * 100) / (R + 100), 12);
    expect(new Set([resting.law, running.law]).size).toBe(2);
    expect(running.law).toBe(triggered.law);
  });
});

describe('PlaceMaker: no place', () => {
  // A flip-flop: the pieces of T1 and T2 come last, each a base (1: conducts) and a collector (0: amplifies, 2: saturated).
  const crossed = flipFlop(VOLTS, [1e3, 1e3], [10e3, 10e3]);
  const inPieces = ({ prepared: { program, graph } }: ReturnType<typeof makerOf>, ...last: readonly number[]) => {
    const found = graph.find({
      pieces: program.branches.map(({ start }) => start).toSpliced(-last.length, last.length, ...last),
      states: program.reactors.map(({ start }) => start),
      inputs: Float64Array.of(...program.inputs.map(() => VOLTS), 1),
      inputSlopes: new Float64Array(program.inputs.length + 1),
      recurs: true,
    });
    if ('shortedParts' in found) throw new Error('a short');
    return found;
  };

  test('is where there may be several states', () => {
    const made = makerOf(crossed);
    expect(made.maker.start(false)).toBeNull();
    expect(made.maker.of(inPieces(made, 1, 2, 0, 0))).toBeNull();
  });

  test('is where the state grows, and no way leads there', () => {
    // What T1 does to itself by way of T2 takes the time of the capacitor across its base: one state, which grows.
    const made = makerOf([capacitor('CS1', 'b1', 'ground', 1e-9), ...crossed]);
    const [both, second] = [inPieces(made, 1, 0, 1, 0), inPieces(made, 0, 0, 1, 0)];
    expect(both.grows).toBe(true);
    expect(made.maker.of(both)).toBeNull();
    const place = made.maker.of(second)!;
    const begins = second.guards.findIndex(
      ({ code }) => code === made.prepared.graph.codeOfExit(second.pieces.length - 4, 0, 1),
    );
    expect(made.maker.afterGuard(place, begins)).toBeNull();
  });
});

describe('PlaceMaker.start()', () => {
  test('begins with the capacitors as the circuit says', () => {
    const charged: FilePart[] = [
      ...monostable({
        voltage: VOLTS,
        resistance: R,
        capacitance: C,
        ofCapacitor: { initial: 2 },
        ofTimer: { with: { dischargeResistance: 100 } },
      }),
      signal('G1', 'in', lowPulses(VOLTS, { period: 1e-3, width: 1e-4 })),
    ];
    const { maker } = makerOf(charged);
    expect(maker.start(false)!.z / Math.sqrt(C)).toBeCloseTo(2, 13);
    expect(maker.start(true)!.place).not.toBe(maker.start(false)!.place);
  });
});

describe('PlaceMaker: what is high', () => {
  test('is one bit for each signal above its level, in their order', () => {
    const watch = [
      ['in', 4.5],
      ['out', 4.5],
      ['rail', 4.5],
    ] as const;
    const { resting, triggered, running } = places(watch);
    expect([resting.highs, triggered.highs, running.highs]).toEqual([0b101, 0b110, 0b111]);
  });

  test('is not what stands just on its level', () => {
    expect(places([['rail', VOLTS]]).resting.highs).toBe(0);
    expect(places([['rail', VOLTS - 2 ** -20]]).resting.highs).toBe(1);
  });

  test('cannot be said of a signal that passes its level with the state', () => {
    const { resting, running } = places([['timing', 4.5]]);
    expect(resting.highs).toBe(0);
    expect(running.highs).toBe(CHANGING);
    // One that the state cannot take there, whatever it is: 36 V either way, beyond four times the supply.
    expect(places([['timing', 1e3]]).running.highs).toBe(0);
    expect(places([['timing', -1e3]]).running.highs).toBe(1);
  });
});
