import { LiveDrawing } from '#notebook/controllers/live-drawing.ts';
import type { LiveReport, TraceSlice } from '#notebook/runtime/live-protocol.ts';
import { RATES } from '#notebook/runtime/live-rate.ts';
import { beforeEach, describe, expect, test } from 'vitest';

/** A slice of one signal that lies within these columns. */
function report(first: number, count: number): LiveReport {
  const zeros = new Array<number>(count).fill(0);
  const trace: TraceSlice = { first, lanes: [{ first: zeros, last: zeros, low: zeros, high: zeros }] };
  return { trace } as unknown as LiveReport;
}

let drawing: LiveDrawing;
beforeEach(() => {
  drawing = new LiveDrawing();
  drawing.show({ page: [{ id: 'look', kind: 'trace', board: 'lamps', show: ['timing'] }] }, 'lamps', []);
  drawing.begin(0);
});

/** Asks for a slice; gives what takes its answer. */
function ask(): (answer: LiveReport) => void {
  expect(drawing.ask()).toBeDefined();
  return (answer) => drawing.take(answer, 1, false, false);
}

describe('LiveDrawing', () => {
  test('draws what it asked for, one slice after the other', () => {
    ask()(report(0, 4));
    ask()(report(4, 4));
    const { column = NaN } = drawing.rolling?.wish ?? {};
    expect(drawing.rolling?.filled).toMatchObject({ from: 0, until: 8 * column });
  });

  test('leaves out a slice that was asked for before another rate was chosen: its columns have another length', () => {
    const late = ask();
    drawing.setRate(RATES.indexOf(1000));
    late(report(4000, 4));
    expect(drawing.rolling?.filled).toBeUndefined();
    ask()(report(5, 4));
    const { column = NaN } = drawing.rolling?.wish ?? {};
    expect(drawing.rolling?.filled).toMatchObject({ from: 5 * column, until: 9 * column });
  });
});
