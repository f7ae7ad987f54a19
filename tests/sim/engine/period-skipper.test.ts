import { beforeEach, describe, expect, test } from 'vitest';
import type { TwoPart } from '#sim/core/two-part.ts';
import type { Agenda } from '#sim/engine/agenda.ts';
import { EventCounter } from '#sim/engine/event-counter.ts';
import { PeriodSkipper } from '#sim/engine/period-skipper.ts';
import type { Situation } from '#sim/engine/situation.ts';

// A run that stands at each whole second as it did one second before, with three events and two corners of its input a
// second: from one second on to another one nothing is new but the date.

const EVENTS = 3;
/** Landmarks before the first look. */
const FIRST = 1024;

const situation = { stateCount: 1 } as Situation;

let agenda: {
  hasRepeatingInputs: boolean;
  atRepeatingCorner: boolean;
  marks: readonly number[];
  toSingular: number;
  left: number;
  skipped: [times: number, corners: readonly number[], period: TwoPart][];
};
let counter: EventCounter;
let skipper: PeriodSkipper;
let now: number;
let asked: number[];
let repeated: [times: number, later: TwoPart][];
/** Until when observers know what a period does. */
let known: number;

function begin(): void {
  skipper = new PeriodSkipper(
    {
      ...agenda,
      get atRepeatingCorner() {
        return agenda.atRepeatingCorner;
      },
      get marks() {
        return agenda.marks;
      },
      get toSingular() {
        return agenda.toSingular;
      },
      phase: () => [],
      periodsLeft: () => agenda.left,
      skip(times: number, corners: readonly number[], period: TwoPart) {
        agenda.skipped.push([times, corners, period]);
        return { high: times * period.high, low: 0 };
      },
    } as unknown as Agenda,
    counter,
  );
}

beforeEach(() => {
  agenda = {
    hasRepeatingInputs: true,
    atRepeatingCorner: true,
    marks: [0],
    toSingular: Infinity,
    left: Infinity,
    skipped: [],
  };
  counter = new EventCounter(1);
  now = 0;
  known = 1e9;
  asked = [];
  repeated = [];
  begin();
});

interface Look {
  readonly z?: number;
  readonly guesses?: readonly number[];
  readonly elapsed?: number;
  readonly until?: number;
}

/** Goes on by a second; true if the run was taken on, and whether it was looked at all. */
function second({ z = 5, guesses = [], elapsed = 1, until = 1e9 }: Look = {}): { looked: boolean; taken: boolean } {
  now++;
  counter.handled += EVENTS;
  agenda.marks = [agenda.marks[0]! + 2];
  if (!skipper.wants(situation, Float64Array.of(z), elapsed)) return { looked: false, taken: false };
  const observer = {
    begin: (date: number) => {
      asked.push(date);
      return known;
    },
    repeat: (times: number, later: TwoPart) => void repeated.push([times, later]),
  };
  return {
    looked: true,
    taken: skipper.look({ situation, state: [z], guesses, high: now, low: 0 }, until, [observer]),
  };
}

/** Goes on until the first look, at which a moment is kept. */
function untilFirstLook(): void {
  for (let k = 1; k < FIRST; k++) expect(second().looked).toBe(false);
  expect(second()).toEqual({ looked: true, taken: false });
}

describe('PeriodSkipper', () => {
  test('goes on by all periods but two that fit, once a moment has come again', () => {
    untilFirstLook();
    expect(second({ until: FIRST + 1 + 100.5 }).taken).toBe(true);
    expect(asked).toEqual([FIRST + 1]);
    expect(agenda.skipped).toEqual([[98, [2], { high: 1, low: 0 }]]);
    expect(repeated).toEqual([[98, { high: 98, low: 0 }]]);
    expect(counter.skipped).toBe(98 * EVENTS);
  });

  test('goes no further than observers know, than the next thing that comes once, or than the inputs last', () => {
    const timesWith = (change: () => void): number => {
      agenda = { ...agenda, toSingular: Infinity, left: Infinity, skipped: [], marks: [0] };
      counter = new EventCounter(1);
      [now, known] = [0, 1e9];
      begin();
      untilFirstLook();
      change();
      second();
      return agenda.skipped[0]?.[0] ?? 0;
    };
    expect(timesWith(() => (known = now + 1 + 30.5))).toBe(28);
    expect(timesWith(() => (agenda.toSingular = 20.5))).toBe(18);
    expect(timesWith(() => (agenda.left = 10))).toBe(8);
    // Of two periods none is left to skip, of three one.
    expect(timesWith(() => (agenda.left = 2))).toBe(0);
    expect(timesWith(() => (agenda.left = 3))).toBe(1);
    // More than can be counted exactly.
    expect(timesWith(() => (known = Infinity))).toBe(1e9 - FIRST - 1 - 2);
  });

  test('does not skip what nobody can count: without an end there is no number of times', () => {
    untilFirstLook();
    known = Infinity;
    expect(second({ until: Infinity })).toEqual({ looked: true, taken: false });
    expect(agenda.skipped).toEqual([]);
  });

  test('waits until all observers know what a period does; it asks at every period, and rests after nine', () => {
    untilFirstLook();
    known = 0;
    for (let k = 1; k <= 9; k++) expect(second()).toEqual({ looked: true, taken: false });
    expect(asked.length).toBe(9);
    known = 1e9;
    // It rests for four times as many landmarks.
    for (let k = 1; k < 4 * FIRST; k++) expect(second().looked).toBe(false);
    expect(second()).toEqual({ looked: true, taken: false });
    expect(second().taken).toBe(true);
  });

  test('goes on as soon as they do', () => {
    untilFirstLook();
    known = 0;
    for (let k = 1; k <= 8; k++) expect(second().taken).toBe(false);
    known = 1e9;
    expect(second().taken).toBe(true);
    expect(agenda.skipped[0]![1]).toEqual([2]);
    expect(agenda.skipped[0]![2]).toEqual({ high: 1, low: 0 });
  });

  test('is certain only where the guesses of roots are the same as well', () => {
    untilFirstLook();
    expect(second({ guesses: [1] })).toEqual({ looked: true, taken: false });
    expect(second({ guesses: [2] })).toEqual({ looked: true, taken: false });
    expect(second({ guesses: [2] }).taken).toBe(true);
  });

  test('rests after it has gone on, and after it could not', () => {
    untilFirstLook();
    agenda.left = 2;
    expect(second().taken).toBe(false);
    for (let k = 1; k < 4 * FIRST; k++) expect(second().looked).toBe(false);
    expect(second().looked).toBe(true);
    agenda.left = 100;
    expect(second().taken).toBe(true);
    for (let k = 1; k < 16 * FIRST; k++) expect(second().looked).toBe(false);
    expect(second().looked).toBe(true);
  });

  test('keeps another moment after as many looks again, as long as none comes again', () => {
    untilFirstLook();
    for (let k = 1; k < 2 * FIRST; k++) expect(second({ z: 6 }).looked).toBe(false);
    expect(second({ z: 6 })).toEqual({ looked: true, taken: false });
    expect(second({ z: 5 }).looked).toBe(false);
    expect(second({ z: 6 }).taken).toBe(true);
    expect(agenda.skipped[0]![1]).toEqual([4]);
    expect(agenda.skipped[0]![2]).toEqual({ high: 2, low: 0 });
  });

  test('looks at corners of inputs that repeat themselves; without such, at events for which time has passed', () => {
    agenda.atRepeatingCorner = false;
    for (let k = 0; k < 2 * FIRST; k++) expect(second().looked).toBe(false);
    agenda.hasRepeatingInputs = false;
    begin();
    for (let k = 0; k < 2 * FIRST; k++) expect(second({ elapsed: 0 }).looked).toBe(false);
    untilFirstLook();
  });
});
