import { describe, expect, test } from 'vitest';
import type { Piece, Reactor } from '#sim/device/contract.ts';
import { Driver } from '#sim/engine/driver.ts';
import type { Program } from '#sim/engine/program.ts';
import type { OwnLaw } from '#sim/network/element.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import { thevenin } from '../../support/compiled-mode.ts';

// A ramp of 2 V/s from 1 V at node 1, 10 kohm to node 2, 10 uF to ground: RC = 0.1 s, from 0 V. Behind it the voltage is
// 1 + 2 (t - RC) - (1 - 2 RC) exp(-t / RC); closed forms, to a few roundings.

const RC = 0.1;
const behind = (t: number): number => 1 + 2 * (t - RC) - (1 - 2 * RC) * Math.exp(-t / RC);
const LIMITS = { maxEvents: 1000 };

const piece = (law: OwnLaw): Piece => ({ law, exits: [] });

/** Notes what happens to it, and schedules what it is told to. */
const reactor: Reactor = {
  part: 'U1',
  start: 0,
  slots: 1,
  timetable: [
    { at: 0.25, event: 0 },
    { at: 0.5, event: 1 },
  ],
  guards: () => [],
  react: (state, event) => ({
    state: state + 1,
    pieces: [],
    schedule: event === 0 ? [{ slot: 0, after: 0.125, event: 2 }] : [],
    cancel: [],
    records: [{ kind: event === 1 ? 'close' : 'open' }],
  }),
};

function programOf(second: OwnLaw, reactors: readonly Reactor[] = [reactor]): Program {
  return {
    network: {
      nodeCount: 3,
      branches: [
        { part: 'G1', a: 1, b: 0 },
        { part: 'R1', a: 1, b: 2 },
      ],
      capacitors: [{ part: 'C1', a: 2, b: 0, capacitance: 1e-5 }],
      held: [],
      inputCount: 1,
    },
    branches: [
      { part: 'G1', a: 1, b: 0, start: 0, pieces: [piece(thevenin(0, 0, 0))] },
      {
        part: 'R1',
        a: 1,
        b: second.kind === 'thevenin' && second.resistance === 0 ? 0 : 2,
        start: 0,
        pieces: [piece(second)],
      },
    ],
    initial: [0],
    inputs: [
      {
        part: 'G1',
        wave: {
          shape: 'points',
          between: 'lines',
          points: [
            [0, 1],
            [2, 5],
          ],
        },
      },
    ],
    reactors,
    nodeNames: ['ground', 'in', 'out'],
    currents: [{ part: 'R1', elements: [{ element: 'branch', index: 1, sign: 1 }] }],
  };
}

const ramp = programOf(thevenin(1e4));
/** A source of 3 V across the signal. */
const shorted: Program = {
  ...programOf(thevenin(0, 3)),
  network: { ...ramp.network, branches: [ramp.network.branches[0]!, { part: 'R1', a: 1, b: 0 }] },
};

describe('Driver', () => {
  test('tells what signals are now, between events as well', () => {
    const driver = new Driver(ramp, []);
    for (const time of [0.03, 0.1, 0.26, 0.7]) {
      expect(driver.advance(time, LIMITS)).toMatchObject({ code: 'reached', ok: true, time });
      expect(driver.now).toBeCloseTo(time, 15);
      expect(driver.signal(0)).toBe(0);
      expect(driver.signal(1)).toBeCloseTo(1 + 2 * time, 12);
      expect(driver.signal(2)).toBeCloseTo(behind(time), 12);
      expect(driver.signal(3)).toBeCloseTo((1 + 2 * time - behind(time)) / 1e4, 15);
    }
  });

  test('lets events happen at their times, and those that they set off', () => {
    const seen: RunEvent[] = [];
    const driver = new Driver(ramp, [{ event: (event) => void seen.push(event) }]);
    expect(driver.advance(1, LIMITS)).toEqual({ code: 'reached', ok: true, time: 1, events: 3 });
    expect(seen.map(({ kind, time }) => [kind, time])).toEqual([
      ['open', 0.25],
      ['open', 0.375],
      ['close', 0.5],
    ]);
  });

  test('lets all happen that is due when it is to stop', () => {
    const twice = { ...reactor, timetable: [1, 1].map((event) => ({ at: 0.25, event })) };
    const driver = new Driver(programOf(thevenin(1e4), [twice]), []);
    expect(driver.advance(0.25, LIMITS)).toMatchObject({ code: 'reached', events: 2 });
    expect(driver.checkpoint()!.states).toEqual([2]);
  });

  test('pauses after as many events as it is given at a time', () => {
    const driver = new Driver(ramp, []);
    expect(driver.advance(1, { ...LIMITS, atATime: 1 })).toEqual({ code: 'paused', ok: true, time: 0.25, events: 1 });
    expect(driver.advance(1, { ...LIMITS, atATime: 2 })).toEqual({ code: 'paused', ok: true, time: 0.5, events: 3 });
    expect(driver.advance(1, { ...LIMITS, atATime: 1 })).toEqual({ code: 'reached', ok: true, time: 1, events: 3 });
  });

  test('lets an event be put in where it is now', () => {
    const seen: RunEvent[] = [];
    const driver = new Driver(ramp, [{ event: (event) => void seen.push(event) }]);
    driver.advance(0.1, LIMITS);
    driver.inject(0, 1);
    expect(driver.now).toBeCloseTo(0.1, 15);
    expect(seen).toEqual([{ time: 0.1, timeLow: 0, part: 'U1', kind: 'close' }]);
    expect(driver.signal(2)).toBeCloseTo(behind(0.1), 12);
    expect(driver.advance(1, LIMITS).events).toBe(4);
    expect(driver.signal(2)).toBeCloseTo(behind(1), 12);
  });

  test('gives over volts and states, at where it is now', () => {
    const driver = new Driver(ramp, []);
    driver.advance(0.3, LIMITS);
    const standing = driver.standing()!;
    expect(standing.handled).toBe(1);
    expect([standing.pieces, standing.states]).toEqual([[0, 0], [1]]);
    expect(standing.capacitors.length).toBe(1);
    expect(standing.capacitors[0]).toBeCloseTo(behind(0.3), 12);
    standing.nodes.forEach((volts, node) => expect(volts).toBeCloseTo([0, 1.6, behind(0.3)][node]!, 12));
    expect(standing.agenda.anchor[0] + standing.agenda.clock[0]).toBeCloseTo(0.3, 15);
    // Taken up by a circuit of twice the resistance: what is under way comes, and the voltage goes on from where it was.
    const next = new Driver(programOf(thevenin(2e4)), [], standing);
    expect(next.now).toBeCloseTo(0.3, 15);
    expect(next.signal(2)).toBeCloseTo(behind(0.3), 12);
    expect(next.advance(0.4, LIMITS).events).toBe(2);
    const rest = (t: number): number => 1 + 2 * (t - 2 * RC);
    expect(next.signal(2)).toBeCloseTo(rest(0.4) + (behind(0.3) - rest(0.3)) * Math.exp(-0.1 / (2 * RC)), 12);
  });

  test('has nothing to tell of a run that never began, but why', () => {
    const driver = new Driver(shorted, []);
    const outcome = driver.advance(1, LIMITS);
    expect(outcome).toMatchObject({ code: 'short', ok: false, time: 0, events: 0 });
    expect(new Set(outcome.parts)).toEqual(new Set(['G1', 'R1']));
    expect(driver.signal(1)).toBeNaN();
    expect(driver.checkpoint()).toBe(undefined);
    expect(driver.standing()).toBe(undefined);
    driver.inject(0, 1);
    expect(driver.advance(1, LIMITS)).toEqual(outcome);
  });

  test('has neither checkpoint nor standing of a run that has failed, and stays where it was', () => {
    const driver = new Driver(ramp, []);
    expect(driver.advance(1, { maxEvents: 1 })).toMatchObject({ code: 'budget', ok: false, time: 0.25, events: 2 });
    expect(driver.checkpoint()).toBe(undefined);
    expect(driver.standing()).toBe(undefined);
    driver.inject(0, 1);
    expect(driver.advance(2, LIMITS)).toMatchObject({ code: 'budget', events: 2 });
  });

  test('lets an event be put in where a run has just been taken up', () => {
    const first = new Driver(ramp, []);
    first.advance(0.3, LIMITS);
    const seen: RunEvent[] = [];
    const driver = new Driver(ramp, [{ event: (event) => void seen.push(event) }], first.checkpoint());
    driver.inject(0, 1);
    expect(seen.map(({ kind, time }) => [kind, time])).toEqual([['close', 0.3]]);
    expect(driver.signal(2)).toBeCloseTo(behind(0.3), 12);
  });

  test('counts events closer than its dates can tell as of one instant, and gives up where these have no end', () => {
    /** Acts at 1024 s, and from then on again and again after the same time. */
    const restless = (after: number): Driver => {
      const again: Reactor = {
        ...reactor,
        timetable: [{ at: 1024, event: 0 }],
        react: () => ({ state: 0, pieces: [], schedule: [{ slot: 0, after, event: 0 }], cancel: [], records: [] }),
      };
      return new Driver(programOf(thevenin(1e4), [again]), []);
    };
    // Doubles are 2^-42 apart there. Three things can switch, two branches and a reactor; 64 events and 16 for each are
    // allowed at one instant.
    const all = 1 + 64 + 3 * 16;
    for (const after of [0, 2 ** -50]) {
      const outcome = restless(after).advance(2000, LIMITS);
      expect(outcome).toMatchObject({ code: 'chatter', ok: false, time: 1024, parts: ['U1'] });
      // The corner of the input is one event, the first at 1024 s another.
      expect(outcome.events).toBe(2 + all);
    }
    expect(restless(2 ** -40).advance(2000, LIMITS).code).toBe('budget');
    // Who takes part in what may become endless is not said of a run that ends for another reason.
    expect(restless(0).advance(2000, { maxEvents: all - 5 })).toMatchObject({ code: 'budget', parts: [] });
  });

  test('tells how far it is, and stops when its caller says so', () => {
    const shares: number[] = [];
    const busy: Reactor = {
      ...reactor,
      timetable: [],
      start: 0,
      react: () => ({
        state: 0,
        pieces: [],
        schedule: [{ slot: 0, after: 2 ** -13, event: 2 }],
        cancel: [],
        records: [],
      }),
    };
    const program = programOf(thevenin(1e4), [busy]);
    const driver = new Driver(program, []);
    driver.inject(0, 2);
    const outcome = driver.advance(1.25, { maxEvents: 1e6, onProgress: (share) => shares.push(share) });
    expect(outcome).toMatchObject({ code: 'reached', events: 10241 });
    // Looked at after 4096 events each, half a second.
    expect(shares.length).toBe(2);
    expect(shares[0]).toBeCloseTo(0.4, 3);
    expect(shares[1]).toBeCloseTo(0.8, 3);
    const stopped = new Driver(program, []);
    stopped.inject(0, 2);
    expect(stopped.advance(1, { maxEvents: 1e6, signal: { aborted: true } }).code).toBe('stopped');
  });

  test('tells its observers where it ended', () => {
    const ends: number[] = [];
    const driver = new Driver(ramp, [{ end: (time) => ends.push(time) }]);
    driver.advance(0.7, LIMITS);
    driver.finish();
    expect(ends.length).toBe(1);
    expect(ends[0]).toBeCloseTo(0.7, 15);
  });
});
