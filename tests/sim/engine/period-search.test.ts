import { describe, expect, test } from 'vitest';
import { equal, type Moment, PeriodSearch } from '#sim/engine/period-search.ts';
import type { Situation } from '#sim/engine/situation.ts';

/** A situation of which a search asks only how many states it has. */
function situationOf(stateCount: number): Situation {
  return { stateCount } as Situation;
}

const one = situationOf(1);
const other = situationOf(1);

function moment(situation: Situation, ...state: number[]): Moment {
  return { situation, state, guesses: [] };
}

/** Looks at states of one situation one after the other, as a run does; the places at which it was where it had been. */
function backAt(search: PeriodSearch<Moment>, states: readonly number[]): number[] {
  return states.flatMap((state, place) => {
    if (!search.wants(one, Float64Array.of(state))) return [];
    return search.isBackAt(moment(one, state)) ? [place] : [];
  });
}

describe('PeriodSearch', () => {
  test('keeps the first moment after its patience, and is back when that comes again', () => {
    const search = new PeriodSearch<Moment>(2);
    expect(backAt(search, [1, 2])).toEqual([]);
    expect(search.kept).toEqual(moment(one, 2));
    expect(backAt(search, [1, 2])).toEqual([1]);
  });

  test.each([1, 2, 3, 5, 8, 13])('finds a period of %d with one moment in memory, within four of them', (length) => {
    const states = Array.from({ length: 6 * length + 4 }, (_, i) => i % length);
    const found = backAt(new PeriodSearch<Moment>(1), states);
    expect(found.length).toBeGreaterThan(0);
    expect(found[0]).toBeLessThanOrEqual(4 * length);
  });

  test('takes a new moment after twice as many looks each time: what comes once only is no period', () => {
    const search = new PeriodSearch<Moment>(1);
    const kept: number[] = [];
    for (let state = 1; state <= 16; state++) {
      backAt(search, [state]);
      const now = search.kept!.state[0]!;
      if (kept.at(-1) !== now) kept.push(now);
    }
    expect(kept).toEqual([1, 3, 7, 15]);
  });

  test('looks at nothing else meanwhile: another state, or another situation', () => {
    const search = new PeriodSearch<Moment>(1);
    expect(search.wants(one, Float64Array.of(5))).toBe(true);
    search.isBackAt(moment(one, 5));
    search.keep(search.kept, 100);
    expect(search.wants(one, Float64Array.of(6))).toBe(false);
    expect(search.wants(other, Float64Array.of(5))).toBe(false);
    expect(search.wants(one, Float64Array.of(5))).toBe(true);
  });

  test('is not back in the same state with something else that decides: what waits, or the situation', () => {
    const search = new PeriodSearch<Moment>(1);
    search.keep(moment(one, 5, 0.25), 100);
    expect(search.wants(one, Float64Array.of(5))).toBe(true);
    expect(search.isBackAt(moment(one, 5, 0.5))).toBe(false);
    expect(search.isBackAt(moment(other, 5, 0.25))).toBe(false);
    expect(search.isBackAt(moment(one, 5, 0.25))).toBe(true);
    expect(search.kept).toEqual(moment(one, 5, 0.25));
  });

  test('with nothing kept it waits for its patience', () => {
    const search = new PeriodSearch<Moment>(1);
    search.keep(undefined, 3);
    expect([1, 1, 1].map((state) => search.wants(one, Float64Array.of(state)))).toEqual([false, false, true]);
  });
});

describe('equal()', () => {
  test('is so for the same numbers in the same places only', () => {
    expect(equal([], [])).toBe(true);
    expect(equal([1, 2], [1, 2])).toBe(true);
    expect(equal([1, 2], [1, 3])).toBe(false);
    expect(equal([1, 2], [2, 2])).toBe(false);
    expect(equal([1], [1, 2])).toBe(false);
    expect(equal([1, 2], [1])).toBe(false);
  });
});
