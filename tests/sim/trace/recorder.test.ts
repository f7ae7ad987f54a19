import { describe, expect, it } from 'vitest';
import { envelopeObserver } from '#sim/trace/envelope-observer.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import type { SegmentView } from '#sim/trace/frame.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { Stretch } from '#sim/trace/stretch.ts';
import { charging, type MadeRun, madeValue, play } from '../../support/made-run.ts';

const rising = charging(0, 12, 0.4);
/** `timing` charges for 0.3 s, is emptied in an instant and rests; `out` is high, then low. */
const run: MadeRun = {
  nets: ['ground', 'timing', 'out'],
  currents: ['R1'],
  steps: [
    { event: { part: 'U1', kind: 'set', cause: 'triggerLow' } },
    { length: 0.3, signals: { timing: rising, out: 12, 'current(R1)': charging(1e-3, 0, 0.4) } },
    { event: { part: 'U1', kind: 'cleared', cause: 'thresholdOver' } },
    { event: { part: 'U1', kind: 'outputLow' } },
    { length: 0.2, signals: { 'current(R1)': 1e-3 } },
  ],
};
/** Both sides evaluate the same one exponential, so they may differ by rounding only. */
const DIGITS = 14;

function stored(most?: number): StoredTrace {
  const trace = new StoredTrace(most);
  play(run, trace);
  return trace;
}

describe('StoredTrace', () => {
  it('at() gives the exact value between events', () => {
    expect(stored().at({ net: 'timing' }, 0.1)).toBeCloseTo(12 * (1 - Math.exp(-0.1 / 0.4)), DIGITS);
    expect(stored().at({ current: 'R1' }, 0.1)).toBeCloseTo(1e-3 * Math.exp(-0.1 / 0.4), DIGITS);
  });

  it('at() gives the value after a jump, before() the one before it', () => {
    const trace = stored();
    expect(trace.at({ net: 'timing' }, 0.3)).toBe(0);
    expect(trace.before({ net: 'timing' }, 0.3)).toBeCloseTo(madeValue(rising, 0.3), DIGITS);
    expect(trace.before({ net: 'timing' }, 0.25)).toBe(trace.at({ net: 'timing' }, 0.25));
  });

  it('at() answers at both ends of the run and refuses times outside', () => {
    const trace = stored();
    expect(trace.at({ net: 'out' }, 0)).toBe(12);
    expect(trace.at({ net: 'out' }, 0.5)).toBe(0);
    expect(trace.endTime).toBe(0.5);
    expect(() => trace.at({ net: 'out' }, 0.6)).toThrow('time must lie within the run, 0 s to 0.5 s; got 0.6 s');
    expect(() => trace.at({ net: 'out' }, -0.1)).toThrow('got -0.1 s');
  });

  it('at() names the nets there are when one is unknown', () => {
    expect(() => stored().at({ net: 'timng' }, 0)).toThrow(
      'trace must name a net of the run: ground, timing, out; got "timng"',
    );
    expect(() => stored().at({ current: 'R2' }, 0)).toThrow('must name a part with a current of the run: R1; got "R2"');
  });

  it('envelope() has first, last, low and high of each column, with a jump on the border between two columns', () => {
    const { first, last, low, high } = stored().envelope({ net: 'timing' }, 0, 0.5, 5);
    const borders = [0, 0.1, 0.2, 0.3].map((time) => madeValue(rising, time));
    expect(first).toHaveLength(5);
    for (const column of [0, 1, 2]) {
      expect(first[column]).toBeCloseTo(borders[column]!, DIGITS);
      expect(last[column]).toBeCloseTo(borders[column + 1]!, DIGITS);
      expect(low[column]).toBe(first[column]);
      expect(high[column]).toBe(last[column]);
    }
    expect([first[3], last[3], low[3], high[3]]).toEqual([0, 0, 0, 0]);
  });

  it('envelope() encloses both sides of a jump inside a column', () => {
    const { first, last, low, high } = stored().envelope({ net: 'timing' }, 0.25, 0.35, 1);
    expect(first[0]).toBeCloseTo(madeValue(rising, 0.25), DIGITS);
    expect(high[0]).toBeCloseTo(madeValue(rising, 0.3), DIGITS);
    expect([low[0], last[0]]).toEqual([0, 0]);
  });

  it('envelope() finds a turning point inside a column', () => {
    const trace = new StoredTrace();
    // 8 (exp(-t) - exp(-2t)) is highest where exp(-t) = 1/2: 8 (1/2 - 1/4) = 2, at ln 2.
    const hump = {
      terms: [
        [8, 1],
        [-8, 2],
      ] as const,
    };
    play({ nets: ['a'], steps: [{ length: 3, signals: { a: hump } }] }, trace);
    const { high, low } = trace.envelope({ net: 'a' }, 0, 3, 2);
    expect(high[0]).toBeCloseTo(2, DIGITS);
    expect(low[0]).toBe(0);
    expect(high[1]).toBeCloseTo(madeValue(hump, 1.5), DIGITS);
  });

  it('envelope() has fewer columns where the run ended before the window', () => {
    expect(stored().envelope({ net: 'out' }, 0, 1, 10).first).toHaveLength(5);
  });

  it('envelope() refuses a window without length and a number of columns that is no count', () => {
    expect(() => stored().envelope({ net: 'out' }, 1, 1, 10)).toThrow('to must be after from; got 1 s to 1 s');
    expect(() => stored().envelope({ net: 'out' }, 0, 1, 0.5)).toThrow(
      'columns must be a whole number above 0; got 0.5',
    );
  });

  it('replay() shows another observer the same segments and events in the same order', () => {
    const list = (): { lines: string[]; observer: Parameters<StoredTrace['replay']>[0] } => {
      const lines: string[] = [];
      return {
        lines,
        observer: {
          begin: (table) => lines.push(`begin ${JSON.stringify(table)}`),
          segment: ({ start, startLow, length, frame, amplitudes }: SegmentView) =>
            lines.push(JSON.stringify({ start, startLow, length, frame, a: amplitudes.slice(0, frame.rates.length) })),
          event: (event: RunEvent) => lines.push(JSON.stringify(event)),
          end: (time) => lines.push(`end ${time}`),
        },
      };
    };
    const [direct, again] = [list(), list()];
    const trace = new StoredTrace();
    play(run, trace, direct.observer);
    trace.replay(again.observer);
    expect(direct.lines).toHaveLength(7);
    expect(again.lines).toEqual(direct.lines);
  });

  it('StoredTrace(1) keeps one segment, says it is cut, and ends there', () => {
    const trace = stored(1);
    expect(trace.cut).toBe(true);
    expect(trace.segmentCount).toBe(1);
    expect(trace.endTime).toBe(0.3);
    expect(trace.at({ net: 'out' }, 0.3)).toBe(12);
    expect(stored().cut).toBe(false);
  });

  it('StoredTrace keeps its copy when the engine changes the frame and amplitudes it showed', () => {
    const trace = new StoredTrace();
    const frame = {
      rates: Float64Array.of(1),
      rows: Float64Array.of(1),
      constants: Float64Array.of(0),
      slopes: Float64Array.of(0),
    };
    const amplitudes = Float64Array.of(5);
    trace.begin({ nets: ['a'], currents: [] });
    const view = Object.assign(new Stretch(), { start: 0, length: 1, frame, amplitudes });
    trace.segment(view);
    frame.constants[0] = 7;
    amplitudes[0] = 0;
    view.start = 1;
    trace.segment(view);
    trace.end(2);
    expect(trace.at({ net: 'a' }, 0)).toBe(5);
    expect(trace.at({ net: 'a' }, 1)).toBe(7);
  });
});

describe('envelopeObserver', () => {
  it('gives the numbers of StoredTrace.envelope without storing the run', () => {
    const window = { from: 0.07, until: 0.46, columns: 7 };
    const trace = new StoredTrace();
    const streaming = envelopeObserver([{ net: 'timing' }, { current: 'R1' }], window);
    play(run, trace, streaming);
    expect(streaming.result()).toEqual([
      trace.envelope({ net: 'timing' }, 0.07, 0.46, 7),
      trace.envelope({ current: 'R1' }, 0.07, 0.46, 7),
    ]);
  });
});
