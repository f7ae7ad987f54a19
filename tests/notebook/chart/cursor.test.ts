import type { InstantRow, TraceResult } from '#sim/document/index.ts';
import { cursorState, eventTimes, hasManyTimes, laneReadout, startingTime } from '#notebook/chart/cursor.ts';
import { eventRows, rowTimes } from '#notebook/chart/event-rows.ts';
import { comparatorWords, cursorWords, intervalWords, triggerWords } from '#notebook/chart/words.ts';
import { describe, expect, test } from 'vitest';
import { timing, trace } from '../../support/example-trace.ts';

const plain = (text: string): string => text.replaceAll('\u202f', ' ');

/** The board of the example trace, computed at one instant: on the way up, 5.25 V against limits of 8 V and 4 V. */
function momentAt(time: number, nets: Readonly<Record<string, number>> = {}): TraceResult {
  const row: InstantRow = {
    time,
    nets: { ground: 0, in: 12, timing: 5.25, out: 12, ...nets },
    currents: { R1: 1e-3 },
    limits: { U1: { threshold: 8, trigger: 4 } },
    active: [],
    closed: [],
  };
  return { ...trace, columns: 1, instants: [row] };
}

describe('laneReadout', () => {
  const window = { board: 'counter', from: 0, until: 1 };

  test('has the exact value at the exact time, even where the column holds whole swings', () => {
    const long = { ...timing, first: [0], last: [0], low: [0], high: [8] };
    const [exact] = momentAt(0.3).instants ?? [];
    const readout = laneReadout(long, window, 0.3, exact);
    expect([readout.value, plain(readout.text)]).toEqual([5.25, '5.25 V']);
  });

  test('finds currents, and nets written with the name of their board', () => {
    const [exact] = momentAt(0.3).instants ?? [];
    expect(laneReadout({ ...timing, show: 'current(R1)', unit: 'A' }, window, 0.3, exact).value).toBe(1e-3);
    expect(laneReadout({ ...timing, show: 'counter.timing' }, window, 0.3, exact).value).toBe(5.25);
    expect(laneReadout({ ...timing, show: 'ground' }, window, 0.3, exact).value).toBe(0);
  });

  test('reads along the line of a column until the exact value is there', () => {
    // The middle of the column from 1.5 s to 2 s, which rises from 2 V to 4 V; but a step of 2 V in a lane of 8 V is more
    // than can be told from a jump, so a finer lane is read here.
    const fine = { ...timing, first: [2], last: [2.1], low: [2], high: [2.1, 8] };
    expect(laneReadout(fine, window, 0.5, undefined).value).toBeCloseTo(2.05, 12);
  });

  test('shows no range and no guess where the signal jumps inside a column', () => {
    const jump = { ...timing, first: [8], last: [0], low: [0], high: [8] };
    const readout = laneReadout(jump, window, 0.3, undefined);
    expect([readout.value, readout.text]).toEqual([undefined, '…']);
  });

  test('shows as 0 what is too small beside the range of the lane', () => {
    const small = { ...timing, first: [2e-7], last: [2e-7], low: [2e-7], high: [2e-7, 12] };
    expect(plain(laneReadout(small, window, 0, undefined).text)).toBe('0 V');
  });
});

describe('cursorState', () => {
  test('says which interval runs, which pulse is there, and what the output is', () => {
    const [timer] = cursorState(trace, 2.05).timers;
    expect(timer?.interval).toEqual({ from: 1, until: 3 });
    expect(timer?.pulse?.fate).toBe('ignored');
    expect(timer?.outputHigh).toBe(true);
  });

  test('an interval is over at the instant it ends', () => {
    const [timer] = cursorState(trace, 3).timers;
    expect(timer?.interval).toBeUndefined();
    expect(timer?.outputHigh).toBe(false);
  });

  test('says which comparator is past its limit, from the exact state alone', () => {
    const [below] = cursorState(trace, 1.5, momentAt(1.5)).timers;
    expect(below?.threshold).toEqual({ value: 5.25, limit: 8, past: false });
    expect(below?.trigger).toEqual({ value: 12, limit: 4, past: false });
    const [above] = cursorState(trace, 1.5, momentAt(1.5, { timing: 8.1, in: 0 })).timers;
    expect([above?.threshold?.past, above?.trigger?.past]).toEqual([true, true]);
    expect(cursorState(trace, 1.5).timers[0]?.threshold).toBeUndefined();
  });

  test('knows of an interval beyond the end of a list that was cut, from the moment itself', () => {
    const timers = trace.timers.map((timer) => ({ ...timer, intervals: [{ from: 1, until: 3 }] }));
    const cut = { ...trace, cut: true, timers };
    const [found] = cursorState(cut, 4.5, momentAt(4.5)).timers;
    expect(found?.interval).toEqual({ from: 4, until: undefined });
    expect(found === undefined ? '' : intervalWords(found, 4.5)).toBe('runs');
    expect(cursorState(cut, 3.5, momentAt(3.5)).timers[0]?.interval).toBeUndefined();
  });

  test('does not take the state of another instant for that at the cursor', () => {
    const { lanes, exact } = cursorState(trace, 1.5, momentAt(1.4));
    expect(exact).toBeUndefined();
    expect(lanes.find(({ show }) => show === 'timing')?.value).not.toBe(5.25);
  });

  test('keeps the cursor inside the window', () => {
    expect(cursorState(trace, -1).time).toBe(0);
    expect(cursorState(trace, 99).time).toBe(5);
  });
});

test('words say what the interval and the trigger do', () => {
  const [timer] = cursorState(trace, 2.05).timers;
  if (timer?.pulse === undefined) throw new Error('the trace must have a timer with a pulse here');
  expect(plain(intervalWords(timer, 2.05))).toBe('runs, 950 ms to go');
  expect(plain(triggerWords(timer.pulse))).toBe('low since 2.00 s: ignored, interval running');
  expect(plain(cursorWords(cursorState(trace, 0.2)))).toBe('200.0 ms: in 12.0 V, timing 0 V, out 0 V, U1 output low');
});

test('words say on which side of its limit an input stands', () => {
  expect(plain(comparatorWords({ value: 7.824, limit: 8, past: false }, 'threshold'))).toBe(
    '7.82 V, below its limit of 8.00 V',
  );
  expect(plain(comparatorWords({ value: 0, limit: 4, past: true }, 'trigger'))).toBe('0 V, below its limit of 4.00 V');
});

test('words leave out what is still being computed', () => {
  const jumping = { ...trace, lanes: trace.lanes.map((lane) => ({ ...lane, high: lane.high.map(() => 99) })) };
  expect(plain(cursorWords(cursorState(jumping, 0.2)))).toBe('200.0 ms: U1 output low');
});

test('eventTimes lists every instant once, in order', () => {
  expect(eventTimes(trace)).toEqual([0, 1, 1.1, 2, 2.1, 3, 4, 4.1]);
});

test('hasManyTimes counts as many instants as are listed, each once, also before they were', () => {
  for (const each of [{ ...trace }, trace]) {
    expect(hasManyTimes(each, 8)).toBe(true);
    expect(hasManyTimes(each, 9)).toBe(false);
    expect(eventTimes(each).length).toBe(8);
  }
});

test('startingTime stands in the first interval that ends, else a third of the way', () => {
  expect(startingTime(trace)).toBeCloseTo(2.6, 12);
  expect(startingTime({ ...trace, timers: [] })).toBeCloseTo(5 / 3, 12);
});

test('eventRows tells at each instant everything that happens at it', () => {
  const { rows, cut } = eventRows(trace);
  expect(cut).toBe(false);
  expect(rows.map((row) => row.time)).toEqual(eventTimes(trace));
  expect(rows[1]?.what).toEqual([
    'in falls',
    'out rises',
    'U1: an input pulse came (started an interval)',
    'U1: an interval begins',
  ]);
});

test('eventRows has exact values where they are known', () => {
  const { rows } = eventRows(trace, momentAt(3, { timing: 0 }).instants);
  const row = rows.find(({ time }) => time === 3);
  expect(row?.values.map(plain)).toEqual(['12.0 V', '0 V', '12.0 V']);
});

test('rowTimes are the times of the rows', () => {
  expect(rowTimes(trace)).toEqual(eventRows(trace).rows.map(({ time }) => time));
});

test('the table follows what is looked at', () => {
  const all = eventTimes(trace);
  const view = { from: all[2] ?? 0, until: all[5] ?? 0 };
  const looked = eventRows(trace, [], { view });
  expect(looked.rows.map(({ time }) => time)).toEqual(all.slice(2, 6));
  expect(looked.rows[0]?.what).toEqual(eventRows(trace).rows[2]?.what);
  expect(rowTimes(trace, { view })).toEqual(all.slice(2, 6));
});

test('far into a run with more events than are listed, the table has those of the view in detail', () => {
  const long: TraceResult = { ...trace, until: 1e6, cut: true };
  const view = { from: 999_999, until: 1e6 };
  const [timer] = trace.timers;
  const edges = { in: [{ time: 999_999.5, to: 'low' as const }] };
  const detail: TraceResult = {
    ...trace,
    ...view,
    cut: false,
    edges,
    timers: [{ ...timer!, pulses: [], intervals: [] }],
  };
  expect(eventRows(long, [], { view }).rows).toEqual([]);
  const { rows, cut } = eventRows(long, [], { view, detail });
  expect(rows.map(({ time, what }) => [time, what])).toEqual([[999_999.5, ['in falls']]]);
  expect(cut).toBe(false);
});
