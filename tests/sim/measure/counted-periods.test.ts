import { describe, expect, test } from 'vitest';
import type { MeasureContext } from '#sim/measure/context.ts';
import { edgeObserver } from '#sim/measure/edges.ts';
import { fateObserver } from '#sim/measure/fates.ts';
import { faultObserver } from '#sim/measure/faults.ts';
import { flashObserver } from '#sim/measure/flashes.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { readingObserver } from '#sim/measure/reading-observer.ts';
import { envelopeObserver } from '#sim/trace/envelope-observer.ts';
import type { EventKind } from '#sim/trace/event.ts';
import type { SegmentSignal } from '#sim/trace/frame.ts';
import type { Observer } from '#sim/trace/observer.ts';
import { type MadeStep, play } from '../../support/made-run.ts';
import { madeTimer } from '../../support/made-timer.ts';

// Periods that are counted must give what the same periods give when they are all gone through. All times are exact in
// binary, so that nothing is left to rounding but the sums of what is read.

/** The length of a period (s), and how many there are. */
const PERIOD = 0.25;
const PERIODS = 40;

const timer = madeTimer;
const context: MeasureContext = {
  circuit: {
    nets: ['ground', 'in', 'out', 'timing', 'control'],
    parts: [
      { name: 'R1', kind: 'resistor', nets: { a: 'out', b: 'ground' }, values: { resistance: 1000 } },
      { name: 'C1', kind: 'capacitor', nets: { a: 'timing', b: 'ground' }, values: { capacitance: 1e-6, series: 0 } },
      { name: 'D1', kind: 'led', nets: { a: 'out', b: 'ground' }, values: { limit: 0.02 } },
    ],
  },
  timers: [timer],
  highLevel: 6,
};

/** One step of a period: how long, THRESHOLD, and the net `out`, which `in` is the opposite of. */
function stretch(length: number, timing: number, out: number): MadeStep {
  const signals = {
    timing,
    control: 8,
    out,
    in: 12 - out,
    'current(D1)': out / 600,
    'current(R1)': out / 1000,
    'current(C1)': 1e-3,
  };
  return { length, signals };
}

function event(kind: EventKind, cause?: EventKind): MadeStep {
  return { event: cause === undefined ? { part: 'U1', kind } : { part: 'U1', kind, cause } };
}

const lightsUp: MadeStep = {
  event: { part: 'D1', kind: 'fault', limit: 0.02, fault: { what: 'over-current', phase: 'over' } },
};
const isFineAgain: MadeStep = {
  event: { part: 'D1', kind: 'fault', limit: 0.02, fault: { what: 'over-current', phase: 'clear' } },
};

const pulse = (timing: number, out: number) => [
  event('triggerLow'),
  stretch(0.03125, timing, out),
  event('triggerHigh'),
];
const begins = [event('triggerLow'), event('set', 'triggerLow'), stretch(0.03125, 1, 12), event('triggerHigh')];
const runsOut = [event('thresholdOver'), event('cleared', 'thresholdOver')];

/** Periods of one kind each; what they do to a timer comes from its events alone. */
const kinds: Readonly<Record<string, readonly MadeStep[]>> = {
  'one pulse starts, one is ignored, and a lamp lights up': [
    ...begins,
    lightsUp,
    ...pulse(4, 12),
    isFineAgain,
    ...runsOut,
    stretch(0.1875, 0, 0),
  ],
  'RESET cuts each interval and bars a pulse': [
    ...begins,
    stretch(0.03125, 3, 12),
    event('resetLow'),
    event('cleared', 'resetLow'),
    ...pulse(0, 0),
    event('resetHigh'),
    stretch(0.15625, 0, 0),
  ],
  'a period that ends in the middle of an interval, and of a pulse': [
    event('thresholdOver'),
    event('cleared', 'thresholdOver'),
    event('triggerHigh'),
    stretch(0.125, 0, 0),
    ...begins,
    stretch(0.0625, 4, 12),
    event('triggerLow'),
    stretch(0.03125, 5, 12),
  ],
  'a period that ends in the middle of an interval': [
    ...runsOut,
    stretch(0.125, 0, 0),
    ...begins,
    stretch(0.09375, 4, 12),
  ],
  'a period that ends in the middle of a pulse that starts an interval': [
    event('triggerHigh'),
    stretch(0.0625, 4, 12),
    ...runsOut,
    stretch(0.125, 0, 0),
    event('triggerLow'),
    event('set', 'triggerLow'),
    stretch(0.0625, 1, 12),
  ],
  'a starter that holds the output on': [
    event('triggerLow'),
    event('set', 'triggerLow'),
    stretch(0.0625, 4, 12),
    stretch(0.0625, 9, 12),
    event('triggerHigh'),
    ...runsOut,
    stretch(0.125, 0, 0),
  ],
  'RESET lets go while the trigger is low': [
    event('resetLow'),
    event('triggerLow'),
    stretch(0.0625, 0, 0),
    event('resetHigh'),
    event('set', 'resetHigh'),
    stretch(0.0625, 1, 12),
    event('triggerHigh'),
    stretch(0.0625, 4, 12),
    ...runsOut,
    stretch(0.0625, 0, 0),
  ],
};

const READINGS = [
  'width(out)',
  'low(out)',
  'period(out)',
  'frequency(out)',
  'duty(out)',
  'count(out)',
  'count(out, fall)',
  'first(out)',
  'ratio(out, in)',
  'delay(in, out)',
  'delay(out, in)',
  'level(out, 0.5 s)',
  'level(out, 4.2 s)',
  'peak(timing)',
  'trough(timing)',
  'mean(timing)',
  'current(R1)',
  'current(C1)',
  'peak_current(R1)',
  'power(R1)',
  'light(D1)',
];

type Watch = Observer & { result(): unknown };

/** An observer that is told of periods as soon as it says that they do the same to it. */
function counting(inner: Watch): Observer {
  const { periods } = inner;
  if (periods === undefined) throw new Error('It tells nothing of periods.');
  let [begun, left] = [0, PERIODS];
  let ended = 0;
  return {
    begin: (table) => inner.begin?.(table),
    segment(segment) {
      const signal = (index: number): SegmentSignal => segment.signal(index);
      if (left > 0) inner.segment?.({ ...segment, signal, start: segment.start + ended });
    },
    event(each) {
      if (left <= 0) return;
      if (each.part !== 'period') return void inner.event?.({ ...each, time: each.time + ended });
      const now = each.time + ended;
      if (begun++ > 0) left--;
      const until = periods.begin(now);
      // One period more than is counted is gone through, to see that the run goes on.
      const times = Math.min(left - 2, Math.floor((until - now) / PERIOD));
      if (times < 1) return;
      periods.repeat(times, { high: times * PERIOD, low: 0 });
      ended += times * PERIOD;
      left -= times;
    },
    end: () => inner.end?.(PERIODS * PERIOD),
  };
}

/** The result of a watch, gone through and counted. */
function both(make: () => Watch, period: readonly MadeStep[]): [unknown, unknown] {
  const mark: MadeStep = { event: { part: 'period', kind: 'accepted' } };
  const steps = Array.from({ length: PERIODS }, () => [mark, ...period]).flat();
  const [plain, counted] = [make(), make()];
  const run = { nets: context.circuit.nets, currents: ['R1', 'C1', 'D1'], steps };
  play(run, plain);
  play(run, counting(counted));
  return [plain.result(), counted.result()];
}

describe.each(Object.keys(kinds))('periods that are counted give what they give when gone through: %s', (kind) => {
  const period = kinds[kind]!;
  const windows = [
    { from: 0, until: 100 },
    { from: 0, until: PERIODS * PERIOD },
    { from: 0.6, until: 7.3 },
  ];

  test.each(READINGS)('%s', (text) => {
    for (const window of windows) {
      const [plain, counted] = both(() => readingObserver(parseReading(text), context, window), period);
      expect(counted).toEqual(closeTo(plain));
    }
  });

  // Three rows are full before the first period is counted, thirty while they are, thousands never.
  test.each([3, 30, 1000])('fates, %i of them listed', (most) => {
    for (const window of windows) {
      const [plain, counted] = both(() => fateObserver(timer, window, { most }), period);
      expect(counted).toEqual(closeTo(plain));
    }
  });

  test.each([3, 30, 1000])('edges, %i of them listed', (most) => {
    for (const window of windows) {
      const [plain, counted] = both(() => edgeObserver('out', 6, window, { most }), period);
      expect((plain as { count: number }).count).toBeGreaterThan(20);
      expect(counted).toEqual(plain);
    }
  });

  // Columns that are shorter than a stretch, about as long as a period, and many periods long.
  test.each([1000, 41, 40, 3, 1])('signals in %i columns', (columns) => {
    for (const window of windows.slice(1)) {
      const signals = [{ net: 'timing' }, { net: 'out' }, { net: 'control' }];
      const [plain, counted] = both(() => envelopeObserver(signals, { ...window, columns }), period);
      expect(counted).toEqual(plain);
    }
  });

  test('parts beyond their limits, and lamps that flash', () => {
    for (const window of windows) {
      for (const make of [() => faultObserver(context.circuit, window), () => flashObserver(context.circuit, window)]) {
        const [plain, counted] = both(make, period);
        expect(counted).toEqual(closeTo(plain));
      }
    }
  });
});

/** The same with numbers to a dozen digits: sums of forty terms are rounded in another order. */
function closeTo(value: unknown): unknown {
  if (typeof value === 'number') return expect.closeTo(value, 11) as unknown;
  if (Array.isArray(value)) return value.map(closeTo);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, each]) => [name, closeTo(each)]));
}
