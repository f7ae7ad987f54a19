import { describe, expect, test } from 'vitest';
import type { Guard, Reaction } from '#sim/device/contract.ts';
import { Audience, type Moment } from '#sim/engine/audience.ts';
import type { Situation } from '#sim/engine/situation.ts';
import type { Succession } from '#sim/engine/succession.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import type { SegmentView } from '#sim/trace/frame.ts';
import type { Crossing, Observer, Periods } from '#sim/trace/observer.ts';

// What is shown is what is handed over; parts of the state that die out have done so by exp(-rate times time since).

const signals = { nets: ['ground', 'a'], currents: [] };
const periods: Periods = { begin: () => 0, repeat: () => undefined };
const segment = (): void => undefined;
const event = (): void => undefined;
const crossing = (): void => undefined;

/** Where a run stands, as far as it is given. */
function momentOf(given: Partial<Moment>): Moment {
  const none = new Float64Array(0);
  return { situation: undefined, z: none, amplitudes: none, time: 0, timeLow: 0, elapsed: 0, shown: 0, ...given };
}

function audienceOf(...observers: readonly Observer[]): Audience {
  return new Audience(observers, signals);
}

describe('Audience: what anybody wants to see', () => {
  test.each<[string, readonly Observer[], [boolean, boolean, boolean]]>([
    ['nothing for nobody', [], [false, false, false]],
    ['nothing for one who waits for the end', [{ end: event }], [false, false, false]],
    ['segments', [{ segment }], [true, false, false]],
    ['events', [{ event }], [false, true, false]],
    // A crossing is shown with the event that it sets off.
    ['crossings', [{ crossing }], [false, true, true]],
    ['all of them, for different ones', [{ segment }, { event }, { crossing }], [true, true, true]],
  ])('is %s', (_, observers, expected) => {
    const { seesSegments, seesEvents, seesCrossings } = audienceOf(...observers);
    expect([seesSegments, seesEvents, seesCrossings]).toEqual(expected);
  });

  test('may be told of periods where everybody who watches can be', () => {
    expect(audienceOf({ segment, periods }, { event, periods }, { crossing, periods }).periods).toEqual(
      Array(3).fill(periods),
    );
    expect(audienceOf({ segment, periods }, { end: event }).periods).toEqual([periods]);
    expect(audienceOf().periods).toEqual([]);
    for (const one of [{ segment }, { event }, { crossing }]) {
      expect(audienceOf(one, { segment, periods }).periods).toBe(undefined);
    }
    // One who has nothing to watch with has nothing to be told either.
    expect(audienceOf({ periods }).periods).toEqual([]);
  });

  test('begins and ends for everybody', () => {
    const heard: unknown[] = [];
    const observer: Observer = { begin: (names) => heard.push(names), end: (time) => heard.push(time) };
    const audience = audienceOf(observer, {}, observer);
    audience.end(3);
    expect(heard).toEqual([signals, signals, 3, 3]);
  });
});

describe('Audience.segment()', () => {
  const frame = {
    rates: Float64Array.of(0, 2),
    rows: Float64Array.of(0, 0, 1, 1),
    constants: Float64Array.of(0, 5),
    slopes: Float64Array.of(0, 0),
  };
  const situationOf = (slope: number): Situation =>
    ({
      rates: frame.rates,
      stateCount: 2,
      frame: { ...frame, slopes: Float64Array.of(0, slope) },
    }) as unknown as Situation;

  /** What an observer is shown from one local time to another, copied. */
  function shown(situation: Situation, amplitudes: readonly number[], time: [number, number], span: [number, number]) {
    const seen: SegmentView[] = [];
    const observer: Observer = {
      segment: (view) => void seen.push({ ...view, amplitudes: view.amplitudes.slice() }),
    };
    const [[high, timeLow], [from, elapsed]] = [time, span];
    const moment = { situation, amplitudes: Float64Array.from(amplitudes), time: high, timeLow, elapsed, shown: from };
    audienceOf(observer, { event }, observer).segment(momentOf(moment));
    expect(seen.length).toBe(2);
    return seen[1]!;
  }

  test('shows the beginning of a situation as it is', () => {
    const situation = situationOf(3);
    const view = shown(situation, [1, 4], [8, 2 ** -60], [0, 0.5]);
    expect(view).toMatchObject({ start: 8, startLow: 2 ** -60, length: 0.5 });
    expect([...view.amplitudes]).toEqual([1, 4]);
    expect(view.frame).toBe(situation.frame);
  });

  test('shows a later part by what has died out, and where straight lines have come to', () => {
    const view = shown(situationOf(3), [1, 4], [8, 0], [0.5, 0.75]);
    expect(view).toMatchObject({ start: 8.5, startLow: 0, length: 0.25 });
    expect([...view.amplitudes]).toEqual([1, 4 * Math.exp(-1)]);
    expect([...view.frame.constants]).toEqual([0, 5 + 3 * 0.5]);
    expect([...view.frame.slopes]).toEqual([0, 3]);
    expect(view.frame.rows).toEqual(frame.rows);
    expect(view.frame.rates).toEqual(frame.rates);
  });

  test('keeps the frame where nothing goes along a straight line', () => {
    const situation = situationOf(0);
    expect(shown(situation, [1, 4], [8, 0], [0.5, 0.75]).frame).toBe(situation.frame);
  });

  test('asks for all signals before it moves them', () => {
    const asked: unknown[] = [];
    const situation = {
      ...situationOf(3),
      frame: { ...frame, slopes: Float64Array.of(0, 3), need: (index?: number) => void asked.push(index) },
    } as unknown as Situation;
    shown(situation, [1, 4], [8, 0], [0.5, 0.75]);
    expect(asked).toEqual([undefined]);
  });

  test('keeps the time in two parts: 1 + (2^-54 + 2^-55) is 1 and what is left', () => {
    const view = shown(situationOf(0), [1, 1], [1, 2 ** -55], [2 ** -54, 1]);
    expect([view.start, view.startLow]).toEqual([1, 2 ** -54 + 2 ** -55]);
    const other = shown(situationOf(0), [1, 1], [1, 2 ** -55], [2 ** -52, 1]);
    expect([other.start, other.startLow]).toEqual([1 + 2 ** -52, 2 ** -55]);
  });
});

/** A situation whose nodes stand at given voltages and whose branch 0 carries a current, one guard watching. */
function watching(guard: Guard | undefined, volts: readonly number[] = [0, 5, 2]): Situation {
  return {
    guards: [{ guard }],
    mode: { nodes: { at: (node: number) => volts[node]! }, branchCurrents: { at: () => 0.25 } },
    valueOf: (value: number, _: Float64Array, elapsed: number) => value + elapsed,
  } as unknown as Situation;
}

function successionOf(records: Reaction['records'] | undefined, kind: Succession['kind'] = 'piece'): Succession {
  const reaction = records && { state: 0, pieces: [], schedule: [], cancel: [], records };
  return { part: 'U1', kind, reaction } as unknown as Succession;
}

describe('Audience.event()', () => {
  /** What everybody is told, and what those are told who ignore pieces. */
  function told(succession: Succession, situation: Situation, fired: number): [RunEvent[], RunEvent[]] {
    const [all, some]: [RunEvent[], RunEvent[]] = [[], []];
    const audience = audienceOf(
      { event: (each) => void all.push(each) },
      { segment },
      { ignoresPieces: true, event: (each) => void some.push(each) },
    );
    audience.event(succession, fired, momentOf({ situation, time: 3, timeLow: 2 ** -60 }));
    return [all, some];
  }
  const when = { time: 3, timeLow: 2 ** -60, part: 'U1' };

  test('tells of another piece, those who want to know', () => {
    expect(told(successionOf(undefined), watching(undefined), 0)).toEqual([[{ ...when, kind: 'piece' }], []]);
    expect(told(successionOf(undefined, 'source'), watching(undefined), -1)[0]).toEqual([{ ...when, kind: 'source' }]);
  });

  test('tells everybody what a reactor records, one after the other, with the causes', () => {
    const records: Reaction['records'] = [{ kind: 'set', cause: 'accepted' }, { kind: 'outputHigh' }];
    const expected = [
      { ...when, kind: 'set', cause: 'accepted' },
      { ...when, kind: 'outputHigh' },
    ];
    const [all, some] = told(successionOf(records), watching(undefined), -1);
    expect(all).toStrictEqual(expected);
    expect(some).toStrictEqual(expected);
    expect(told(successionOf([]), watching(undefined), -1)).toEqual([[], []]);
  });

  test('tells the value and the limit of a guard with the first of what it sets off', () => {
    const guard: Guard = { event: 0, rank: 1, watch: { plus: 1, minus: 2, seen: 'plus' }, offset: 1 };
    const records: Reaction['records'] = [{ kind: 'thresholdOver' }, { kind: 'cleared', cause: 'thresholdOver' }];
    expect(told(successionOf(records), watching(guard), 0)[0]).toStrictEqual([
      { ...when, kind: 'thresholdOver', value: 5, limit: 3 },
      { ...when, kind: 'cleared', cause: 'thresholdOver' },
    ]);
    // A piece's guard has nothing to tell.
    expect(told(successionOf(records), watching(undefined), 0)[0][0]).toStrictEqual({
      ...when,
      kind: 'thresholdOver',
    });
  });

  test('tells of faults what is beyond its limit', () => {
    const fault = { what: 'over-voltage', phase: 'over' } as const;
    const guard: Guard = { event: 0, rank: 4, watch: { plus: 1, minus: 0, seen: 'plus' }, offset: 4 };
    const records: Reaction['records'] = [{ kind: 'fault', fault }];
    expect(told(successionOf(records), watching(guard), 0)[0]).toStrictEqual([
      { ...when, kind: 'fault', value: 5, limit: 4, fault },
    ]);
    expect(told(successionOf(records), watching(undefined), -1)[0]).toStrictEqual([{ ...when, kind: 'fault', fault }]);
  });

  // Node 1 at 5 V, node 2 at 2 V, a current of 0.25 A; what is seen is the one that the guard names.
  test.each<[string, Guard['watch'], number, number, number]>([
    ['v(plus) against v(minus) and the offset', { plus: 1, minus: 2, seen: 'plus' }, 1, 5, 3],
    ['v(minus) against v(plus) less the offset', { plus: 1, minus: 2, seen: 'minus' }, 1, 2, 4],
    ['v(plus) - v(minus) against the offset', { plus: 1, minus: 2, seen: 'plus above minus' }, 1, 3, 1],
    ['v(minus) - v(plus) against the offset', { plus: 1, minus: 2, seen: 'minus above plus' }, 1, -3, -1],
    ['a current against the offset', { branch: 0, sign: 1 }, 0.125, 0.25, 0.125],
    ['a current that falls against its limit', { branch: 0, sign: -1 }, 0.125, 0.25, -0.125],
  ])('compares %s', (_, watch, offset, value, limit) => {
    const situation = watching({ event: 0, rank: 1, watch, offset });
    expect(told(successionOf([{ kind: 'close' }]), situation, 0)[0]).toStrictEqual([
      { ...when, kind: 'close', value, limit },
    ]);
  });
});

describe('Audience.crossing()', () => {
  test('tells those who ask what a reactor answers with first, and how well the time is known', () => {
    const heard: Crossing[] = [];
    const audience = audienceOf({ crossing: (each) => void heard.push(each) }, { event });
    audience.crossing(
      successionOf([{ kind: 'set' }, { kind: 'outputHigh' }]),
      1e-9,
      momentOf({ time: 3, timeLow: 2 ** -60 }),
    );
    expect(heard).toEqual([{ part: 'U1', kind: 'set', time: 3, timeLow: 2 ** -60, offBy: 1e-9 }]);
    // Nothing that is not answered, or not recorded.
    audience.crossing(successionOf(undefined), 1e-9, momentOf({ time: 3 }));
    audience.crossing(successionOf([]), 1e-9, momentOf({ time: 3 }));
    expect(heard.length).toBe(1);
  });
});
