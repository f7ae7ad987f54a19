import { liveSignals, liveTrace } from '#notebook/runtime/live-lanes.ts';
import { RollingTrace } from '#notebook/runtime/rolling-trace.ts';
import { traceScene } from '#sim/chart/trace-scene.ts';
import { type LiveBoard, liveBoard } from '#notebook/worker/live-board.ts';
import { LiveSession } from '#notebook/worker/live-session.ts';
import { runCircuit } from '#sim/index.ts';
import { envelopeObserver } from '#sim/trace/index.ts';
import { describe, expect, test } from 'vitest';

function opened(board: object): LiveBoard {
  const text = JSON.stringify({ format: 'two-thirds', version: 1, boards: { b: board }, page: [] });
  const found = liveBoard(text, 'b');
  if (!('circuit' in found)) throw new Error(found.message);
  return found;
}

/** The axle counter of Fernhollow Junction: an axle each 150 ms. */
const counter = { ready: 'frequency divider', values: { 'U1.family': 'ideal' } };

/** Lets time pass in slices of uneven lengths. */
function pass(live: LiveSession, trace: RollingTrace, until: number): void {
  for (let step = 0, time = 0; time < until; step += 1) {
    const span = Math.min(until - time, 0.003 + 0.017 * ((step * 7919) % 13));
    const report = live.advance({ span, budget: 1000, whole: false, trace: trace.wish });
    if (report.trace !== undefined) trace.take(report.trace);
    ({ time } = report);
  }
}

describe('what is drawn of a run by hand', () => {
  test('is the envelope of the same run in one piece, whatever the slices', () => {
    const board = opened(counter);
    const trace = new RollingTrace(['in', 'timing', 'out'], 2.4);
    pass(new LiveSession(board, () => 0), trace, 2.3);
    const { filled } = trace;
    const columns = filled?.lanes[0]?.first.length ?? 0;
    expect(columns).toBe(460);
    const nets = ['in', 'timing', 'out'];
    const until = filled?.until ?? 0;
    const observer = envelopeObserver(
      nets.map((net) => ({ net })),
      { from: 0, until, columns },
    );
    runCircuit(board.circuit, { until, observers: [observer] });
    for (const [index, net] of nets.entries()) {
      const whole = observer.result()[index] ?? { first: [], last: [], low: [], high: [] };
      const lane = filled?.lanes[index];
      for (const kind of ['low', 'high', 'first', 'last'] as const) {
        // The last column is not over yet.
        for (let column = 0; column < columns - 1; column += 1) {
          // A slice cuts a curve in two, which costs some units in the last place of 12 V.
          expect(lane?.[kind][column], `${net} ${kind} ${column}`).toBeCloseTo(whole[kind][column] ?? NaN, 9);
        }
      }
    }
  });

  test('covers the way to the next event, and nothing of a search that finds none', () => {
    const board = opened({ ready: 'monostable', values: { R1: '100 kΩ', C1: '10 µF', 'U1.family': 'ideal' } });
    const live = new LiveSession(board, () => 0);
    const trace = new RollingTrace(['timing', 'out'], 8);
    live.work('S1', true);
    const pressed = live.advance({ span: 0.01, budget: 1000, whole: false, trace: trace.wish });
    if (pressed.trace !== undefined) trace.take(pressed.trace);
    live.work('S1', false);
    const released = live.advance({ span: 0.01, budget: 1000, whole: false, trace: trace.wish });
    if (released.trace !== undefined) trace.take(released.trace);
    const ended = live.next(1000, trace.wish);
    if (ended.trace !== undefined) trace.take(ended.trace);
    // 100 kΩ · 10 µF · ln 3: closed form for the ideal timer.
    expect(trace.filled?.until).toBeCloseTo(Math.log(3), 1);
    expect(trace.filled?.lanes[0]?.first).toHaveLength(Math.ceil(ended.time / (8 / 480)));
    expect(Math.max(...(trace.filled?.lanes[0]?.high ?? []))).toBeCloseTo((2 / 3) * 12, 6);
    const quiet = live.next(1000, trace.wish);
    expect(quiet.quietUntil).toBeGreaterThan(1e6);
    expect(quiet.trace).toBeUndefined();
  });

  test('tells when a contact is closed: at rest, held, let go, and on the way to the next event', () => {
    const pins = { supply: 'rail', ground: 'ground', trigger: 'in', output: 'out', threshold: 'c', discharge: 'c' };
    const board = opened({
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V' },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'c', resistance: '100 kΩ' },
        { name: 'C1', kind: 'capacitor', a: 'c', b: 'ground', capacitance: '10 µF' },
        { name: 'R2', kind: 'resistor', a: 'rail', b: 'in', resistance: '10 kΩ' },
        { name: 'S1', kind: 'button', a: 'in', b: 'ground' },
        { name: 'R3', kind: 'resistor', a: 'rail', b: 'lit', resistance: '1 kΩ' },
        { name: 'S2', kind: 'switch', a: 'lit', b: 'ground' },
        { name: 'U1', kind: 'timer', family: 'ideal', pins },
      ],
    });
    const live = new LiveSession(board, () => 0);
    const trace = new RollingTrace(['contact(S1)', 'contact(S2)', 'out'], 8);
    const take = (report: ReturnType<LiveSession['advance']>): void => {
      if (report.trace !== undefined) trace.take(report.trace);
    };
    const slice = { span: 0.5, budget: 1000, whole: false, trace: trace.wish };
    // Columns of 8 s / 480 = 16.7 ms.
    const at = (lane: number, time: number) => trace.filled?.lanes[lane]?.high[Math.floor(time / (8 / 480))];
    take(live.advance(slice));
    live.work('S1', true);
    take(live.advance(slice));
    live.work('S1', false);
    live.work('S2', true);
    take(live.advance({ ...slice, span: 0.02 }));
    expect([0.25, 0.75, 1.01].map((time) => at(0, time))).toEqual([0, 1, 0]);
    // The way to the end of the interval is run twice: once to find it, once to draw it.
    const ended = live.next(1000, trace.wish);
    take(ended);
    // Set at 0.5 s, and 100 kΩ · 10 µF · ln 3 later the threshold is passed: closed form for the ideal timer.
    expect(ended.time).toBeCloseTo(0.5 + Math.log(3), 6);
    expect([0.75, 1.5].map((time) => at(1, time))).toEqual([0, 1]);
    live.work('S2', false);
    // A search that finds nothing leaves contacts as they are.
    expect(live.next(1000, trace.wish).quietUntil).toBeGreaterThan(1e6);
    take(live.advance(slice));
    expect(at(1, ended.time + 0.2)).toBe(0);
  });

  test('a contact that is held stays so where changed values make contacts begin anew', () => {
    const values = { R1: '100 kΩ', C1: '10 µF', 'U1.family': 'ideal' };
    const live = new LiveSession(opened({ ready: 'monostable', values }), () => 0);
    const trace = new RollingTrace(['contact(S1)', 'button'], 8);
    const slice = { span: 0.5, budget: 1000, whole: true, trace: trace.wish };
    live.work('S1', true);
    const before = live.advance(slice);
    // A leakage that was none adds an element to the network.
    expect(live.change(opened({ ready: 'monostable', values: { ...values, 'C1.leakage': '1 MΩ' } }))).toBe(false);
    const after = live.advance(slice);
    expect(after.state?.nets['button']).toBeCloseTo(before.state?.nets['button'] ?? NaN, 6);
    expect(after.state?.nets['button']).toBeLessThan(1);
    expect(Math.min(...(after.trace?.lanes[0]?.high ?? []))).toBe(1);
  });

  test('a lane of a contact is a band while it conducts', () => {
    const live = new LiveSession(opened({ ready: 'monostable', values: { 'U1.family': 'ideal' } }), () => 0);
    const trace = new RollingTrace(['contact(S1)'], 8);
    live.work('S1', true);
    const report = live.advance({ span: 1, budget: 1000, whole: false, trace: trace.wish });
    if (report.trace !== undefined) trace.take(report.trace);
    const drawn = liveTrace(trace, 'b', [], live.level, undefined);
    if (drawn === undefined) throw new Error('There must be something to draw.');
    const [lane] = traceScene(drawn.trace, 400, trace.page, drawn.whole).lanes;
    expect(lane?.kind).toBe('contact');
    expect(lane?.kind === 'contact' ? lane.bars.length : 0).toBe(1);
  });

  test('names of signals that the board does not have leave the rest of the run alone', () => {
    const live = new LiveSession(opened(counter), () => 0);
    const report = live.advance({ span: 1, budget: 1000, whole: false, trace: { show: ['nowhere'], column: 0.01 } });
    expect(report.trace).toBeUndefined();
    expect(report.done).toBeCloseTo(1, 9);
  });

  test('a net that goes up and down within every column is one grey bar that does not change', () => {
    // 2 kHz, where a column is 16.7 ms.
    const fast = {
      ready: 'astable',
      values: { R1: '4.7 kΩ', R2: '33 kΩ', C1: '10 nF', 'U1.family': 'ideal' },
    };
    const trace = new RollingTrace(['out'], 8);
    const live = new LiveSession(opened(fast), () => 0);
    const parts = [{ name: 'U1', kind: 'timer', title: '', nets: { output: 'out' }, fields: [] }];
    const barsAt = (until: number): readonly { x: number; width: number; crowded?: true }[] => {
      pass(live, trace, until);
      const drawn = liveTrace(trace, 'b', parts, live.level, undefined);
      if (drawn === undefined) throw new Error('There must be something to draw.');
      const [lane] = traceScene(drawn.trace, 400, trace.page, drawn.whole).lanes;
      return lane?.kind === 'logic' ? lane.bars : [];
    };
    const early = barsAt(1);
    const late = barsAt(2.5);
    for (const bars of [early, late]) {
      expect(bars.length).toBeLessThanOrEqual(3);
      expect(bars.some(({ crowded }) => crowded === true)).toBe(true);
    }
    const grey = (bars: typeof early): number | undefined => bars.find(({ crowded }) => crowded)?.x;
    expect(grey(late)).toBe(grey(early));
  });
});

describe('liveSignals(document, board, parts)', () => {
  const parts = [
    { name: 'U1', kind: 'timer', title: '', nets: { trigger: 'in', threshold: 'timing', output: 'out' }, fields: [] },
  ];

  test('are those of the first trace of the board, four at most', () => {
    const show = ['timing', 'out', 'current(R1)', 'in', 'rail'];
    const page = [
      { id: 'other', kind: 'trace', board: 'bell', show: ['button'] },
      { id: 'look', kind: 'trace', board: 'counter', show },
    ];
    expect(liveSignals({ page }, 'counter', parts)).toEqual(show.slice(0, 4));
  });

  test('are what its timers watch and give where no trace shows it', () => {
    expect(liveSignals({ page: [] }, 'counter', parts)).toEqual(['in', 'timing', 'out']);
    expect(liveSignals(null, 'counter', [])).toEqual([]);
  });

  test('show the contacts that a trace shows, and without one those of buttons and relays', () => {
    const page = [{ id: 'look', kind: 'trace', board: 'lamp', show: ['contact(S1)', 'out'] }];
    const button = { name: 'S1', kind: 'button', title: '', nets: { a: 'in', b: 'ground' }, fields: [] };
    const solenoid = { name: 'L1', kind: 'relay', title: '', nets: { a: 'out', b: 'ground' }, fields: [] };
    expect(liveSignals({ page }, 'lamp', [...parts, button])).toEqual(['contact(S1)', 'out']);
    expect(liveSignals(null, 'lamp', [...parts, button])).toEqual(['in', 'timing', 'out', 'contact(S1)']);
    // A relay whose contact is joined to nothing has none to show.
    expect(liveSignals(null, 'lamp', [...parts, solenoid])).toEqual(['in', 'timing', 'out']);
  });
});
