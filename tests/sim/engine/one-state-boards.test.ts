import { describe, expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { type Edge, edgeSums, expectSame, inFull, prepareShort, shortly } from '../../support/short-way.ts';
import {
  astable,
  capacitor,
  drivenControl,
  lowPulses,
  monostable,
  resistor,
  signal,
  supply,
  timer,
} from '../../support/timer-circuits.ts';

// What is expected is what the general engine shows, whose own values are held against closed forms elsewhere. Each board is
// one that the laws draw at random as well; here they are few and short, one for each thing that a divider may do.

interface Divider {
  readonly family?: 'ideal' | 'bipolar' | 'cmos';
  /** R (kΩ) of R times 10 nF. */
  readonly kilohms: number;
  readonly microseconds: number;
  readonly width: number;
  readonly delay?: number;
  readonly count?: number;
  readonly leakage?: number;
  readonly discharge?: number;
  readonly control?: number;
  /** Set where each interval depends on the one before, so that hardly anything comes again bit for bit. */
  readonly uneven?: true;
}

function dividerOf({ family = 'ideal', kilohms, microseconds, width, ...more }: Divider): Circuit {
  const { delay, count, leakage, discharge, control } = more;
  return circuitOf([
    ...monostable({
      voltage: 9,
      resistance: kilohms * 1e3,
      capacitance: 1e-8,
      ofCapacitor: leakage === undefined ? {} : { leakage },
      ofTimer: { family, with: discharge === undefined ? {} : { dischargeResistance: discharge } },
    }),
    ...(control === undefined ? [] : [drivenControl(control)]),
    signal(
      'G1',
      'in',
      lowPulses(9, {
        period: microseconds / 1e6,
        width: width / 1e6,
        ...(delay === undefined ? {} : { delay: delay / 1e6 }),
        ...(count === undefined ? {} : { count }),
      }),
    ),
  ]);
}

/** 22 kΩ 10 nF ln 3 is an interval of 242 µs. */
const dividers: readonly (readonly [string, Divider])[] = [
  ['every pulse starts an interval', { kilohms: 22, microseconds: 400, width: 50 }],
  ['every third pulse does', { kilohms: 22, microseconds: 100, width: 20 }],
  ['every twentieth pulse does', { kilohms: 220, microseconds: 125, width: 20 }],
  ['pulses are longer than the interval', { kilohms: 22, microseconds: 1000, width: 400 }],
  ['pulses are nearly always there', { kilohms: 22, microseconds: 100, width: 97 }],
  ['the first pulse comes late', { kilohms: 22, microseconds: 100, width: 20, delay: 730 }],
  ['there are no pulses at all', { kilohms: 22, microseconds: 100, width: 20, delay: 1e6 }],
  ['there is one pulse', { kilohms: 22, microseconds: 100, width: 20, count: 1 }],
  ['there are seven pulses', { kilohms: 22, microseconds: 100, width: 20, delay: 50, count: 7 }],
  ['the timer is bipolar', { family: 'bipolar', kilohms: 22, microseconds: 100, width: 20 }],
  ['the timer is bipolar and the pulses are long', { family: 'bipolar', kilohms: 22, microseconds: 500, width: 300 }],
  ['the timer is of CMOS', { family: 'cmos', kilohms: 22, microseconds: 100, width: 20, delay: 10 }],
  ['the capacitor leaks', { kilohms: 100, microseconds: 300, width: 20, leakage: 3e5 }],
  ['the capacitor leaks too much to end an interval', { kilohms: 300, microseconds: 300, width: 20, leakage: 3e5 }],
  ['the capacitor has no time to empty', { kilohms: 22, microseconds: 62, width: 5, discharge: 900, uneven: true }],
  ['it empties slowly but in time', { kilohms: 22, microseconds: 300, width: 5, discharge: 900 }],
  ['the control voltage is given', { kilohms: 22, microseconds: 100, width: 20, control: 4 }],
];

/** What the short way counts: edges of out with those of in between them, and what is left at the end. */
interface Counted {
  readonly told: readonly (readonly [high: boolean, rises: number, falls: number])[];
  readonly left: readonly [rises: number, falls: number];
}

function counted(circuit: Circuit, from: number, until: number): Counted {
  const { run, beat } = prepareShort(circuit);
  const told: [boolean, number, number][] = [];
  const done = run.run(beat, { from, until }, 1e6, (_, high) => told.push([high, run.edges.rises, run.edges.falls]));
  expect(done).toBe(true);
  return { told, left: [run.edges.rises, run.edges.falls] };
}

function countedInFull(full: readonly Edge[], from: number): Counted {
  const told: [boolean, number, number][] = [];
  let [rises, falls] = [0, 0];
  for (const { which, high, at } of full) {
    if (at < from) continue;
    if (which === 1) {
      told.push([high, rises, falls]);
      [rises, falls] = [0, 0];
    } else if (high) rises++;
    else falls++;
  }
  return { told, left: [rises, falls] };
}

describe('OneStateRun.run() and the general engine agree where', () => {
  test.each(dividers)(
    '%s: edges, those of the input between those of the output, and how many events there are',
    (...[, divider]) => {
      const circuit = dividerOf(divider);
      const [from, until] = [7.61, 40.37].map((periods) => (periods * divider.microseconds) / 1e6) as [number, number];
      const full = inFull(circuit, ['in', 'out'], until);
      expectSame(shortly(circuit, ['in', 'out'], until), full);
      expect(counted(circuit, 0, until)).toEqual(countedInFull(full, 0));
      expect(counted(circuit, from, until)).toEqual(countedInFull(full, from));
      const { run, beat } = prepareShort(circuit);
      expect(run.run(beat, { from: 0, until }, 1e6, () => {})).toBe(true);
      expect(run.events).toBe(runCircuit(circuit, { until, observers: [] }).events);
    },
  );

  test.each(dividers)('%s: whole cycles, counted', (...[, divider]) => {
    const circuit = dividerOf(divider);
    const window = { from: (2.61 * divider.microseconds) / 1e6, until: (150.37 * divider.microseconds) / 1e6 };
    const short = prepareShort(circuit);
    const { sums: all } = edgeSums(short, window, 'edges');
    const { events } = short.run;
    const { sums, cycles } = edgeSums(short, window, 'cycles');
    expect(sums).toEqual(all);
    // Fewer events than allowed are few enough: what is not told any more need not be gone through.
    expect(short.run.events).toBeLessThanOrEqual(events);
    if (divider.count === undefined && all.outRises > 10 && !divider.uneven) {
      expect(cycles).toBeGreaterThan(0);
    }
  });

  test('pulses come through the capacitor, so that the state jumps and its law stays', () => {
    // An edge of the signal goes over to TRIGGER and THRESHOLD at once; from there they go back to 9 V.
    const circuit = circuitOf([
      supply(9),
      timer('U1', { trigger: 'in', threshold: 'in', output: 'out' }),
      resistor('R1', 'rail', 'in', 22e3),
      capacitor('C1', 'pulse', 'in', 1e-8),
      signal('G1', 'pulse', lowPulses(9, { period: 1e-3, width: 6e-4 })),
    ]);
    const full = inFull(circuit, ['pulse', 'out'], 0.0207);
    expect(full.filter(({ which }) => which === 1).length).toBeGreaterThan(40);
    expectSame(shortly(circuit, ['pulse', 'out'], 0.0207), full);
  });

  test('a timer begins with its latch set', () => {
    const circuit = circuitOf([
      ...monostable({ voltage: 9, resistance: 22e3, capacitance: 1e-8, ofTimer: { family: 'ideal', start: 'set' } }),
      signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4, delay: 5e-4 })),
    ]);
    const full = inFull(circuit, ['in', 'out'], 2.2e-3);
    // An interval of 242 µs from 0 on, and one for each of two pulses.
    expect(full.filter(({ which, high }) => which === 1 && !high).map(({ at }) => at)).toEqual(
      [0, 0.5e-3, 1.5e-3].map((start) => expect.closeTo(start + 22e3 * 1e-8 * Math.log(3), 12)),
    );
    expectSame(shortly(circuit, ['in', 'out'], 2.2e-3), full);
  });

  test('the signal is the first part of the board', () => {
    const circuit = dividerOf(dividers[1]![1]);
    const first = { ...circuit, parts: [circuit.parts.at(-1)!, ...circuit.parts.slice(0, -1)] };
    expect(first.parts[0]!.name).toBe('G1');
    expect(counted(first, 0, 4.037e-3)).toEqual(counted(circuit, 0, 4.037e-3));
  });

  test('a run is long', () => {
    // Every third pulse of 2000 starts an interval of 242 µs; the last one still lasts at 0.2 s.
    const { told } = counted(dividerOf(dividers[1]![1]), 0, 0.2);
    expect(told.filter(([high]) => high)).toHaveLength(667);
    expect(told.filter(([high]) => !high)).toHaveLength(666);
  });

  test.each([
    ['ideal', 700],
    ['ideal', 91],
    ['bipolar', 700],
    ['cmos', 130],
  ] as const)(
    'the limits of a free-running timer move with its control voltage: %s, every %d µs',
    (family, microseconds) => {
      const circuit = circuitOf([
        ...astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-8, ofTimer: { family } }),
        signal('G1', 'control', {
          shape: 'pulses',
          rest: 6,
          pulse: 4,
          period: microseconds / 1e6,
          width: microseconds / 3e6,
        }),
      ]);
      expectSame(shortly(circuit, ['control', 'out'], 8e-3), inFull(circuit, ['control', 'out'], 8e-3));
    },
  );

  test.each([
    ['ideal', 10e3, 47e3],
    ['ideal', 1e3, 470e3],
    ['bipolar', 10e3, 47e3],
    ['cmos', 100e3, 10e3],
  ] as const)('a timer runs free: %s, %d Ω and %d Ω', (family, first, second) => {
    const circuit = circuitOf(astable({ voltage: 9, first, second, capacitance: 1e-8, ofTimer: { family } }));
    const period = (first + 2 * second) * 1e-8 * Math.LN2;
    for (const until of [0.4 * period, 12.3 * period, 41.7 * period]) {
      expectSame(shortly(circuit, ['out'], until), inFull(circuit, ['out'], until));
    }
  });
});

describe('OneStateRun.events', () => {
  test('may be as many as are allowed, and no more', () => {
    const { run, beat } = prepareShort(dividerOf(dividers[1]![1]));
    const stretch = { from: 0, until: 180.37e-4 };
    expect(run.run(beat, stretch, 1e6, () => {})).toBe(true);
    const { events } = run;
    expect(run.run(beat, stretch, events, () => {})).toBe(true);
    expect(run.run(beat, stretch, events - 1, () => {})).toBe(false);
    expect(run.run(beat, stretch, Math.floor(events / 2), () => {})).toBe(false);
  });
});
