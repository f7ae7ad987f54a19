import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { runCircuit } from '#sim/run/simulate.ts';
import type { Observer } from '#sim/trace/observer.ts';
import { CountedPeriods, type PeriodKeeper, type PeriodVisitor } from '#sim/trace/period-visitor.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { astable, lowPulses, monostable, resistor, signal } from '../../support/timer-circuits.ts';

/** Counts the events of a kind and keeps the date of the last one; it can be told of periods. */
class Counter implements Observer, PeriodKeeper {
  count = 0;
  #last = { high: 0, low: 0 };
  readonly periods = new CountedPeriods({ from: 0, until: Infinity }, this);

  constructor(readonly kind: string) {}

  get last(): number {
    return this.#last.high;
  }

  event({ kind, time, timeLow }: { readonly kind: string; readonly time: number; readonly timeLow: number }): void {
    if (kind !== this.kind) return;
    this.count++;
    this.#last = { high: time, low: timeLow };
  }

  visit(visitor: PeriodVisitor): void {
    this.count = visitor.sum(this.count);
    this.#last = visitor.date(this.#last);
  }
}

function divider(family: string, resistance: number, wave: object = {}): FilePart[] {
  return [
    ...monostable({ voltage: 9, resistance, capacitance: 1e-7, ofTimer: { family } }),
    signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4, ...wave })),
  ];
}

function flasher(family: string, second: number): FilePart[] {
  return astable({ voltage: 9, first: 10e3, second, capacitance: 1e-7, ofTimer: { family } });
}

/** Runs a board event by event and by periods; both must see the same. True when half the events were enough. */
function agrees(parts: readonly FilePart[], until: number): boolean {
  const circuit = circuitOf(parts);
  const [plain, counted, inBudget] = [new Counter('outputHigh'), new Counter('outputHigh'), new Counter('outputHigh')];
  const outcome = runCircuit(circuit, { until, observers: [plain], countPeriods: false });
  expect(runCircuit(circuit, { until, observers: [counted] })).toEqual(outcome);
  expect(counted.count).toBe(plain.count);
  // Dates may differ by the rounding of their second part only, which can turn the last bit of the first.
  expect(Math.abs(counted.last - plain.last)).toBeLessThanOrEqual(Number.EPSILON * plain.last);
  const maxEvents = Math.floor(outcome.events / 2);
  return runCircuit(circuit, { until, observers: [inBudget], maxEvents }).code === 'reached';
}

const families = ['ideal', 'bipolar', 'cmos'] as const;

describe('runCircuit() with countPeriods', () => {
  test.each(families)('sees what the plain run sees, mostly in half the events, %s family', (family) => {
    const halved: boolean[] = [];
    fc.assert(
      fc.property(fc.double({ min: 3, max: 5, noNaN: true }), (decade) => {
        halved.push(agrees(divider(family, 10 ** decade), 3), agrees(flasher(family, 10 ** decade), 16));
      }),
      { numRuns: 6 },
    );
    // A board near a boundary may take longer than the run to settle to the last bit.
    expect(halved.filter(Boolean).length).toBeGreaterThanOrEqual(0.75 * halved.length);
  });

  test('ends a skip before what comes once: a supply that changes, a train of pulses that ends', () => {
    const sagging = divider('bipolar', 22e3).map((part) =>
      part.name === 'BT1' ? { ...part, changes: [{ at: 2.7003, voltage: 6, over: 0 }] } : part,
    );
    expect(agrees(sagging, 3)).toBe(true);
    expect(agrees(divider('cmos', 22e3, { count: 2777 }), 3)).toBe(true);
  });

  test('takes two inputs, of one period and of two', () => {
    const parts = (period: number): FilePart[] => [
      ...divider('ideal', 22e3),
      signal('G2', 'reset', { shape: 'pulses', period, width: 3e-4, rest: 9, pulse: 0, delay: 3.1e-4 }),
      resistor('R9', 'reset', 'ground', 1e5),
    ];
    const wired = (period: number): FilePart[] =>
      parts(period).map((part) =>
        part.kind === 'timer' ? { ...part, pins: { ...(part.pins as object), reset: 'reset' } } : part,
      );
    // Periods are binary numbers: 1 ms and 16 ms are commensurate, 1 ms and 11 ms only nearly so and never repeat.
    for (const period of [0.001, 0.016]) expect(agrees(wired(period), 4)).toBe(true);
    agrees(wired(0.011), 0.5);
  });

  test('goes through everything for an observer that has to be shown it', () => {
    const observer: Observer = { event: () => {} };
    const outcome = runCircuit(circuitOf(divider('ideal', 22e3)), {
      until: 10,
      observers: [observer],
      maxEvents: 1000,
    });
    expect(outcome.code).toBe('budget');
  });

  test.each(families)('counts 10^12 pulses without going through them, %s family', (family) => {
    const observer = new Counter('set');
    const circuit = circuitOf(divider(family, 22e3));
    const outcome = runCircuit(circuit, { until: 1e9, observers: [observer], maxEvents: 1e5 });
    // 22 kohm x 100 nF x ln 3 is 2.4 ms: every third pulse starts an interval, the first one included.
    expect([outcome.code, observer.count]).toEqual(['reached', Math.ceil(1e12 / 3)]);
  });

  test('counts the years of a flasher', () => {
    const observer = new Counter('outputHigh');
    const until = 1e9;
    const outcome = runCircuit(circuitOf(flasher('ideal', 47e3)), { until, observers: [observer], maxEvents: 1e5 });
    // Period ln 2 (R1 + 2 R2) C (closed form); the first time starts from an empty capacitor.
    const period = Math.LN2 * (10e3 + 2 * 47e3) * 1e-7;
    expect(outcome.code).toBe('reached');
    expect(Math.abs(observer.count / (until / period) - 1)).toBeLessThan(1e-11);
  });
});
