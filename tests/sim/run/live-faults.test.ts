import { expect, test } from 'vitest';
import { faultObserver } from '#sim/measure/faults.ts';
import { LiveRun } from '#sim/run/live-run.ts';
import { simulate } from '#sim/run/run.ts';
import { circuitOf, plain } from '../../support/circuit-issues.ts';
import { errorOf } from '../../support/error-measure.ts';
import { listener } from '../../support/live-circuits.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, lamp, monostable, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

const onward = { from: 0, until: Infinity };

/** Boards that go beyond each kind of limit, after the platform lamp and the crossing flasher. */
const boards: Readonly<Record<string, readonly FilePart[]>> = {
  'an overcharged capacitor': [
    supply(12),
    resistor('R1', 'rail', 'x', 100e3),
    capacitor('C1', 'x', 'ground', 1e-6, { rating: 9 }),
  ],
  'a reversed electrolytic capacitor': [
    supply(-5),
    resistor('R1', 'rail', 'x', 100e3),
    capacitor('C1', 'x', 'ground', 1e-6, { polarised: true }),
  ],
  'an LED above its limit': [
    supply(9),
    resistor('R1', 'rail', 'x', 100),
    lamp('D1', 'x', 'ground', { forward: 2, slope: 10 }),
  ],
  'an output above its maximum, of a timer below its supply range': [
    supply(9, { changes: [{ at: 0.3, voltage: 3, over: 0.2 }] }),
    timer(
      'U1',
      { trigger: 'ground', threshold: 'ground', output: 'out' },
      { family: 'cmos', with: { supplyMinimum: 4 } },
    ),
    resistor('R1', 'out', 'ground', 100),
  ],
};

test.each(Object.entries(boards))('LiveRun tells the faults of %s as a stored run does', (_, parts) => {
  const stored = simulate({ parts }, { until: 1 });
  expect(stored.faults().length).toBeGreaterThan(0);
  const heard = listener();
  const live = new LiveRun(circuitOf(parts), { observers: [heard] });
  for (let step = 1; step <= 10; step++) live.advance(step / 10);
  expect(heard.events).toEqual(stored.events);
});

test('LiveRun leaves faults out where it is told to', () => {
  const heard = listener();
  const live = new LiveRun(circuitOf(boards['an LED above its limit']!), { observers: [heard], faults: false });
  live.advance(1);
  expect(heard.events.filter(({ kind }) => kind === 'fault')).toEqual([]);
});

/** An LED at 9 V behind a resistance. */
function led(resistance: number, more: Record<string, unknown> = {}) {
  return circuitOf([
    supply(9),
    { ...resistor('R1', 'rail', 'x', resistance), rating: 1 },
    lamp('D1', 'x', 'ground', { forward: 2, ...more }),
  ]);
}

test('LiveRun.set() tells that a fault is over when the value that caused it is mended, and when a limit is taken away', () => {
  const changes = [led(1000), led(100, { limit: 1 })];
  for (const mended of changes) {
    const faults = faultObserver(led(100), onward);
    const live = new LiveRun(led(100), { observers: [faults] });
    live.advance(1);
    expect(faults.soFar(live.time)).toMatchObject([{ part: 'D1', what: 'over-current', lasting: true }]);
    live.set(mended);
    live.advance(3);
    const [row] = faults.soFar(live.time);
    expect(row).toMatchObject({ part: 'D1', lasting: false, count: 1 });
    expect(errorOf(row!.longest, 1)).toBeLessThanOrEqual(1e-12);
  }
  const rated = (rating?: number) =>
    circuitOf([
      supply(9),
      resistor('R1', 'rail', 'x', 1000),
      capacitor('C1', 'x', 'ground', 1e-6, rating === undefined ? {} : { rating }),
    ]);
  const faults = faultObserver(rated(5), onward);
  const live = new LiveRun(rated(5), { observers: [faults] });
  live.advance(1);
  live.set(rated());
  live.advance(2);
  expect(faults.soFar(live.time)).toMatchObject([{ part: 'C1', what: 'over-voltage', lasting: false }]);
});

test('LiveRun.set() counts a fault once that lasts through a change of values', () => {
  const faults = faultObserver(led(100), onward);
  const live = new LiveRun(led(100), { observers: [faults] });
  for (let step = 1; step <= 5; step++) {
    live.advance(step);
    live.set(led(100 + step));
  }
  live.advance(6);
  expect(faults.soFar(live.time)).toMatchObject([{ count: 1, lasting: true }]);
});

test('LiveRun.set() goes on with the interval when a rating is stated', () => {
  const lampBoard = (more: Record<string, unknown>) =>
    circuitOf([
      ...monostable({ voltage: 9, resistance: 100e3, capacitance: 1e-6, ofCapacitor: more }),
      signal('G1', 'in', { shape: 'pulses', period: 1, width: 1e-3, count: 1, rest: 9, pulse: 0 }),
    ]);
  const heard = listener();
  const live = new LiveRun(lampBoard({}), { observers: [heard] });
  live.advance(0.05);
  live.set(lampBoard({ rating: '16 V' }));
  live.advance(0.5);
  const times = heard.events.filter(({ kind }) => kind === 'set' || kind === 'cleared').map(({ time }) => time);
  // R C ln 3, closed form: the interval was not begun anew.
  expect(times).toHaveLength(2);
  expect(errorOf(times[1]!, 0.1 * Math.log(3))).toBeLessThanOrEqual(1e-12);
});

test('faultObserver().soFar() says of what lasts when it began, and of what is over how long it was', () => {
  const parts = [
    signal(
      'G1',
      'a',
      {
        shape: 'points',
        between: 'lines',
        points: [
          [0, 0],
          [1, 5],
          [2, 0],
          [3, 5],
        ],
      },
      { resistance: 90 },
    ),
    lamp('D1', 'a', 'ground', { forward: 2, slope: 10, limit: '20 mA' }),
  ];
  const faults = faultObserver(circuitOf(parts), onward);
  const live = new LiveRun(circuitOf(parts), { observers: [faults] });
  const said = (time: number): string[] => {
    live.advance(time);
    return faults.soFar(time).map(({ sentence }) => plain(sentence));
  };
  // (5 t - 2) V / 100 ohm passes 20 mA at 0.8 s, on the way back at 1.2 s, and again at 2.8 s.
  expect(said(0.5)).toEqual([]);
  expect(said(1)).toEqual(['D1 carried more than its limit of 20.0 mA, from 800 ms on.']);
  expect(said(2)).toEqual(['D1 carried more than its limit of 20.0 mA, once, at 800 ms for 400 ms.']);
  expect(said(2.9)).toEqual(['D1 carried more than its limit of 20.0 mA, 2 times, first at 800 ms, and now.']);
});
