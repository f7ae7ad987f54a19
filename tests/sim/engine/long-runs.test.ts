import { describe, expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { buildProgram } from '#sim/engine/program.ts';
import { Driver } from '#sim/engine/driver.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import { big, type BigReal, magnitude, ONE, times } from '../../support/big-real.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { astable, capacitor, lowPulses, monostable, resistor, signal } from '../../support/timer-circuits.ts';

/** ln 2 = sum of 1 / (k 2^k), to 500 bits. */
const LN2: BigReal = Array.from({ length: 505 }, (_, i) => (ONE >> BigInt(i + 1)) / BigInt(i + 1)).reduce(
  (a, b) => a + b,
);

describe('compensated time', () => {
  test('a million cycles of an astable drift by 1e-15 of the time or less', () => {
    // R1 + 2 R2 = 3000 ohm and C are doubles; so the exact time of a million periods is known to all digits.
    const [first, second, capacitance] = [1000, 1000, 1e-7];
    const period = Math.LN2 * 3000 * 1e-7;
    const rises: RunEvent[] = [];
    runCircuit(circuitOf(astable({ voltage: 9, first, second, capacitance })), {
      until: 1_000_010 * period,
      observers: [{ event: (event) => event.kind === 'set' && rises.push(event) }],
    });
    const [from, to] = [rises[5]!, rises[1_000_005]!];
    const exact = times(LN2, 3000n * big(1e-7)) * 1_000_000n;
    const found = big(to.time) + big(to.timeLow) - big(from.time) - big(from.timeLow);
    expect(Number((magnitude(found - exact) << 100n) / exact) / 2 ** 100).toBeLessThanOrEqual(1e-15);
  }, 30_000);
});

interface Cost {
  readonly events: number;
  readonly evaluations: number;
}

function costOf(parts: readonly FilePart[], until: number): Cost {
  const driver = new Driver(buildProgram(circuitOf(parts), standardDevices), []);
  const { events } = driver.advance(until, { maxEvents: 1e7 });
  return { events, evaluations: driver['stepper']['finder'].evaluations };
}

describe('cost of a run', () => {
  const table = { voltage: 9, first: 10e3, second: 22e3, capacitance: 1e-7 };
  const period = Math.LN2 * 54e3 * 1e-7;

  test('an ideal astable takes four events a period, solved in closed form', () => {
    const { events, evaluations } = costOf(astable(table), 1000 * period);
    expect(events).toBeLessThanOrEqual(4 * 1001);
    expect(evaluations).toBe(0);
  });

  test('with two states it takes the same events and three evaluations each at most', () => {
    const parts = [
      ...astable(table),
      capacitor('C2', 'control', 'ground', 1e-8),
      resistor('R3', 'control', 'out', 10e3),
    ];
    const { events, evaluations } = costOf(parts, 1000 * period);
    expect(events).toBeLessThanOrEqual(4 * 1100);
    expect(evaluations).toBeLessThanOrEqual(3 * events);
  });

  test('a bipolar astable with its delay and fading currents takes a dozen events a period at most', () => {
    const { events } = costOf(astable({ ...table, ofTimer: { family: 'bipolar' } }), 1000 * period);
    expect(events).toBeLessThanOrEqual(12 * 1050);
  });

  test('a divider takes four events for a pulse that is ignored and six for one that starts an interval', () => {
    const parts = [
      ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6 }),
      signal('G1', 'in', lowPulses(9, { period: 3e-3, width: 1e-4 }), { resistance: 0 }),
    ];
    // T = 10.99 ms: every fourth of a thousand pulses starts an interval.
    const { events, evaluations } = costOf(parts, 3);
    expect(events).toBeLessThanOrEqual(4 * 1000 + 2 * 251);
    expect(evaluations).toBe(0);
  });

  test('time alone costs nothing: an interval of a year takes as many events as one of a second', () => {
    const cost = (resistance: number, until: number): number =>
      costOf(
        [
          ...monostable({ voltage: 9, resistance, capacitance: 1e-3 }),
          signal('G1', 'in', lowPulses(9, { period: 1e12, width: 1e-3, count: 1 }), { resistance: 0 }),
        ],
        until,
      ).events;
    expect(cost(3e10, 1e9)).toBe(cost(1e3, 10));
  });
});
