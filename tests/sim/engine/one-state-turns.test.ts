import { beforeEach, describe, expect, test } from 'vitest';
import { BeatClock } from '#sim/engine/one-state-clock.ts';
import type { Course } from '#sim/engine/one-state-course.ts';
import { type CycleCounter, EdgeTeller } from '#sim/engine/one-state-edges.ts';
import type { Place } from '#sim/engine/one-state-place.ts';
import { Turns } from '#sim/engine/one-state-turns.ts';

// A beat of 1 s that is raised for 1/4 s. In each stretch the second signal has an edge, the first one edges before and
// after it, and some events happen; what a run does that stands as it did before is what it did then.

const beat = { rest: 0, raised: 5, period: 1, width: 0.25, delay: 0, count: 1000 };

interface Told {
  readonly at: number;
  readonly which: number;
  readonly high: boolean;
  readonly rises: number;
  readonly falls: number;
}

type Stand = Pick<Course, 'place' | 'z' | 'from' | 'end' | 'ending' | 'last'>;

const [HERE, THERE] = [{ highs: 0b01 } as Place, { highs: 0b11 } as Place];
const standAt = (z: number, more: Partial<Stand> = {}): Stand => ({
  place: HERE,
  z,
  from: 0,
  end: Infinity,
  ending: -1,
  last: 0,
  ...more,
});

let clock: BeatClock;
let course: Course;
let edges: EdgeTeller;
let turns: Turns;
let told: Told[];
beforeEach(() => {
  clock = new BeatClock();
  course = { count: 0, ...standAt(0) } as Course;
  edges = new EdgeTeller(2);
  turns = new Turns(clock, course, edges);
  told = [];
});

function begin({ until = 100.5, maxEvents = 1e6, ofBeat = true, since = 0 } = {}, cycles?: CycleCounter): void {
  clock.begin(ofBeat ? beat : undefined, until);
  edges.begin(since, (which, high) => told.push({ at: edges.at, which, high, rises: edges.rises, falls: edges.falls }));
  turns.clear(maxEvents, cycles);
}

/** Goes through a stretch from a stand: an edge of the second signal at 0.5 s, rises before it and falls after. */
function through(stand: Stand, { rises = 1, falls = 2, events = 3, high = true, many = 1 } = {}): void {
  Object.assign(course, stand);
  turns.stretchBegins();
  if (turns.over) return;
  for (let k = 0; k < many; k++) {
    clock.now = 0.5;
    edges.at = clock.base + 0.5;
    edges.rises += rises;
    edges.highs = high ? 0b10 : 0;
    turns.note(0b10);
    edges.tell(0b10, edges.highs);
  }
  edges.falls += falls;
  turns.events += events;
  clock.turn();
  clock.now = 1;
  clock.turn();
}

describe('Turns: a run that stands as it did when a turn began', () => {
  test('has the edges of that turn again, for as long as there is time, and then stands where it did', () => {
    begin();
    through(standAt(1));
    expect(clock.stretch).toBe(1);
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    // The run ends within stretch 100; one more stretch than a turn has to end before.
    expect(clock.stretch).toBe(99);
    expect(told.length).toBe(99);
    expect(told[0]).toEqual({ at: 0.5, which: 1, high: true, rises: 1, falls: 0 });
    told.slice(1).forEach((each, k) => expect(each).toEqual({ at: k + 1.5, which: 1, high: true, rises: 1, falls: 2 }));
    expect(turns.events).toBe(3 * 99);
    expect([edges.rises, edges.falls]).toEqual([0, 2]);
    expect(turns.over).toBe(false);
    expect(edges.highs).toBe(HERE.highs);
    expect(clock).toMatchObject({ corner: 0.25, raised: true });
    expect(clock.now + 0).toBe(0);
  });

  test('goes through several turns in their order', () => {
    begin();
    through(standAt(1), { high: true });
    through(standAt(2), { high: false, rises: 4, falls: 5, events: 7 });
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(clock.stretch).toBe(99);
    expect(told.map(({ at }) => at)).toEqual(Array.from({ length: 99 }, (_, k) => k + 0.5));
    expect(told.map(({ high }) => high)).toEqual(Array.from({ length: 99 }, (_, k) => k % 2 === 0));
    expect(told.slice(2, 6).map(({ rises, falls }) => [rises, falls])).toEqual([
      [1, 5],
      [4, 2],
      [1, 5],
      [4, 2],
    ]);
    // 50 of the first turn and 49 of the second; the state is that of the turn that begins now.
    expect(turns.events).toBe(50 * 3 + 49 * 7);
    expect(course.z).toBe(2);
  });

  test('makes the course stand as it did, in another count of courses', () => {
    begin();
    const stand = standAt(1, { place: THERE, from: -0.5, end: 7, ending: 2, last: 5 });
    through(stand);
    Object.assign(course, stand);
    const { count } = course;
    turns.stretchBegins();
    expect(course).toMatchObject(stand);
    expect(course.count).not.toBe(count);
    expect(edges.highs).toBe(THERE.highs);
  });

  test.each<[string, Partial<Stand>]>([
    ['place', { place: THERE }],
    ['state', { z: 2 }],
    ['beginning', { from: -1 }],
    ['end', { end: 9 }],
    ['limit', { ending: 1 }],
    ['last state', { last: 3 }],
  ])('is not one with another %s', (_, change) => {
    begin();
    through(standAt(1));
    Object.assign(course, standAt(1), change);
    turns.stretchBegins();
    expect(clock.stretch).toBe(1);
    expect(told.length).toBe(1);
  });

  test('is not one at another time of its stretch, or before another corner', () => {
    for (const [field, value] of [
      ['now', 0.125],
      ['corner', 0.75],
    ] as const) {
      begin();
      through(standAt(1));
      Object.assign(course, standAt(1));
      clock[field] = value;
      turns.stretchBegins();
      expect(clock.stretch).toBe(1);
    }
  });

  test('goes on only by as many events as are allowed', () => {
    begin({ maxEvents: 32 });
    through(standAt(1));
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(turns.events).toBe(30);
    expect(clock.stretch).toBe(10);
    begin({ maxEvents: 30 });
    through(standAt(1));
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(turns.events).toBe(30);
  });

  test('begins no turn where nothing was told since, or before edges count', () => {
    begin();
    through(standAt(1), { many: 0 });
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(clock.stretch).toBe(1);
    begin({ since: 3 });
    for (let k = 0; k < 4; k++) {
      expect(clock.stretch).toBe(k);
      through(standAt(1));
    }
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(clock.stretch).toBe(99);
  });

  test('remembers 16 edges of a turn, and goes through one with more again', () => {
    begin();
    through(standAt(1), { many: 16 });
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(told.length).toBe(99 * 16);
    begin();
    told = [];
    through(standAt(1), { many: 17 });
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(told.length).toBe(17);
  });

  test('remembers 16 turns in a row; after one more all are forgotten', () => {
    begin();
    for (let k = 0; k < 16; k++) through(standAt(k + 1));
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(clock.stretch).toBe(99);
    begin();
    for (let k = 0; k < 17; k++) through(standAt(k + 1));
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(clock.stretch).toBe(17);
    // From then on they are known again.
    for (let k = 0; k < 16; k++) through(standAt(k === 0 ? 1 : k + 100));
    Object.assign(course, standAt(17));
    turns.stretchBegins();
    expect(clock.stretch).toBe(33);
  });

  test('forgets all when another run begins', () => {
    begin();
    through(standAt(1));
    begin();
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(clock.stretch).toBe(0);
  });
});

describe('Turns: whole cycles, counted', () => {
  function counting(): { readonly cycles: CycleCounter; readonly heard: unknown[] } {
    const heard: unknown[] = [];
    return {
      heard,
      cycles: {
        begin: () => heard.push(['begin', told.length]),
        again: (times) => heard.push(['again', times, told.length]),
      },
    };
  }

  test('are told twice more, the second time to be counted, and passed over', () => {
    const { cycles, heard } = counting();
    begin({}, cycles);
    through(standAt(1));
    through(standAt(2), { rises: 4, events: 7 });
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    // From stretch 2 on, 97.5 s are left after the next one begins, one of which is to spare: 48 cycles of two stretches.
    expect(heard).toEqual([
      ['begin', 4],
      ['again', 46, 6],
    ]);
    // Then there is no more time for a cycle, but all turns that the beat has are gone on by: nobody counts them.
    expect(turns.over).toBe(true);
    expect(turns.events).toBeGreaterThanOrEqual(49 * 10);
    expect(told.length).toBeGreaterThanOrEqual(6);
    expect(told.at(-1)!.at).toBeLessThan(100.5);
    expect(told.length + 46 * 2).toBe(100);
  });

  test('are no more than the events that are allowed', () => {
    const { cycles, heard } = counting();
    begin({ maxEvents: 61 }, cycles);
    through(standAt(1));
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    // 3 events each: 58 more are 19 cycles, two of which are told.
    expect(heard).toEqual([
      ['begin', 2],
      ['again', 17, 3],
    ]);
  });

  test('are not counted where there are three at most, nor where a turn leads on', () => {
    const { cycles, heard } = counting();
    begin({ until: 5.5 }, cycles);
    through(standAt(1));
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(heard).toEqual([]);
    expect(told.length).toBe(5);
    begin({ until: 6.5 }, cycles);
    through(standAt(1));
    Object.assign(course, standAt(1));
    turns.stretchBegins();
    expect(heard.length).toBe(2);
    // 1, 2, 3 and 2 again: the first leads into a cycle and is none.
    const other = counting();
    begin({}, other.cycles);
    for (const z of [1, 2, 3]) through(standAt(z));
    Object.assign(course, standAt(2));
    turns.stretchBegins();
    expect(other.heard.length).toBe(2);
  });
});

describe('Turns without a beat', () => {
  test('are as long as they lasted', () => {
    begin({ ofBeat: false, until: 50.25 });
    const half = (z: number): void => {
      Object.assign(course, standAt(z));
      turns.stretchBegins();
      if (clock.base > 2) return;
      clock.now = 0.25;
      edges.at = clock.base + 0.25;
      edges.highs = z === 1 ? 0b10 : 0;
      turns.note(0b10);
      edges.tell(0b10, edges.highs);
      turns.events += 1;
      clock.now = z === 1 ? 0.5 : 1;
      clock.countFromNow();
    };
    half(1);
    half(2);
    half(1);
    // Turns of 0.5 s and 1 s take turns, as long as the next one ends before the run does.
    expect(clock.base).toBeGreaterThan(48.5);
    expect(told.map(({ at }) => at)).toEqual(
      Array.from({ length: told.length }, (_, k) => Math.floor(k / 2) * 1.5 + (k % 2) * 0.5 + 0.25),
    );
    expect(told.map(({ high }) => high)).toEqual(told.map((_, k) => k % 2 === 0));
    expect(turns.events).toBe(told.length);
    expect(clock.base + (told.length % 2 === 0 ? 0.5 : 1)).toBeGreaterThanOrEqual(50.25 - 1);
  });
});
