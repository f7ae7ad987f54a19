import { describe, expect, test } from 'vitest';
import { fateObserver } from '#sim/measure/fates.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { EventKind, RunEvent } from '#sim/trace/event.ts';
import type { StoredTrace } from '#sim/trace/recorder.ts';
import { plain } from '../../support/circuit-issues.ts';
import { errorOf } from '../../support/error-measure.ts';
import { boardOf, type FilePart } from '../../support/run-board.ts';
import { eventsOf, secondsFrom, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

const voltage = 9;

/** A timing resistor and capacitor of one stage. */
interface Stage {
  readonly resistance: number;
  readonly capacitance: number;
}

function stage(
  name: string,
  trigger: string,
  { resistance, capacitance }: Stage,
  more: Record<string, unknown> = {},
): FilePart[] {
  const timing = `timing${name}`;
  const { pins = {}, ...rest } = more;
  return [
    timer(name, { trigger, threshold: timing, discharge: timing, output: `out${name}`, ...(pins as object) }, rest),
    resistor(`R${name}`, 'rail', timing, resistance),
    capacitor(`C${name}`, timing, 'ground', capacitance),
  ];
}

/** The falling edge of one net pulls another below its trigger level for R C ln 1.5. */
function coupled(name: string, from: string, to: string): FilePart[] {
  return [capacitor(`CC${name}`, from, to, 1e-9), resistor(`RC${name}`, 'rail', to, 10e3)];
}

/** What every timer of a board did to its input pulses. */
function allFates(parts: readonly FilePart[], until: number) {
  const board = boardOf(parts);
  const ledgers = board.timers.map((facts) => fateObserver(facts, { from: 0, until }));
  expect(runCircuit(board.circuit, { until, observers: ledgers }).ok).toBe(true);
  return Object.fromEntries(board.timers.map(({ name }, k) => [name, ledgers[k]!.result()]));
}

/** What may bring an event about, and after how long (s). */
type Causes = Partial<Record<EventKind, { readonly by: readonly EventKind[]; readonly after: number }>>;

function causesOf(delay: number, minimumTrigger: number): Causes {
  return {
    accepted: { by: ['triggerLow'], after: minimumTrigger },
    set: { by: minimumTrigger > 0 ? ['accepted', 'resetHigh'] : ['triggerLow', 'resetHigh'], after: 0 },
    cleared: { by: ['thresholdOver', 'resetLow'], after: 0 },
    outputHigh: { by: ['set'], after: delay },
    outputLow: { by: ['cleared'], after: delay },
  };
}

/** Checks that every event of a timer says what it saw, or which of the timer's earlier events brought it about. */
function expectCauses(trace: StoredTrace, part: string, causes: Causes): void {
  const events = trace.events.filter((event) => event.part === part && event.kind !== 'piece');
  expect(events.length).toBeGreaterThan(0);
  for (const [k, event] of events.entries()) {
    const known = causes[event.kind];
    if (known === undefined) {
      expect(event, `${part} ${event.kind}`).toMatchObject({ value: expect.any(Number), limit: expect.any(Number) });
      continue;
    }
    expect(known.by, `${part} ${event.kind}`).toContain(event.cause);
    const near = (other: RunEvent): boolean =>
      Math.abs(secondsFrom(other, event) - known.after) <= 1e-15 + 1e-12 * event.time;
    expect(
      events.slice(0, k).some((other) => other.kind === event.cause && near(other)),
      `${part} ${event.kind}`,
    ).toBe(true);
  }
}

const first = { resistance: 10e3, capacitance: 100e-9 };
const second = { resistance: 22e3, capacitance: 47e-9 };
const length = ({ resistance, capacitance }: Stage): number => resistance * capacitance * Math.log(3);

describe('two timers in a chain, with delays and minimum trigger widths', () => {
  const [ofFirst, ofSecond] = [
    { delay: 2e-6, minimumTrigger: 5e-6 },
    { delay: 3e-6, minimumTrigger: 1e-6 },
  ];
  /** Low pulses of the axle contact: start and length (s). */
  const pulses = [
    [1e-3, 3e-6],
    [2e-3, 10e-6],
    [2.5e-3, 10e-6],
    [4e-3, 10e-6],
    [6e-3, 2e-3],
  ] as const;
  const points = [
    [0, voltage],
    ...pulses.flatMap(([at, width]) => [
      [at, 0],
      [at + width, voltage],
    ]),
  ];
  const parts = [
    supply(voltage),
    signal('G1', 'in', { shape: 'points', between: 'steps', points }),
    ...stage('U1', 'in', first, { with: ofFirst }),
    ...coupled('2', 'outU1', 'step'),
    ...stage('U2', 'step', second, { with: ofSecond }),
  ];
  const trace = storedRun(parts, 12e-3);
  const fates = allFates(parts, 12e-3);

  test('every event says what it saw or what brought it about', () => {
    expectCauses(trace, 'U1', causesOf(ofFirst.delay, ofFirst.minimumTrigger));
    expectCauses(trace, 'U2', causesOf(ofSecond.delay, ofSecond.minimumTrigger));
  });

  test('the first timer: too short, started, ignored, started, started and held on', () => {
    const { pulses: rows, counts } = fates['U1']!;
    expect(rows.map(({ fate }) => fate)).toEqual(['short', 'started', 'ignored', 'started', 'started']);
    expect(counts).toEqual({ started: 3, held: 0, ignored: 1, short: 1, barred: 0 });
    expect(plain(rows[0]!.reason)).toBe('Short: low for 3.00 µs, less than the 5.00 µs that the trigger needs.');
    // Set when the minimum is over, and the capacitor is let go a delay later.
    const lasted = ofFirst.delay + length(first);
    for (const k of [1, 3, 4]) expect(errorOf(rows[k]!.interval!, lasted)).toBeLessThanOrEqual(1e-12);
    expect(errorOf(rows[2]!.toGo!, 2e-3 + ofFirst.minimumTrigger + lasted - 2.5e-3)).toBeLessThanOrEqual(1e-11);
    expect(errorOf(rows[4]!.heldFor!, 2e-3 - ofFirst.minimumTrigger - lasted)).toBeLessThanOrEqual(1e-11);
  });

  test('the second timer: started by every end of the first, both delays after it', () => {
    const { pulses: rows, counts } = fates['U2']!;
    expect(counts).toMatchObject({ started: 4, ignored: 0, short: 0 });
    const ends = eventsOf(trace, 'U1', 'outputLow');
    // At power-up its trigger net is at 0 V and charges: that starts an interval of its own.
    expect(rows[0]!.time).toBe(0);
    rows.slice(1).forEach(({ time }, k) => expect(time).toBe(ends[k]!.time));
    const sets = eventsOf(trace, 'U2', 'set').slice(1);
    const highs = eventsOf(trace, 'U2', 'outputHigh').slice(1);
    sets.forEach((set, k) => {
      expect(secondsFrom(ends[k], set)).toBeCloseTo(ofSecond.minimumTrigger, 15);
      expect(secondsFrom(set, highs[k])).toBeCloseTo(ofSecond.delay, 15);
    });
    const lasted = ofSecond.delay + length(second);
    for (const { interval } of rows.slice(1)) expect(errorOf(interval!, lasted)).toBeLessThanOrEqual(1e-12);
  });
});

describe('a dip of a supply that two timers share', () => {
  /** Reset levels of two families (V): 0.7 V bipolar (TI-A p. 4), 1.1 V CMOS (TLC p. 8 and TS p. 6). */
  const levels = { U1: 0.7, U2: 1.1 };
  const at = 20e-6;

  /** Both timers start at power-up; the rail goes down to `to` volts at 20 µs for `width` seconds. */
  function dipped(to: number, width: number, more: readonly FilePart[] = [], pins: object = {}): FilePart[] {
    const changes = [
      { at, voltage: to },
      { at: at + width, voltage },
    ];
    const input = (name: string, net: string): FilePart[] => [
      resistor(`RT${name}`, 'rail', net, 1e3),
      capacitor(`CT${name}`, net, 'ground', 1e-9),
    ];
    return [
      supply(voltage, { changes }),
      ...input('1', 'in1'),
      ...input('2', 'in2'),
      ...stage('U1', 'in1', first, { with: { resetLevel: levels.U1, delay: 2e-6 }, pins }),
      ...stage('U2', 'in2', second, { with: { resetLevel: levels.U2, delay: 3e-6 }, pins }),
      ...more,
    ];
  }

  const cleared = (parts: readonly FilePart[], part: string): RunEvent =>
    eventsOf(storedRun(parts, 5e-3), part, 'cleared')[0]!;

  test('between their levels resets one of them and fails to reset the other', () => {
    const parts = dipped(0.9, 10e-6);
    const trace = storedRun(parts, 5e-3);
    expectCauses(trace, 'U1', causesOf(2e-6, 0));
    expectCauses(trace, 'U2', causesOf(3e-6, 0));
    expect(cleared(parts, 'U2')).toMatchObject({ cause: 'resetLow', time: at });
    expect(cleared(parts, 'U1').cause).toBe('thresholdOver');
    expect(cleared(parts, 'U1').time).toBeGreaterThan(length(first));
    const fates = allFates(parts, 5e-3);
    expect(plain(fates['U2']!.pulses[0]!.reason)).toMatch(/^Started.*: an interval that RESET ended after /);
    expect(fates['U2']!.explanation).toContain('RESET ended 1 interval early.');
    expect(fates['U1']!.pulses[0]!.reason).not.toContain('RESET ended');
    expect(fates['U1']!.explanation).not.toContain('RESET');
  });

  test('below both levels resets both, above both neither', () => {
    for (const [to, cause] of [
      [0.5, 'resetLow'],
      [1.3, 'thresholdOver'],
    ] as const) {
      for (const part of ['U1', 'U2']) expect(cleared(dipped(to, 10e-6), part).cause, `${part} at ${to} V`).toBe(cause);
    }
  });

  test('that is over before the delay resets the latch at once, and the outputs follow when it is over', () => {
    const trace = storedRun(dipped(0.5, 1e-6), 5e-3);
    for (const [part, delay] of [
      ['U1', 2e-6],
      ['U2', 3e-6],
    ] as const) {
      const [low] = eventsOf(trace, part, 'outputLow');
      expect(low).toMatchObject({ cause: 'cleared' });
      expect(errorOf(low!.time + low!.timeLow, at + delay)).toBeLessThanOrEqual(1e-12);
      expect(eventsOf(trace, part, 'set')).toHaveLength(1);
    }
  });

  test('fails to reset where RESET hangs on a capacitor that outlasts it', () => {
    // 9 V falls to 1.1 V after R C ln(9 / 1.1) = 2.1 RC towards 0 V: 10 µs are a tenth of RC.
    const hold = [resistor('RH', 'rail', 'hold', 10e3), capacitor('CH', 'hold', 'ground', 10e-9, { initial: voltage })];
    for (const part of ['U1', 'U2']) {
      expect(cleared(dipped(0, 10e-6, hold, { reset: 'hold' }), part).cause).not.toBe('resetLow');
    }
    const soon = [
      resistor('RH', 'rail', 'hold', 10e3),
      capacitor('CH', 'hold', 'ground', 100e-12, { initial: voltage }),
    ];
    const event = cleared(dipped(0, 10e-6, soon, { reset: 'hold' }), 'U2');
    expect(event.cause === 'resetLow' || event.time === at).toBe(true);
  });
});

describe('power-up of a chain', () => {
  /** Three lamps one after the other, their trigger nets empty at power-up; RESET of all on `reset`. */
  function chain(reset: string, more: readonly FilePart[] = []): FilePart[] {
    return [
      supply(voltage),
      ...['U1', 'U2', 'U3'].flatMap((name, k) => [
        ...coupled(name, k === 0 ? 'in' : `outU${k}`, `step${name}`),
        ...stage(name, `step${name}`, first, { pins: { reset } }),
      ]),
      signal('G1', 'in', { shape: 'constant', level: voltage }),
      ...more,
    ];
  }

  test('without a hold on RESET the stages fire one after the other, and each says why', () => {
    const fates = allFates(chain('rail'), 20e-3);
    for (const part of ['U2', 'U3']) expect(fates[part]!.counts.started, part).toBeGreaterThanOrEqual(1);
    const trace = storedRun(chain('rail'), 20e-3);
    const [begun, passedOn] = ['U2', 'U3'].map((part) => eventsOf(trace, part, 'set')[0]!);
    expect(begun).toMatchObject({ time: 0, cause: 'triggerLow' });
    // Its rising output lifts the next trigger net; that one fires at the end of its interval.
    expect(passedOn).toMatchObject({ cause: 'triggerLow' });
    expect(errorOf(passedOn!.time, length(first))).toBeLessThanOrEqual(1e-12);
    for (const part of ['U2', 'U3']) expectCauses(trace, part, causesOf(0, 0));
  });

  test('with RESET held longer than the trigger nets take every stage is barred, and each says why', () => {
    // The nets are up after 10 µs ln 1.5 = 4.1 µs; RESET lets go after 1 ms ln(9 / 8.3) = 81 µs.
    const hold = [resistor('RH', 'rail', 'hold', 10e3), capacitor('CH', 'hold', 'ground', 100e-9)];
    const fates = allFates(chain('hold', hold), 20e-3);
    for (const part of ['U2', 'U3']) {
      expect(fates[part]!.counts).toMatchObject({ started: 0, barred: 1 });
      expect(fates[part]!.pulses[0]!.reason).toBe('Barred: RESET was low, so the pulse could not act.');
    }
    expect(eventsOf(storedRun(chain('hold', hold), 20e-3), 'U2', 'set')).toEqual([]);
  });
});
