import { describe, expect, test } from 'vitest';
import { DatedList } from '#sim/trace/dated-list.ts';
import type { Instant } from '#sim/trace/instant.ts';

interface Row {
  readonly from: number;
  readonly until: number | null;
  readonly what: string;
}

const at = (high: number): Instant => ({ high, low: 0 });

/** A list with one entry before the first period, and two in each of the periods that were gone through. */
function listed(most: number, periods: number): DatedList<Row> {
  const list = new DatedList<Row>(most, ({ what }, from, until) => ({
    from: from.high,
    until: until?.high ?? null,
    what,
  }));
  list.add({ from: 0, until: 1, what: 'before' }, at(0), at(1));
  for (let period = 0; period < periods; period++) {
    list.begin();
    const start = 10 + 4 * period;
    list.add({ from: start, until: start + 1, what: 'whole' }, at(start), at(start + 1));
    list.add({ from: start + 2, until: null, what: 'open' }, at(start + 2));
  }
  list.begin();
  return list;
}

describe('DatedList', () => {
  test('brings what the last period brought again, each time a period later', () => {
    const list = listed(100, 2);
    list.repeat(3, at(4));
    // Five periods in all, the first at 10 s.
    expect(list.entries.map(({ from }) => from)).toEqual([0, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28]);
    expect(list.entries.slice(-2)).toEqual([
      { from: 26, until: 27, what: 'whole' },
      { from: 28, until: null, what: 'open' },
    ]);
  });

  test('dates what comes again in two parts: the tenth of ten periods of 0.1 s ends where ten of them do', () => {
    const list = new DatedList<number>(100, (_, from) => from.high);
    list.begin();
    list.add(0.1, { high: 0.1, low: 0 });
    list.begin();
    list.repeat(9, { high: 0.1, low: 0 });
    // A sum of ten tenths, each rounded, is 0.9999999999999999.
    expect(list.entries.at(-1)).toBe(1);
  });

  test('is full where it is full, however often the period comes', () => {
    const list = listed(6, 2);
    list.repeat(1e12, at(4));
    expect(list.entries.map(({ from }) => from)).toEqual([0, 10, 12, 14, 16, 18]);
  });

  test('stays as it is where a period brings nothing, and where none was gone through', () => {
    const quiet = listed(6, 0);
    quiet.repeat(1e12, at(4));
    expect(quiet.entries.length).toBe(1);
    const unknown = new DatedList<number>(6, (entry) => entry);
    unknown.add(1, at(1));
    unknown.repeat(1e12, at(4));
    expect(unknown.entries).toEqual([1]);
  });

  test('counts what was offered; visitors let the count grow', () => {
    const list = listed(3, 2);
    const met: unknown[] = [];
    list.visit({
      sum: (value) => value + 10,
      date: (value) => value,
      same: () => {},
      again: (recorder) => void met.push(recorder),
      isNew: () => true,
    });
    expect([list.entries.length, list.count]).toEqual([3, 15]);
    expect(met).toEqual([list]);
  });
});
