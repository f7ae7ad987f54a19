import { describe, expect, test } from 'vitest';
import { faultObserver } from '#sim/measure/faults.ts';
import { simulate } from '#sim/run/run.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import { circuitOf, plain } from '../../support/circuit-issues.ts';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, lamp, monostable, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

/** A wave that goes in straight lines from point to point. */
function lines(...points: readonly (readonly [number, number])[]): Record<string, unknown> {
  return { shape: 'points', between: 'lines', points };
}

function faultsOf(parts: readonly FilePart[], until: number) {
  const run = simulate({ parts }, { until });
  expect(run.outcome.ok).toBe(true);
  const events = run.events.filter(({ kind }) => kind === 'fault');
  return { run, events, rows: run.faults() };
}

/** Whether events come at the given times (s), to 1e-12. */
function expectTimes(events: readonly RunEvent[], times: readonly number[]): void {
  expect(events).toHaveLength(times.length);
  for (const [i, time] of times.entries()) expect(errorOf(events[i]!.time, time)).toBeLessThanOrEqual(1e-12);
}

const upAndDown = lines([0, 0], [1, 5], [2, 0]);

describe('faults of parts', () => {
  test('an LED above its limit, with time, value and limit', () => {
    const led = lamp('D1', 'a', 'ground', { forward: 2, slope: 10, limit: '20 mA' });
    const { events, rows } = faultsOf([signal('G1', 'a', upAndDown, { resistance: 90 }), led], 3);
    // (5 t - 2) V / 100 ohm passes 20 mA at 0.8 s and, on the way back, at 1.2 s.
    expectTimes(events, [0.8, 1.2]);
    expect(events[0]).toMatchObject({ part: 'D1', limit: 0.02, fault: { what: 'over-current', phase: 'over' } });
    expect(events[0]!.value).toBeCloseTo(0.02, 14);
    expect(events[1]).toMatchObject({ limit: 0.02, fault: { what: 'over-current', phase: 'clear' } });
    expect(rows).toMatchObject([{ part: 'D1', what: 'over-current', count: 1, lasting: false }]);
    expect(plain(rows[0]!.sentence)).toBe('D1 carried more than its limit of 20.0 mA, once, at 800 ms for 400 ms.');
  });

  test('a polarised capacitor the wrong way round by more than 0.5 V', () => {
    const c = capacitor('C1', 'x', 'ground', 1e-6, { polarised: true });
    const { events, rows } = faultsOf([supply(-5), resistor('R1', 'rail', 'x', 100e3), c], 1);
    // -5 V (1 - exp(-t / RC)) reaches -0.5 V at RC ln(5 / 4.5).
    expectTimes(events, [0.1 * Math.log(5 / 4.5)]);
    expect(events[0]!.value).toBeCloseTo(-0.5, 12);
    expect(events[0]!.limit).toBe(-0.5);
    expect(rows).toMatchObject([{ what: 'reverse-voltage', lasting: true, count: 1 }]);
    expect(plain(rows[0]!.sentence)).toBe('C1 was the wrong way round by more than 500 mV, from 10.5 ms to the end.');
  });

  test('a capacitor above its rating, either way; none without a rating', () => {
    const board = (voltage: number, more: Record<string, unknown>): FilePart[] => [
      supply(voltage),
      resistor('R1', 'rail', 'x', 100e3),
      capacitor('C1', 'x', 'ground', 1e-6, more),
    ];
    // 12 V (1 - exp(-t / RC)) reaches 9 V at RC ln 4.
    for (const sign of [1, -1]) {
      const { events, rows } = faultsOf(board(sign * 12, { rating: 9 }), 1);
      expectTimes(events, [0.1 * Math.log(4)]);
      expect(events[0]!.limit).toBe(sign * 9);
      expect(rows).toMatchObject([{ what: 'over-voltage' }]);
    }
    expect(faultsOf(board(12, {}), 1).rows).toEqual([]);
    expect(faultsOf(board(12, { rating: 12 }), 1).rows).toEqual([]);
  });

  test('a resistor above its rating, or above 0.25 W until one is stated', () => {
    const board = (more: Record<string, unknown>): FilePart[] => [
      signal('G1', 'a', lines([0, 0], [1, 10], [3, -10]), { resistance: 0 }),
      { ...resistor('R1', 'a', 'ground', 100), ...more },
    ];
    // 5 V across 100 ohm are 0.25 W: at 0.5 s, until 1.5 s; -5 V at 2.5 s.
    const { events, rows } = faultsOf(board({}), 2.9);
    expectTimes(events, [0.5, 1.5, 2.5]);
    expect(rows).toMatchObject([{ what: 'over-power', count: 2, lasting: true }]);
    expect(errorOf(rows[0]!.longest, 1)).toBeLessThanOrEqual(1e-12);
    expect(plain(rows[0]!.sentence)).toBe(
      'R1 took more than 250 mW at a time (used until a rating is stated), 2 times, first at 500 ms, for up to 1.00 s.',
    );
    // 1 W: 10 V, which the wave only just reaches.
    expect(faultsOf(board({ rating: '1 W' }), 2.9).rows).toEqual([]);
    expect(plain(faultsOf(board({ rating: '0.64 W' }), 2).rows[0]!.sentence)).toContain(
      'more than 640 mW at a time (its rating)',
    );
  });
});

describe('faults of timers', () => {
  const pins = { trigger: 'rail', threshold: 'ground', output: 'out' };

  test('a supply below and above the range of its family', () => {
    const ramp: FilePart = { ...supply(0), changes: [{ at: 0, voltage: 20, over: 1 }] };
    const { events } = faultsOf(
      [ramp, resistor('R1', 'out', 'ground', 10e3), timer('U1', pins, { family: 'cmos' })],
      1,
    );
    // cmos: 2 V to 15 V, at 20 V/s.
    const found = events.map(({ time, fault }) => [Number(time.toFixed(9)), fault!.what, fault!.phase]);
    expect(found).toEqual([
      [0, 'supply-low', 'over'],
      [0.1, 'supply-low', 'clear'],
      [0.75, 'supply-high', 'over'],
    ]);
  });

  test('an output that gives or takes more than it is made for', () => {
    // Rail 5 V: (5 - 1.3) V / (4 + 8) ohm when high, (5 - 0.02) V / (8 + 8) ohm when low: both above 0.2 A.
    const board = (to: string, start: string): FilePart[] => [
      supply(5),
      { name: 'LS1', kind: 'speaker', a: 'out', b: to },
      timer('U1', { ...pins, trigger: 'rail' }, { family: 'bipolar', start }),
    ];
    expect(faultsOf(board('ground', 'set'), 1).rows).toMatchObject([{ what: 'output-gives', lasting: true }]);
    expect(faultsOf(board('ground', 'cleared'), 1).rows).toEqual([]);
    expect(faultsOf(board('rail', 'cleared'), 1).rows).toMatchObject([{ what: 'output-takes', lasting: true }]);
  });

  test('an input beyond the supply or below ground, by more than the family bears', () => {
    const board = (level: number, family: string): FilePart[] => [
      supply(9),
      signal('G1', 'in', { shape: 'constant', level }),
      timer('U1', { ...pins, trigger: 'in' }, { family }),
    ];
    const told = (level: number, family: string): string[] =>
      faultsOf(board(level, family), 1).rows.map(({ sentence }) => plain(sentence));
    expect(told(9.4, 'cmos')).toEqual([
      'The trigger of U1 was more than 300 mV above its supply, from 0 s to the end.',
    ]);
    expect(told(9.4, 'bipolar')).toEqual([]);
    expect(told(9.6, 'bipolar')).toEqual([
      'The trigger of U1 was more than 500 mV above its supply, from 0 s to the end.',
    ]);
    expect(told(-0.4, 'cmos')).toEqual([
      'The trigger of U1 was more than 300 mV below its ground, from 0 s to the end.',
    ]);
    expect(told(20, 'ideal')).toEqual([]);
  });
});

describe('faultObserver()', () => {
  const board = (): FilePart[] => [
    ...monostable({ voltage: 9, resistance: 68e3, capacitance: 1e-6, ofTimer: { family: 'bipolar' } }),
    signal('G1', 'in', { shape: 'pulses', period: 0.2, width: 0.01, rest: 9, pulse: 0, delay: 0.05 }),
    lamp('D1', 'lamp', 'ground', { forward: 2, slope: 10 }),
    resistor('R2', 'out', 'lamp', 100),
  ];

  test('counts the stretches in its window, and cuts those that reach over its ends', () => {
    const run = simulate({ parts: board() }, { until: 1 });
    const [led] = run.faults();
    // Every interval lights the lamp: (9 - 1.3 - 2) V / (4 + 100 + 10) ohm is 50 mA.
    expect(led).toMatchObject({ part: 'D1', count: 5 });
    const [part] = run.faults({ from: 0.06, until: 0.08 });
    expect(part).toMatchObject({ first: 0.06, count: 1, lasting: false });
    expect(errorOf(part!.longest, 0.02)).toBeLessThanOrEqual(1e-12);
    expect(run.faults({ from: 0, until: 0.05 })).toEqual([]);
  });

  test('names the parts of one board only, without what stands before their names', () => {
    const circuit = circuitOf(board());
    const observer = faultObserver(circuit, { from: 0, until: 1 }, 'D');
    runCircuit(circuit, { until: 1, observers: [observer], faults: true });
    expect(observer.result().map(({ part }) => part)).toEqual(['1']);
  });

  test('watching limits changes nothing else in a run', () => {
    const circuit = circuitOf(board());
    const eventsOf = (faults: boolean): RunEvent[] => {
      const events: RunEvent[] = [];
      runCircuit(circuit, { until: 1, observers: [{ event: (event) => void events.push(event) }], faults });
      return events;
    };
    const plainRun = eventsOf(false);
    expect(plainRun.some(({ kind }) => kind === 'fault')).toBe(false);
    const watched = eventsOf(true).filter(({ kind }) => kind !== 'fault');
    expect(watched.map(({ part, kind }) => [part, kind])).toEqual(plainRun.map(({ part, kind }) => [part, kind]));
    // A segment cut in two rounds once more: a few units in the last place of the time.
    for (const [i, event] of watched.entries())
      expect(errorOf(event.time, plainRun[i]!.time)).toBeLessThanOrEqual(1e-13);
  });
});
