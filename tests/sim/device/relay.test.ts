import { describe, expect, test } from 'vitest';
import { simulate } from '#sim/run/run.ts';
import { LiveRun } from '#sim/run/live-run.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import { circuitOf, plain } from '../../support/circuit-issues.ts';
import { errorOf } from '../../support/error-measure.ts';
import { boardOf, type FilePart, readAll } from '../../support/run-board.ts';
import { eventsOf, secondsFrom, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, signal, supply } from '../../support/timer-circuits.ts';

/**
 * 12 V and 300 Ω draw 40 mA, as a maker states of a relay for vehicles (1 form A, 12 V: coil resistance 300 Ω, rated
 * current 40 mA, operate voltage at most 7.0 V, release voltage at least 0.5 V, both times at most 10 ms).
 */
const published = { voltage: 12, resistance: 300, pullIn: 7 / 300, dropOut: 0.5 / 300 };

function relay(more: Record<string, unknown> = {}): FilePart {
  return { name: 'K1', kind: 'relay', a: 'coil', b: 'ground', ...published, ...more };
}

const changeover = { common: 'rail', normallyOpen: 'on', normallyClosed: 'off' };
/** A pulse of 12 V from 1 s on, of the given length (s). */
function pulse(width: number): FilePart {
  const wave = { shape: 'pulses', period: 10, width, rest: 0, pulse: 12, delay: 1, count: 1 };
  return signal('G1', 'coil', wave, { resistance: 0 });
}
const loads = [resistor('R1', 'on', 'ground', 1e3), resistor('R2', 'off', 'ground', 1e3)];
const moves = (trace: Parameters<typeof eventsOf>[0]): RunEvent[] => eventsOf(trace, 'K1', 'pulledIn', 'droppedOut');

describe('relay', () => {
  test('draws what its winding lets it: the published 40 mA at 12 V and 300 Ω', () => {
    const run = simulate({ parts: [supply(12), relay({ a: 'rail' })] }, { until: 1 });
    expect(errorOf(Number(run.read('current(K1)').value), 40e-3)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(Number(run.read('power(K1)').value), 0.48)).toBeLessThanOrEqual(1e-12);
  });

  test('changes over the operate time after pull-in, and back the release time after drop-out', () => {
    const trace = storedRun(
      [supply(12), pulse(0.5), relay({ ...changeover, operateTime: '7 ms', releaseTime: '3 ms' }), ...loads],
      2,
    );
    expect(moves(trace).map(({ kind, cause, time }) => [kind, cause, Number(time.toFixed(12))])).toEqual([
      ['pulledIn', 'windingOn', 1.007],
      ['droppedOut', 'windingOff', 1.503],
    ]);
    // Closed form: 0.1 Ω of contact before 1 kΩ of load; the insulation of 1 GΩ is beside the supply.
    const live = 12 * (1000 / 1000.1);
    expect(trace.at({ net: 'off' }, 1.0069)).toBeCloseTo(live, 9);
    expect(trace.at({ net: 'on' }, 1.0069)).toBeCloseTo(0, 9);
    expect(trace.at({ net: 'off' }, 1.0071)).toBeCloseTo(0, 9);
    expect(trace.at({ net: 'on' }, 1.0071)).toBeCloseTo(live, 9);
    expect(trace.at({ net: 'off' }, 1.5031)).toBeCloseTo(live, 9);
  });

  test('a pulse shorter than the operate time and a gap shorter than the release time do nothing', () => {
    const short = storedRun([supply(12), pulse(9.9e-3), relay({ ...changeover }), ...loads], 2);
    expect(eventsOf(short, 'K1', 'windingOn', 'windingOff')).toHaveLength(2);
    expect(moves(short)).toEqual([]);
    const wave = { shape: 'pulses', period: 10, width: 9.9e-3, rest: 12, pulse: 0, delay: 1, count: 1 };
    const gap = [supply(12), signal('G1', 'coil', wave, { resistance: 0 }), relay(changeover), ...loads];
    expect(moves(storedRun(gap, 2)).map(({ kind }) => kind)).toEqual(['pulledIn']);
  });

  test('current rises through a capacitor: pull-in and drop-out come at the instants of the closed form, each once', () => {
    // The winding sees 300 of 400 Ω: 9 V, behind 75 Ω and 100 µF (Thevenin); pull-in is 7 V, drop-out 0.5 V.
    const wave = { shape: 'pulses', period: 10, width: 0.5, rest: 0, pulse: 12, delay: 1, count: 1 };
    const trace = storedRun(
      [
        signal('G1', 'in', wave, { resistance: 0 }),
        resistor('R1', 'in', 'coil', 100),
        capacitor('C1', 'coil', 'ground', 100e-6),
        relay(),
      ],
      2,
    );
    const [on, off] = eventsOf(trace, 'K1', 'windingOn', 'windingOff') as [RunEvent, RunEvent];
    expect(errorOf(on.time - 1, 7.5e-3 * Math.log(9 / 2))).toBeLessThanOrEqual(1e-12);
    expect(errorOf(off.time - 1.5, 7.5e-3 * Math.log(9 / 0.5))).toBeLessThanOrEqual(1e-12);
    expect(on.value).toBeCloseTo(7 / 300, 12);
    expect(on.limit).toBeCloseTo(7 / 300, 15);
    expect(off.limit).toBeCloseTo(0.5 / 300, 15);
    const [pulled, dropped] = moves(trace) as [RunEvent, RunEvent];
    expect(secondsFrom(on, pulled)).toBeCloseTo(10e-3, 15);
    expect(secondsFrom(off, dropped)).toBeCloseTo(10e-3, 15);
  });

  test('pulls in for either direction of the current, and a reversal shorter than the release time does not let go', () => {
    const wave = { shape: 'square', frequency: 10, high: 12, low: -12 };
    const trace = storedRun(
      [supply(12), signal('G1', 'coil', wave, { resistance: 0 }), relay(changeover), ...loads],
      1,
    );
    expect(moves(trace).map(({ kind }) => kind)).toEqual(['pulledIn']);
    expect(eventsOf(trace, 'K1', 'windingOff').length).toBeGreaterThan(15);
  });

  test('between drop-out and pull-in it stays as it is', () => {
    const points = [
      [0, 3],
      [1, 3],
      [1, 12],
      [2, 12],
      [2, 3],
      [3, 3],
      [3, 0.4],
      [4, 0.4],
    ]; // prettier-ignore
    const wave = { shape: 'points', between: 'steps', points: points.filter((_, k) => k % 2 === 0) };
    const trace = storedRun(
      [supply(12), signal('G1', 'coil', wave, { resistance: 0 }), relay(changeover), ...loads],
      4,
    );
    expect(moves(trace).map(({ kind, time }) => [kind, Number(time.toFixed(9))])).toEqual([
      ['pulledIn', 1.01],
      ['droppedOut', 3.01],
    ]);
  });

  test('a contact that breaks its own winding buzzes, one period being operate and release time', () => {
    const parts = [
      supply(12),
      relay({ a: 'feed', common: 'rail', normallyClosed: 'feed', operateTime: '4 ms', releaseTime: '6 ms' }),
    ];
    const times = moves(storedRun(parts, 0.099)).map(({ time }) => time);
    expect(times).toHaveLength(19);
    times.forEach((time, k) => expect(time).toBeCloseTo(4e-3 + (k % 2) * 6e-3 + Math.floor(k / 2) * 10e-3, 12));
    // Periods repeat bit for bit, so that a day of it is counted, not gone through.
    const [day] = readAll(boardOf(parts), 86_399.995, ['count(feed)']);
    expect(day?.value).toBe(8_640_000);
  });

  test('the contact of a circuit with a supply of its own is held by the insulation, and changes nothing there', () => {
    const parts = [
      supply(12),
      pulse(0.5),
      relay({ common: 'motor', normallyOpen: 'feed' }),
      { name: 'BT2', kind: 'supply', plus: 'feed', minus: 'back', voltage: 15, origin: 'isolated' },
      { name: 'L1', kind: 'solenoid', a: 'motor', b: 'back', voltage: 15, resistance: 5 },
    ];
    const run = simulate({ parts }, { until: 2 });
    // 15 V over 5 Ω and 0.1 Ω of contact.
    expect(errorOf(run.trace('current(L1)').at(1.2), 15 / 5.1)).toBeLessThanOrEqual(1e-9);
    expect(run.trace('current(L1)').at(0.9)).toBeCloseTo(0, 9);
  });

  test('a contact that bounces does so in the same way every time, ends where it belongs, and only in its own circuit', () => {
    const wave = { shape: 'square', frequency: 2, high: 12, low: 0 };
    const parts = (seed: number): FilePart[] => [
      supply(12),
      signal('G1', 'coil', wave, { resistance: 0 }),
      relay({ ...changeover, bounce: { for: '2 ms', seed } }),
      ...loads,
    ];
    const trace = storedRun(parts(3), 2);
    const bounces = (from: RunEvent): number[] =>
      eventsOf(trace, 'K1', 'open', 'close')
        .map((event) => event.time - from.time)
        .filter((after) => after >= 0 && after < 0.1);
    const [first, second, third, fourth] = moves(trace) as [RunEvent, RunEvent, RunEvent, RunEvent];
    expect(bounces(first).length).toBeGreaterThan(0);
    expect(bounces(first).length % 2).toBe(0);
    expect(Math.max(...bounces(first), ...bounces(second))).toBeLessThanOrEqual(2e-3);
    const digits = (times: number[]): string[] => times.map((time) => time.toFixed(9));
    expect(digits(bounces(third))).toEqual(digits(bounces(first)));
    expect(digits(bounces(fourth))).toEqual(digits(bounces(second)));
    const [bounce] = bounces(first) as [number];
    // In a bounce after pull-in both ends are open.
    const inside = first.time + bounce + 1e-9;
    expect(trace.at({ net: 'on' }, inside)).toBeCloseTo(0, 6);
    expect(trace.at({ net: 'off' }, inside)).toBeCloseTo(0, 6);
    expect(trace.at({ net: 'on' }, first.time + 0.01)).toBeCloseTo(12 * (1000 / 1000.1), 9);
    expect(digits(storedTimes(parts(4)))).not.toEqual(digits(storedTimes(parts(3))));
  });
});

function storedTimes(parts: FilePart[]): number[] {
  return eventsOf(storedRun(parts, 2), 'K1', 'open', 'close').map(({ time }) => time);
}

describe('limits of windings', () => {
  const magnet = {
    name: 'L1',
    kind: 'solenoid',
    a: 'coil',
    b: 'ground',
    voltage: 12,
    resistance: 24,
    longest: '0.4 s',
  };
  const faultsOf = (parts: object[], until = 3): string[] =>
    simulate({ parts: parts as FilePart[] }, { until })
      .faults()
      .map(({ sentence }) => plain(sentence));

  test('a solenoid that stays on for longer than it bears is told of, from when its time is over', () => {
    expect(faultsOf([pulse(0.4), magnet])).toEqual([]);
    expect(faultsOf([pulse(0.5), magnet])).toEqual([
      'L1 was on for longer than the 400 ms that it bears, once, at 1.40 s for 100 ms.',
    ]);
  });

  test('one that is stuck on is told of to the end', () => {
    expect(faultsOf([supply(12), { ...magnet, a: 'rail' }], 10)).toEqual([
      'L1 was on for longer than the 400 ms that it bears, from 400 ms to the end.',
    ]);
  });

  test('more than the greatest voltage across a winding, in either direction, is told of', () => {
    expect(faultsOf([supply(-16), { ...magnet, a: 'rail', longest: undefined }].map(withoutUndefined), 1)).toEqual([
      'L1 was above its rating of 15.6 V, from 0 s to the end.',
    ]);
  });

  test('turning a value while it is on does not stop the time that it has been on', () => {
    const circuit = (resistance: number) => circuitOf([supply(12), { ...magnet, a: 'rail', resistance } as FilePart]);
    const events: RunEvent[] = [];
    const run = new LiveRun(circuit(24), { observers: [{ event: (event) => events.push(event) }] });
    run.advance(0.2);
    run.set(circuit(25));
    run.advance(1);
    expect(events.filter(({ kind }) => kind === 'fault').map(({ time }) => time)).toEqual([0.4]);
  });
});

function withoutUndefined(part: object): object {
  return Object.fromEntries(Object.entries(part).filter(([, value]) => value !== undefined));
}

describe('buzzer', () => {
  // Data sheet FMB12A12: 12 V, 8 V to 16 V, at most 30 mA at 12 V.
  const buzzer = { name: 'BZ1', kind: 'buzzer', plus: 'in', minus: 'ground', resistance: 400, least: 8, most: 16 };
  const ramp = (points: number[][]): FilePart =>
    signal('G1', 'in', { shape: 'points', between: 'lines', points }, { resistance: 0 });

  test('sounds from its least voltage on, and draws the published 30 mA at 12 V', () => {
    const parts = [
      ramp([
        [0, 0],
        [12, 12],
        [24, 0],
      ]),
      buzzer,
    ]; // prettier-ignore
    const trace = storedRun(parts, 24);
    const events = eventsOf(trace, 'BZ1', 'sounding', 'silent');
    expect(events.map(({ kind, value, limit }) => [kind, value?.toFixed(9), limit])).toEqual([
      ['sounding', '8.000000000', 8],
      ['silent', '8.000000000', 8],
    ]);
    expect(events[0]!.time).toBeCloseTo(8, 12);
    expect(events[1]!.time).toBeCloseTo(16, 12);
    expect(trace.at({ current: 'BZ1' }, 12)).toBeCloseTo(30e-3, 12);
  });

  test('above its greatest voltage and the wrong way round it is told of', () => {
    const parts = [
      ramp([
        [0, 0],
        [1, 20],
        [2, -2],
        [3, -2],
      ]),
      buzzer,
    ]; // prettier-ignore
    const rows = simulate({ parts }, { until: 3 }).faults();
    expect(rows.map(({ what }) => what)).toEqual(['over-voltage', 'reverse-voltage']);
    expect(rows.map(({ sentence }) => plain(sentence).replace(/ at .*/, ''))).toEqual([
      'BZ1 was above its rating of 16.0 V, once,',
      'BZ1 was the wrong way round by more than 500 mV, from 1.93 s to the end.',
    ]);
  });
});
