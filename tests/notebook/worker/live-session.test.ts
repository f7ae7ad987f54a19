import { type LiveBoard, liveBoard } from '#notebook/worker/live-board.ts';
import { LiveSession } from '#notebook/worker/live-session.ts';
import { describe, expect, test } from 'vitest';

/** A page with one board. */
function page(board: object): string {
  return JSON.stringify({ format: 'two-thirds', version: 1, boards: { b: board }, page: [] });
}

function opened(board: object): LiveBoard {
  const found = liveBoard(page(board), 'b');
  if (!('circuit' in found)) throw new Error(found.message);
  return found;
}

/** A session whose clock stands still, so that no budget ever runs out. */
function session(board: object): LiveSession {
  return new LiveSession(opened(board), () => 0);
}

const slice = (span: number) => ({ span, budget: 1000, whole: true });
const platform = { ready: 'monostable', values: { R1: '100 kΩ', C1: '10 µF', 'U1.family': 'ideal' } };

describe('liveBoard()', () => {
  test('names the parts a hand works, and leaves out what is planned for them', () => {
    const values = { 'S1.presses': [{ at: '1 s', for: '200 ms' }] };
    const board = opened({ ready: 'monostable', values });
    expect(board.presses).toEqual([{ part: 'S1', kind: 'button', closed: false, planned: true }]);
    const live = new LiveSession(board, () => 0);
    expect(live.advance(slice(3)).happened).toBe(0);
  });

  test('says why a board cannot run', () => {
    const found = liveBoard(page({ ready: 'monostable', values: { R1: '-1 Ω' } }), 'b');
    expect('message' in found && found.message).toMatch(/R1: resistance must/);
    expect(liveBoard('{', 'b')).toHaveProperty('message');
    expect(liveBoard(page(platform), 'other')).toEqual({ message: 'The page has no board other.' });
  });
});

test('a board that is linked to another runs with it, and names only what is its own', () => {
  const boards = { lamp: platform, other: { ready: 'monostable', values: { R1: '10 kΩ' } } };
  const links = [{ a: 'lamp.out', b: 'other.control', closed: false }];
  const text = JSON.stringify({ format: 'two-thirds', version: 1, boards, links, page: [] });
  const found = liveBoard(text, 'lamp');
  if (!('circuit' in found)) throw new Error(found.message);
  expect(found.presses.map(({ part }) => part)).toEqual(['S1', 'link 1']);
  const live = new LiveSession(found, () => 0);
  live.work('S1', true);
  const { events, state } = live.advance(slice(0.1));
  expect(events.map(({ part }) => part)).toEqual(['S1', 'U1', 'U1', 'U1']);
  expect(state?.timers.map(({ timer }) => timer)).toEqual(['U1']);
  expect(state?.nets['timing']).toBeGreaterThan(0);
});

test('a jumper to another board is worked like a part, seen from either board', () => {
  const boards = { gate: platform, bell: platform, lamp: platform };
  const links = [
    { a: 'gate.button', b: 'lamp.control' },
    { a: 'gate.out', b: 'bell.button', closed: false, presses: [{ at: '1 s', for: '1 s' }] },
  ];
  const text = JSON.stringify({ format: 'two-thirds', version: 1, boards, links, page: [] });
  const found = liveBoard(text, 'bell');
  if (!('circuit' in found)) throw new Error(found.message);
  const jumper = { part: 'link 2', label: 'link2 to gate.out', kind: 'jumper', closed: false, planned: true };
  expect(found.presses).toEqual([expect.objectContaining({ part: 'S1' }), jumper]);
  const live = new LiveSession(found, () => 0);
  expect(live.advance(slice(3)).happened).toBe(0);
  // The output of the gate is low: it pulls the trigger of the bell down.
  live.work('link 2', true);
  const { events } = live.advance(slice(0.1));
  expect(events.slice(0, 3).map(({ part, kind }) => `${part} ${kind}`)).toEqual([
    'link 2 close',
    'U1 triggerLow',
    'U1 set',
  ]);
  const gate = liveBoard(text, 'gate');
  expect('presses' in gate && gate.presses.map(({ label }) => label)).toEqual([
    undefined,
    'link1 to lamp.control',
    'link2 to bell.button',
  ]);
});

describe('LiveSession', () => {
  test('a press starts an interval of R C ln 3, whose end is the next event', () => {
    const live = session(platform);
    live.advance(slice(0.5));
    live.work('S1', true);
    const pressed = live.advance(slice(0));
    expect(pressed.events.map(({ kind }) => kind)).toEqual(['close', 'triggerLow', 'set', 'outputHigh']);
    live.work('S1', false);
    expect(live.advance(slice(0)).state?.timers[0]?.since).toBeCloseTo(0.5, 9);
    const ended = live.next(1000);
    // 100 kΩ · 10 µF · ln 3: closed form for the ideal timer.
    expect(ended.time).toBeCloseTo(0.5 + Math.log(3), 9);
    expect(ended.events.map(({ kind }) => kind)).toEqual(['thresholdOver', 'cleared', 'outputLow']);
    expect(ended.state?.timers[0]).toMatchObject({ outputHigh: false, since: undefined });
  });

  test('next() stays where it is when nothing ever happens by itself', () => {
    const live = session(platform);
    live.advance(slice(0.25));
    const before = live.advance(slice(0));
    const quiet = live.next(1000);
    expect(quiet.time).toBe(before.time);
    expect(quiet.quietUntil).toBeGreaterThan(3e7);
    live.work('S1', true);
    expect(live.advance(slice(0)).happened).toBe(4);
  });

  test('change() sets a value and keeps the voltage of the capacitor', () => {
    const live = session(platform);
    live.work('S1', true);
    live.advance(slice(0));
    live.work('S1', false);
    const before = live.advance(slice(0.5)).state?.nets['timing'] ?? NaN;
    expect(live.change(opened({ ...platform, values: { ...platform.values, R1: '200 kΩ' } }))).toBe(false);
    const after = live.advance(slice(0)).state?.nets['timing'] ?? NaN;
    expect(after).toBeCloseTo(before, 9);
    const supply = live.advance(slice(0)).state?.nets['rail'] ?? NaN;
    // From v on with time constant 2 s to two thirds of the supply.
    const rest = 2 * Math.log((supply - before) / (supply / 3));
    expect(live.next(1000).time).toBeCloseTo(0.5 + rest, 9);
  });

  test('change() begins anew where the board has other parts', () => {
    const live = session(platform);
    live.advance(slice(1));
    expect(live.change(opened({ ready: 'astable' }))).toBe(true);
    expect(live.advance(slice(0)).time).toBeLessThan(1e-12);
  });

  test('the mean current of a lamp is its exact charge over time', () => {
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V' },
      {
        name: 'G1',
        kind: 'signal',
        plus: 'in',
        minus: 'ground',
        wave: { shape: 'square', frequency: '100 Hz', duty: 0.4, high: '5 V', low: '0 V' },
      },
      { name: 'R1', kind: 'resistor', a: 'in', b: 'lamp', resistance: '250 Ω' },
      { name: 'D1', kind: 'led', a: 'lamp', b: 'ground', colour: 'red' },
      { name: 'R2', kind: 'resistor', a: 'rail', b: 'ground', resistance: '1 kΩ' },
    ];
    const live = session({ parts });
    live.advance(slice(0.0039));
    const lit = live.advance(slice(0)).state?.currents['D1'] ?? NaN;
    expect(lit).toBeGreaterThan(1e-3);
    live.advance(slice(0.0961));
    const { parts: means } = live.advance(slice(1));
    expect(means[0]).toMatchObject({ part: 'D1', rises: 100 });
    // On for 4 ms of every 10 ms, at one current while it is on.
    expect(means[0]?.current).toBeCloseTo(0.4 * lit, 9);
    expect(((means[0]?.lastRise ?? 0) - (means[0]?.firstRise ?? 0)) / 99).toBeCloseTo(0.01, 9);
  });

  test('what does not fit into the budget is left out', () => {
    let time = 0;
    const live = new LiveSession(opened({ ready: 'astable', values: { C1: '1 nF' } }), () => (time += 1));
    // The clock goes on by 1 ms at every look, so 5 looks of 64 events are all there is.
    const report = live.advance({ span: 1000, budget: 5, whole: false });
    expect(report.done).toBeGreaterThan(0);
    expect(report.done).toBeLessThan(1);
    expect(report.failure).toBeUndefined();
  });

  test('a short ends the run with its reason', () => {
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V' },
      { name: 'BT2', kind: 'supply', plus: 'other', minus: 'ground', voltage: '3 V' },
      { name: 'S1', kind: 'button', a: 'rail', b: 'other' },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'other', resistance: '1 kΩ' },
    ];
    const live = session({ parts });
    live.advance(slice(1));
    live.work('S1', true);
    expect(live.advance(slice(1)).failure?.message).toMatch(/no resistance/);
  });
});

/** A platform lamp on a supply that is too much for its capacitor. */
const overcharged = {
  parts: [
    { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'isolated' },
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '100 kΩ' },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '1 µF', rating: '9 V' },
  ],
};

describe('LiveSession faults', () => {
  const said = (live: LiveSession, span: number): string[] =>
    live.advance(slice(span)).state!.faults.map((sentence) => sentence.replaceAll('\u202f', ' '));

  test('tells a part beyond its limit from when it passes it', () => {
    const live = session(overcharged);
    expect(said(live, 0.1)).toEqual([]);
    // 12 V (1 - exp(-t / RC)) reaches 9 V at RC ln 4 = 138.6 ms: closed form.
    const report = live.advance(slice(0.1));
    expect(report.events).toMatchObject([
      { part: 'C1', kind: 'fault', fault: { what: 'over-voltage', phase: 'over' } },
    ]);
    expect(said(live, 0)).toEqual(['C1 was above its rating of 9.00 V, from 139 ms on.']);
  });

  test('next() stops where a limit is passed, and a search that finds nothing leaves no trace of what it saw', () => {
    const live = session(overcharged);
    expect(live.next(1000).time).toBeCloseTo(0.1 * Math.log(4), 9);
    expect(live.next(1000).quietUntil).toBeGreaterThan(3e7);
    expect(said(live, 0)).toHaveLength(1);
  });

  test('change() that mends the cause keeps what was, and a board with other parts forgets it', () => {
    const live = session(overcharged);
    live.advance(slice(0.2));
    const [supply, resistor, capacitor] = overcharged.parts;
    live.change(opened({ parts: [supply, resistor, { ...capacitor, rating: '16 V' }] }));
    expect(said(live, 0.1)).toEqual(['C1 was above its rating of 9.00 V, once, at 139 ms for 61.4 ms.']);
    live.change(opened({ parts: [supply, resistor] }));
    expect(said(live, 0.1)).toEqual([]);
  });
});

describe('LiveSession bounce', () => {
  const values = { ...platform.values, 'S1.bounce': { for: '5 ms', seed: 7 } };

  test('a button that bounces is told to bounce once a slice, and its returns are no happenings of their own', () => {
    const live = session({ ready: 'monostable', values });
    live.work('S1', true);
    const pressed = live.advance(slice(0));
    expect(pressed.events.map(({ kind }) => kind)).toEqual(['close', 'triggerLow', 'set', 'outputHigh']);
    const after = live.advance(slice(0.01));
    const moves = after.events.filter(({ part }) => part === 'S1');
    expect(moves).toMatchObject([{ bounces: true }]);
    expect(after.happened).toBe(after.events.length - 1);
    // What comes long after the last return is told without it.
    expect(live.next(1000).events.filter(({ part }) => part === 'S1')).toEqual([]);
    live.work('S1', false);
    expect(live.advance(slice(0)).events[0]).toMatchObject({ part: 'S1', kind: 'open' });
    expect(live.advance(slice(0)).events).toEqual([]);
  });
});

describe('a limit that is only just reached', () => {
  /** R1 and the leakage of C1 as two thirds of the supply and a share more: C1 tends to hardly more than its limit. */
  const leaking = (share: number): object => ({
    ready: 'monostable',
    values: { R1: '10 kΩ', C1: '1 µF', 'C1.leakage': 20e3 * (1 + share), 'U1.family': 'ideal', BT1: '9 V' },
  });
  const pressed = (share: number): LiveSession => {
    const live = session(leaking(share));
    live.work('S1', true);
    live.advance(slice(1e-3));
    live.work('S1', false);
    return live;
  };

  test('is told in a run by hand as in a stored one, once it is reached', () => {
    const live = pressed(1e-9);
    expect(live.advance(slice(0.05)).state?.grazes).toEqual([]);
    const [said = ''] = live.advance(slice(1)).state?.grazes ?? [];
    expect(said.replaceAll('\u202f', ' ')).toMatch(/^U1: THRESHOLD only just reaches its limit at 1\d\d(\.\d+)? ms\. /);
    // Values that let it be passed as it should be are another circuit, but what was grazed stays told.
    live.change(opened(leaking(0.5)));
    expect(live.advance(slice(0.1)).state?.grazes).toHaveLength(1);
  });

  test('is not told where it is passed as it should be', () => {
    expect(pressed(0.5).advance(slice(1)).state?.grazes).toEqual([]);
  });
});
