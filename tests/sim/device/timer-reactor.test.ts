import { describe, expect, test } from 'vitest';
import type { Reactor } from '#sim/device/contract.ts';
import { type TimerParameters, timerParameters } from '#sim/device/families.ts';
import { buildClamps } from '#sim/device/timer-clamps.ts';
import { timerReactor } from '#sim/device/timer-latch.ts';
import type { Pins } from '#sim/device/timer-pins.ts';
import { buildSpike, buildSupplyCurrent } from '#sim/device/timer-supply.ts';
import { NotingHost } from '../../support/noting-host.ts';

// What a timer asks of its host and of the engine: no more than it needs.

const pins: Pins = {
  ground: 0,
  supply: 1,
  trigger: 2,
  threshold: 3,
  control: 4,
  lower: 5,
  output: 6,
  reset: 7,
  discharge: 8,
};
const spike = { branch: 11, idle: 0, flowing: 3 };

function reactorOf(
  changes: Partial<TimerParameters>,
  { of = pins, spiking = false }: { of?: Pins; spiking?: boolean } = {},
): Reactor {
  const followers = [{ branch: 10, low: 4, high: 5 }];
  const acts = { followers, spike: spiking ? spike : undefined };
  return timerReactor('U1', timerParameters('ideal', changes), of, acts, 0);
}

/** The event of the guard that watches a voltage, and what came of it. */
function firing(reactor: Reactor, state: number, plus: number, minus: number): ReturnType<Reactor['react']> {
  const guard = reactor
    .guards(state)
    .find(({ watch }) => 'plus' in watch && watch.plus === plus && watch.minus === minus);
  if (!guard) throw new Error(`nothing watches ${plus} above ${minus} in state ${state}`);
  return reactor.react(state, guard.event);
}

const triggered = (reactor: Reactor, state = 0): ReturnType<Reactor['react']> =>
  firing(reactor, state, pins.lower, pins.trigger);
const released = (reactor: Reactor, state: number): ReturnType<Reactor['react']> =>
  firing(reactor, state, pins.trigger, pins.lower);

describe('timerReactor', () => {
  test('without delay the output follows in the same reaction, and nothing is scheduled', () => {
    const reaction = triggered(reactorOf({ delay: 0 }));
    expect(reaction.pieces).toEqual([[10, 5]]);
    expect(reaction.schedule).toEqual([]);
    expect(reaction.records).toStrictEqual([
      { kind: 'triggerLow' },
      { kind: 'set', cause: 'triggerLow' },
      { kind: 'outputHigh', cause: 'set' },
    ]);
  });

  test('with a delay it follows by an event of its own', () => {
    const reactor = reactorOf({ delay: 2e-6 });
    const reaction = triggered(reactor);
    expect(reaction.pieces).toEqual([]);
    expect(reaction.schedule).toMatchObject([{ after: 2e-6 }]);
    const { slot, event } = reaction.schedule[0]!;
    expect(slot).toBeLessThan(reactor.slots);
    const delivered = reactor.react(reaction.state, event);
    expect(delivered.pieces).toEqual([[10, 5]]);
    expect(delivered.records).toStrictEqual([{ kind: 'outputHigh', cause: 'set' }]);
  });

  test('a minimum trigger width schedules what the end of the pulse takes back; without one nothing is taken back', () => {
    const waiting = reactorOf({ minimumTrigger: 1e-6 });
    const low = triggered(waiting);
    expect(low.schedule).toMatchObject([{ after: 1e-6 }]);
    expect(low.records).toStrictEqual([{ kind: 'triggerLow' }]);
    expect(released(waiting, low.state).cancel).toEqual([low.schedule[0]!.slot]);
    const acting = reactorOf({ minimumTrigger: 0 });
    const high = released(acting, triggered(acting).state);
    expect(high.cancel).toEqual([]);
    expect(high.records).toStrictEqual([{ kind: 'triggerHigh' }]);
  });

  test('has a slot for the charge of a change only where there is one, and cancels one that still flows', () => {
    expect(reactorOf({}).slots).toBe(2);
    const spiking = reactorOf({ transitionTime: 3e-7 }, { spiking: true });
    expect(spiking.slots).toBe(3);
    const reaction = triggered(spiking);
    expect(reaction.pieces).toEqual([
      [10, 5],
      [11, 3],
    ]);
    expect(reaction.cancel).toEqual([2]);
    expect(reaction.schedule).toMatchObject([{ slot: 2, after: 3e-7 }]);
    expect(spiking.react(reaction.state, reaction.schedule[0]!.event).pieces).toEqual([[11, 0]]);
  });

  test('has no timetable, and watches no RESET that is left out', () => {
    expect(reactorOf({}).timetable).toEqual([]);
    const watched = (reactor: Reactor): object[] => reactor.guards(0).map(({ watch }) => watch);
    expect(watched(reactorOf({}))).toMatchObject([
      { plus: pins.ground, minus: pins.reset },
      { plus: pins.lower, minus: pins.trigger },
    ]);
    expect(watched(reactorOf({}, { of: { ...pins, reset: undefined } }))).toMatchObject([
      { plus: pins.lower, minus: pins.trigger },
    ]);
  });
});

describe('buildClamps', () => {
  const clamped = timerParameters('cmos', { clampDrop: 0.6, triggerClampDrop: 0.3, clampResistance: 10 });

  function junctions(change: Partial<Record<keyof Pins, number | undefined>>): (readonly [number, number])[] {
    const host = new NotingHost();
    buildClamps('U1', host, clamped, { ...pins, ...change });
    return host.branches.map(({ a, b }) => [a, b] as const);
  }

  test('gives every input a junction from ground and one to the supply', () => {
    const pair = (node: number): [number, number][] => [
      [0, node],
      [node, 1],
    ];
    expect(junctions({})).toEqual([3, 4, 7, 2].flatMap(pair));
    for (const [pin, node] of [
      ['threshold', 3],
      ['control', 4],
      ['reset', 7],
      ['trigger', 2],
    ] as const) {
      // None for an input that is tied to a rail.
      const others = [3, 4, 7, 2].filter((other) => other !== node).flatMap(pair);
      for (const rail of [pins.supply, pins.ground]) expect(junctions({ [pin]: rail })).toEqual(others);
    }
    expect(junctions({ reset: undefined })).toEqual([3, 4, 2].flatMap(pair));
  });
});

describe('what a timer draws itself', () => {
  test('is no branch at all where it draws nothing', () => {
    const host = new NotingHost();
    const none = timerParameters('ideal', { supplyCurrentLow: 0, supplyCurrentHigh: 0, transitionCharge: 0 });
    expect(buildSupplyCurrent('U1', host, none, pins, false)).toEqual([]);
    expect(buildSpike('U1', host, none, pins)).toBeUndefined();
    expect(host.branches).toEqual([]);
  });

  test('follows the output where it draws in one state alone', () => {
    const law = (p: Partial<TimerParameters>): unknown[] => {
      const host = new NotingHost();
      const [follower] = buildSupplyCurrent('U1', host, timerParameters('ideal', p), pins, true);
      const { pieces, start } = host.branches[follower!.branch]!;
      expect(start).toBe(follower!.high);
      return [pieces[follower!.low]!.law, pieces[follower!.high]!.law];
    };
    const current = { kind: 'current', current: 2e-3 };
    expect(law({ supplyCurrentLow: 2e-3, supplyCurrentHigh: 0 })).toEqual([current, { kind: 'open' }]);
    expect(law({ supplyCurrentLow: 0, supplyCurrentHigh: 2e-3 })).toEqual([{ kind: 'open' }, current]);
  });
});
