import { expect, test } from 'vitest';
import { LiveRun } from '#sim/run/live-run.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import { battery, circuit, listener, timer } from '../../support/live-circuits.ts';

const bounce = { for: '5 ms', seed: 7 };

/** The bell of the platform: a button that bounces starts an interval of 11 ms. */
function bell(more: Record<string, unknown> = { bounce }) {
  return circuit([
    battery,
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: 10e3 },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-6 },
    { name: 'R2', kind: 'resistor', a: 'rail', b: 'in', resistance: 10e3 },
    { name: 'S1', kind: 'button', a: 'in', b: 'ground', ...more },
    timer('ideal', { trigger: 'in', threshold: 'timing', discharge: 'timing' }),
  ]);
}

/** When the hand changes the button: pressed and let go in turn (s). */
const hand = [0.05, 0.15, 0.25, 0.4];

function pressing(live: LiveRun, until = 0.5): void {
  hand.forEach((at, k) => {
    live.advance(at);
    if (k % 2 === 0) live.press('S1');
    else live.release('S1');
  });
  live.advance(until);
}

const contacts = (events: readonly RunEvent[]): RunEvent[] => events.filter(({ part }) => part === 'S1');

test('LiveRun.press() and release() bounce like the same presses of a timetable', () => {
  const presses = [
    { at: hand[0], for: hand[1]! - hand[0]! },
    { at: hand[2], for: hand[3]! - hand[2]! },
  ];
  const planned = listener();
  runCircuit(bell({ bounce, presses }), { until: 0.5, observers: [planned] });
  const byHand = listener();
  pressing(new LiveRun(bell(), { observers: [byHand] }));
  const moves = contacts(planned.events);
  expect(moves.length).toBeGreaterThan(2 * hand.length);
  expect(contacts(byHand.events).map(({ kind }) => kind)).toEqual(moves.map(({ kind }) => kind));
  contacts(byHand.events).forEach(({ time }, k) => expect(time).toBeCloseTo(moves[k]!.time, 14));
});

test('LiveRun.press() gives the same returns for the same presses, another seed gives others, none without bounce', () => {
  const run = (more?: Record<string, unknown>): RunEvent[] => {
    const heard = listener();
    pressing(new LiveRun(bell(more), { observers: [heard] }));
    return heard.events;
  };
  expect(run()).toEqual(run());
  expect(run({ bounce: { ...bounce, seed: 8 } })).not.toEqual(run());
  expect(contacts(run({}))).toHaveLength(hand.length);
});

test('LiveRun.advance() gives the same returns however the time is cut up and however few events it may take', () => {
  const whole = listener();
  pressing(new LiveRun(bell(), { observers: [whole] }));
  const cut = listener();
  const live = new LiveRun(bell(), { observers: [cut] });
  const patiently = (until: number): void => {
    while (live.advance(until, { atATime: 1 }).code === 'paused') expect(live.time).toBeLessThanOrEqual(until);
  };
  hand.forEach((at, k) => {
    for (let step = Math.floor(live.time / 1e-3) + 1; step * 1e-3 < at; step++) patiently(step * 1e-3);
    patiently(at);
    if (k % 2 === 0) live.press('S1');
    else live.release('S1');
  });
  patiently(0.5);
  expect(cut.events).toEqual(whole.events);
});

test('LiveRun.advance() counts every return as an event', () => {
  const heard = listener();
  const live = new LiveRun(bell(), { observers: [heard] });
  live.advance(0.05);
  live.press('S1');
  let pauses = 0;
  while (live.advance(0.1, { atATime: 1 }).code === 'paused') pauses++;
  const returns = contacts(heard.events).length - 1;
  expect(returns).toBeGreaterThanOrEqual(2);
  expect(pauses).toBeGreaterThanOrEqual(returns);
});

test('LiveRun.checkpoint() in the middle of a bounce goes on bit for bit', () => {
  const whole = listener();
  pressing(new LiveRun(bell(), { observers: [whole] }));
  const [first, second] = contacts(whole.events).slice(1);
  const middle = (first!.time + second!.time) / 2;
  const before = listener();
  const live = new LiveRun(bell(), { observers: [before] });
  live.advance(hand[0]!);
  live.press('S1');
  live.advance(middle);
  const kept = JSON.parse(JSON.stringify(live.checkpoint()));
  const after = listener();
  const next = new LiveRun(bell(), { observers: [after], from: kept });
  hand.slice(1).forEach((at, k) => {
    next.advance(at);
    if (k % 2 === 0) next.release('S1');
    else next.press('S1');
  });
  next.advance(0.5);
  expect([...before.events, ...after.events]).toEqual(whole.events);
});

test('LiveRun.release() during a bounce ends it: the contact moves with the hand', () => {
  const heard = listener();
  const live = new LiveRun(bell({ bounce: { for: '100 ms', seed: 3 } }), { observers: [heard] });
  live.advance(0.1);
  live.press('S1');
  live.advance(0.101);
  live.release('S1');
  live.advance(0.3);
  expect(live.value('in')).toBe(9);
  const moves = contacts(heard.events);
  const released = moves.findIndex(({ time }) => time >= 0.101);
  // What the press had still to come, up to 100 ms after it, is over; the returns of the release are its own.
  const { time, kind } = moves[released]!;
  expect([time, kind]).toEqual([expect.closeTo(0.101, 12), 'open']);
  expect(moves.slice(released).map((move) => move.kind)).toEqual(
    moves.slice(released).map((_, k) => (k % 2 === 0 ? 'open' : 'close')),
  );
  expect(moves.at(-1)!.time).toBeLessThanOrEqual(0.201);
});

test('LiveRun.press() of a button that is held already does not bounce again', () => {
  const heard = listener();
  const live = new LiveRun(bell(), { observers: [heard] });
  live.advance(0.05);
  live.press('S1');
  live.advance(0.1);
  const before = contacts(heard.events).length;
  live.press('S1');
  live.advance(0.2);
  expect(contacts(heard.events).length).toBe(before + 1);
});
