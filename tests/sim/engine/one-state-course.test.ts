import { beforeEach, describe, expect, test } from 'vitest';
import { AlikeStretches } from '#sim/engine/one-state-alike.ts';
import { BeatClock } from '#sim/engine/one-state-clock.ts';
import { BEYOND, Course } from '#sim/engine/one-state-course.ts';
import { EdgeTeller } from '#sim/engine/one-state-edges.ts';
import { Found, NONE } from '#sim/engine/one-state-found.ts';
import type { Place, Way } from '#sim/engine/one-state-place.ts';
import { Turns } from '#sim/engine/one-state-turns.ts';

// The state of a place with rate 2 /s that tends to 8 is 8 - (8 - z) exp(-2 t); it meets a limit L after
// ln((8 - z) / (8 - L)) / 2.

interface Limit {
  readonly at: number;
  /** 1 where it is watched for becoming larger, -1 for smaller. */
  readonly sign?: 1 | -1;
  readonly tolerance?: number;
  readonly code?: number;
}

interface Law {
  readonly rate?: number;
  readonly rest?: number;
  readonly law?: number;
  readonly noise?: number;
  readonly standing?: number;
  readonly passes?: boolean;
  readonly reach?: number;
}

function placeOf(limits: readonly Limit[], { rate = 2, rest = 8, law = 0, noise = 0, ...more }: Law = {}): Place {
  const situation = {
    stateCount: 1,
    rates: Float64Array.of(rate),
    idle: rate === 0 ? 1 : 0,
    rows: Float64Array.from(limits, ({ sign = 1 }) => sign),
    constants: Float64Array.from(limits, ({ at, sign = 1 }) => sign * (rest - at)),
    slopes: new Float64Array(limits.length),
    tolerances: Float64Array.from(limits, ({ tolerance = 2 ** -40 }) => tolerance),
    scales: new Float64Array(limits.length).fill(1),
    guards: limits.map(({ code = -2 }) => ({ code })),
    noise,
  };
  const found = new Found();
  return {
    situation,
    rate,
    rest,
    noise,
    reach: 100,
    law,
    limits: 0,
    moving: limits.map((_, g) => g),
    standing: NONE,
    passes: false,
    highs: 0,
    found: [found],
    latest: found,
    oldest: 0,
    ...more,
  } as unknown as Place;
}

function wayTo(to: Place, more: Partial<Way> = {}): Way {
  return {
    to,
    continues: false,
    keepsLimits: false,
    factor: 1,
    offset: 0,
    reaction: undefined,
    reactor: -1,
    back: -1,
    ...more,
  };
}

let clock: BeatClock;
let course: Course;
beforeEach(() => {
  clock = new BeatClock();
  clock.begin(undefined, 100);
  course = new Course(clock);
});

describe('Course.look()', () => {
  test('finds when which limit is met first, and the state then', () => {
    course.begin(placeOf([{ at: 6 }, { at: 4 }, { at: 9 }, { at: -1, sign: -1 }]), 0);
    expect(course.unread).toBe(true);
    expect(course.look()).toBe(NONE);
    expect(course.unread).toBe(false);
    expect(course.ending).toBe(1);
    expect(course.end).toBeCloseTo(Math.LN2 / 2, 15);
    expect(course.last).toBe(4);
    expect(course.soonest).toBe(course.end);
  });

  test('finds a limit from above', () => {
    course.begin(placeOf([{ at: 12 }, { at: 10, sign: -1 }]), 16);
    // The first one is behind, so it fires at once; without it the second is met after ln(8 / 2) / 2.
    expect(course.look()).toBe(0);
    course.begin(placeOf([{ at: 20 }, { at: 10, sign: -1 }]), 16);
    expect(course.look()).toBe(NONE);
    expect([course.ending, course.last]).toEqual([1, 10]);
    expect(course.end).toBeCloseTo(Math.log(4) / 2, 15);
  });

  test('finds none where all limits lie beyond where the state tends', () => {
    course.begin(placeOf([{ at: 9 }]), 0);
    expect(course.look()).toBe(NONE);
    expect([course.end, course.ending]).toEqual([Infinity, NONE]);
  });

  test('finds none for a state that stands still', () => {
    course.begin(placeOf([{ at: 4 }], { rate: 0 }), 3);
    clock.now = 5;
    expect(course.look()).toBe(NONE);
    expect(course.end).toBe(Infinity);
  });

  test('goes no further where a limit is only just reached, or the state is beyond all bounds', () => {
    course.begin(placeOf([{ at: 8 }]), 0);
    expect(course.look()).toBe(BEYOND);
    expect(course.unread).toBe(true);
    course.begin(placeOf([{ at: 8 - 2 ** -20, tolerance: 2 ** -10 }]), 0);
    expect(course.look()).toBe(BEYOND);
    course.begin(placeOf([{ at: 8 + 2 ** -20, tolerance: 2 ** -10 }]), 0);
    expect(course.look()).toBe(BEYOND);
    course.begin(placeOf([{ at: 8 - 2 ** -5, tolerance: 2 ** -10 }]), 0);
    expect(course.look()).toBe(NONE);
    course.begin(placeOf([{ at: 8 + 2 ** -5, tolerance: 2 ** -10 }]), 0);
    expect(course.look()).toBe(NONE);
    course.begin(placeOf([{ at: 4 }]), 101);
    expect(course.look()).toBe(BEYOND);
    course.begin(placeOf([{ at: -200 }]), -101);
    expect(course.look()).toBe(BEYOND);
    // What was beyond closed forms has not been taken note of.
    course.begin(placeOf([{ at: 4 }]), 0);
    expect(course.look()).toBe(NONE);
  });

  test('is at once what is past its limit, whatever the state is, but for ways back', () => {
    const place = placeOf([{ at: 4 }], { standing: 7 });
    course.begin(place, 0);
    expect(course.look()).toBe(7);
    course.follow(wayTo(place, { back: 5 }), false);
    // A branch has moved: it has to be looked whether that is the way back.
    expect(course.look()).toBe(NONE);
  });

  test('looks again where time has passed: what is met by then fires now', () => {
    const place = placeOf([{ at: 4 }]);
    course.begin(place, 0);
    expect(course.look()).toBe(NONE);
    const { count } = course;
    // Other limits come into force at half the time: the same law, met as before.
    clock.now = Math.LN2 / 4;
    const [between, behind] = [placeOf([{ at: 6 }]), placeOf([{ at: 1 }])];
    course.follow(wayTo(between, { continues: true }), false);
    expect(course.look()).toBe(NONE);
    expect(course.end).toBeCloseTo(Math.log(4) / 2, 15);
    expect(course.count).toBe(count);
    expect([course.z, course.from + 0]).toEqual([0, 0]);
    // One that is behind already: the state is worked out, and it is another course.
    course.follow(wayTo(behind, { continues: true }), false);
    expect(course.look()).toBe(0);
    expect(course.count).toBeGreaterThan(count);
    expect(course.z).toBeCloseTo(8 - 8 / Math.SQRT2, 14);
    expect(course.from).toBe(clock.now);
  });

  test('allows for the rounding that the state has brought along', () => {
    const noisy = placeOf([{ at: 4 }], { noise: 0.5 });
    course.begin(noisy, 0);
    course.timePassed();
    course.follow(wayTo(placeOf([{ at: 7.75 }])), false);
    expect(course.look()).toBe(BEYOND);
    course.begin(placeOf([{ at: 7.75 }]), 0);
    expect(course.look()).toBe(NONE);
  });
});

describe('Course: what is known of a place', () => {
  test('is used again for the same state, of eight states at least', () => {
    const place = placeOf([{ at: 4 }]);
    const seen = new Map<number, Found>();
    for (let z = 0; z < 8; z++) {
      course.begin(place, z / 4);
      course.look();
      seen.set(z, place.latest);
    }
    expect(new Set(seen.values()).size).toBe(8);
    for (const z of [3, 0, 7, 7, 1]) {
      course.begin(place, z / 4);
      course.look();
      expect(place.latest).toBe(seen.get(z));
      expect(course.end).toBeCloseTo(Math.log((8 - z / 4) / 4) / 2, 15);
    }
    // The ninth takes the place of one of them.
    course.begin(place, 3.5);
    course.look();
    expect([...seen.values()]).toContain(place.latest);
    expect(course.end).toBeCloseTo(Math.log(4.5 / 4) / 2, 14);
    expect(place.found.length).toBe(8);
  });

  test('is not used for another rounding or another way back, where it may fire at once', () => {
    // It falls to 0 from just above its limit.
    const place = placeOf([{ at: 4, code: 5, tolerance: 2 ** -20 }], { rest: 0 });
    const slightly = 4 + 2 ** -10;
    course.begin(place, slightly);
    expect(course.look()).toBe(0);
    // With 1 V of rounding it stands on its limit, and falls.
    course.begin(placeOf([], { noise: 1 }), slightly);
    course.timePassed();
    course.follow(wayTo(place, { back: 9 }), false);
    expect(course.look()).toBe(NONE);
    course.begin(placeOf([]), slightly);
    course.follow(wayTo(place, { back: 5 }), false);
    expect(course.look()).toBe(NONE);
    course.begin(place, slightly);
    expect(course.look()).toBe(0);
    // Two branches have moved, the other one last.
    course.begin(placeOf([]), slightly);
    course.follow(wayTo(placeOf([]), { back: 5 }), false);
    course.follow(wayTo(place, { back: 9 }), false);
    expect(course.look()).toBe(NONE);
    course.begin(placeOf([]), slightly);
    course.follow(wayTo(place, { back: 9 }), false);
    expect(course.look()).toBe(0);
    // Something else than a branch has moved: ways back are forgotten.
    course.begin(placeOf([]), slightly);
    course.follow(wayTo(placeOf([]), { back: 5 }), false);
    course.follow(wayTo(place), false);
    expect(course.look()).toBe(0);
  });
});

describe('Course.settle() and Course.follow()', () => {
  test('work the state out: 8 - 8 exp(-2 t)', () => {
    course.begin(placeOf([]), 0);
    clock.now = Math.LN2 / 2;
    course.settle();
    expect(course.z).toBeCloseTo(4, 14);
    expect(course.from).toBe(clock.now);
    const { z } = course;
    course.settle();
    expect(course.z).toBe(z);
  });

  test('take the state over by factor and offset into another law', () => {
    course.begin(placeOf([]), 0);
    clock.now = Math.LN2 / 2;
    const to = placeOf([]);
    course.follow(wayTo(to, { factor: 0.5, offset: 3 }), false);
    expect(course.place).toBe(to);
    expect(course.z).toBeCloseTo(0.5 * 4 + 3, 14);
    expect(course).toMatchObject({ from: clock.now, end: Infinity, unread: true });
  });

  test('take it from the limit that ends the course, which is known exactly', () => {
    course.begin(placeOf([{ at: 4 }]), 0);
    course.look();
    clock.now = course.end;
    course.follow(wayTo(placeOf([]), { factor: 0.5, offset: 3 }), true);
    expect(course.z).toBe(5);
    course.begin(placeOf([{ at: 4 }]), 0);
    course.look();
    course.follow(wayTo(placeOf([]), { continues: true, factor: 0.5, offset: 3 }), true);
    expect(course.z).toBe(4);
    expect(course.unread).toBe(true);
  });

  test('leave course and state alone where neither law nor limits change', () => {
    const place = placeOf([{ at: 4 }]);
    course.begin(place, 0);
    course.look();
    const { end, count } = course;
    clock.now = 0.125;
    const to = placeOf([{ at: 4 }]);
    course.follow(wayTo(to, { continues: true, keepsLimits: true }), false);
    expect(course).toMatchObject({ place: to, z: 0, end, count, unread: false });
    expect(course.from + 0).toBe(0);
    course.follow(wayTo(placeOf([{ at: 4 }], { passes: true }), { continues: true, keepsLimits: true }), false);
    expect(course.unread).toBe(true);
  });

  test('set the clock back', () => {
    course.begin(placeOf([{ at: 4 }]), 0);
    course.look();
    const { end } = course;
    course.setBack(0.125);
    expect([course.from, course.end]).toEqual([-0.125, end - 0.125]);
  });
});

describe('AlikeStretches.stretchBegins()', () => {
  const beat = { rest: 0, raised: 5, period: 1, width: 0.25, delay: 0, count: 1000 };
  let edges: EdgeTeller;
  let turns: Turns;
  let alike: AlikeStretches;
  beforeEach(() => {
    clock.begin(beat, 500.5);
    edges = new EdgeTeller(2);
    edges.begin(0, () => {});
    turns = new Turns(clock, course, edges);
    turns.clear(1e6, undefined);
    alike = new AlikeStretches(clock, course, edges, turns);
    // At 0.01 /s the limit at 4 is met after 50 ln 2 / 0.5 = 69.3 s.
    course.begin(placeOf([{ at: 4 }], { rate: 0.01 }), 0);
    course.look();
  });

  /** Goes through a stretch in which the input rises and falls, and comes to the next. */
  function through(rises = 1, events = 2): void {
    edges.rises += rises;
    edges.falls += 1;
    turns.events += events;
    clock.turn();
    if (clock.turn()) course.setBack(1);
  }

  test('passes over stretches that do what the one before did, up to the limit that is met next', () => {
    alike.stretchBegins();
    through();
    alike.stretchBegins();
    // It is met 68.3 s after the second stretch has begun: 68 of them end before, and have an edge each way.
    expect(clock.stretch).toBe(1 + 68);
    expect([edges.rises, edges.falls, turns.events]).toEqual([69, 69, 138]);
    expect(course.end).toBeCloseTo((100 * Math.LN2) % 1, 10);
    expect(course.from).toBe(-69);
    // Nothing is passed over where it is met within the stretch.
    through();
    alike.stretchBegins();
    expect(clock.stretch).toBe(70);
  });

  test('counts for each of them what the stretch before did', () => {
    alike.stretchBegins();
    through(3, 7);
    alike.stretchBegins();
    expect([edges.rises, edges.falls, turns.events]).toEqual([3 * 69, 69, 7 * 69]);
  });

  test('passes over no more of them than the beat has, or the run', () => {
    clock.begin({ ...beat, count: 21 }, 500.5);
    alike.stretchBegins();
    through();
    alike.stretchBegins();
    expect(clock.stretch).toBe(20);
    clock.begin(beat, 40.5);
    course.begin(placeOf([]), 0);
    course.look();
    alike.clear();
    alike.stretchBegins();
    through();
    alike.stretchBegins();
    expect(clock.stretch).toBe(40);
  });

  test('passes over none after the first, after another course or place, after what was told, or before edges count', () => {
    const passed = (change: () => void): number => {
      alike.clear();
      clock.begin(beat, 500.5);
      course.begin(placeOf([]), 0);
      course.look();
      edges.begin(0, () => {});
      alike.stretchBegins();
      through();
      change();
      alike.stretchBegins();
      return clock.stretch - 1;
    };
    expect(passed(() => {})).toBeGreaterThan(100);
    expect(passed(() => alike.clear())).toBe(0);
    expect(passed(() => course.count++)).toBe(0);
    expect(passed(() => (course.place = placeOf([])))).toBe(0);
    expect(passed(() => edges.tell(2, 2))).toBe(0);
    expect(passed(() => (clock.now = 0.125))).toBe(0);
    expect(passed(() => (edges.since = 0.5))).toBe(0);
    expect(passed(() => (edges.since = 2))).toBe(0);
  });

  test('looks as far ahead as the limit that was met soonest in the stretch before', () => {
    alike.stretchBegins();
    through();
    // At some time of the stretch a limit was in force that is met after 30 s.
    course.soonest = 30.5;
    alike.stretchBegins();
    expect(clock.stretch).toBe(1 + 29);
  });
});
