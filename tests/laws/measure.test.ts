import { edgeObserver } from '#sim/measure/edges.ts';
import { fateObserver } from '#sim/measure/fates.ts';
import type { MeasureContext } from '#sim/measure/context.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { readingObserver } from '#sim/measure/reading-observer.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { envelopeObserver } from '#sim/trace/envelope-observer.ts';
import type { Observer } from '#sim/trace/observer.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import '../support/costly-runs.ts';
import {
  charging,
  cutRun,
  type MadeRun,
  type MadeSignal,
  type MadeStretch,
  madeValue,
  play,
} from '../support/made-run.ts';
import { divider, watch } from '../support/run-board.ts';

const voltage = fc.double({ min: -12, max: 12, noNaN: true });
const length = fc.double({ min: 0.01, max: 2, noNaN: true });
const rate = fc.double({ min: 0.05, max: 50, noNaN: true });

/** Any sum of up to four exponentials with a ramp. */
const anySignal: fc.Arbitrary<MadeSignal> = fc.record({
  constant: voltage,
  slope: fc.oneof(fc.constant(0), voltage),
  terms: fc.array(fc.tuple(voltage, rate), { maxLength: 4 }),
});
const anyRun: fc.Arbitrary<MadeRun> = fc
  .array(fc.record({ length, a: anySignal }), { minLength: 1, maxLength: 6 })
  .map((stretches) => ({
    nets: ['a'],
    steps: stretches.map(({ length: seconds, a }): MadeStretch => ({ length: seconds, signals: { a } })),
  }));

/** Charging towards levels clear of 6 V, so that every crossing of 6 V is steep and its time well determined. */
const steepSignal = fc
  .record({
    from: fc.double({ min: 0, max: 12, noNaN: true }),
    to: fc.oneof(fc.double({ min: 0, max: 4, noNaN: true }), fc.double({ min: 8, max: 12, noNaN: true })),
    timeConstant: fc.double({ min: 0.1, max: 1, noNaN: true }),
  })
  .map(({ from, to, timeConstant }) => charging(from, to, timeConstant));
const steepRun: fc.Arbitrary<MadeRun> = fc
  .array(fc.record({ length, out: steepSignal, in: steepSignal, current: steepSignal }), {
    minLength: 2,
    maxLength: 12,
  })
  .map((stretches) => ({
    nets: ['in', 'out', 'ground'],
    currents: ['R1'],
    steps: stretches.map(
      ({ length: seconds, current, ...signals }): MadeStretch => ({
        length: seconds,
        signals: { ...signals, 'current(R1)': current },
      }),
    ),
  }));

/** Stretches of a made-up run with their starts. */
function placed(run: MadeRun): { start: number; stretch: MadeStretch }[] {
  let start = 0;
  return run.steps.flatMap((step) => {
    if ('event' in step) return [];
    const here = { start, stretch: step };
    start += step.length;
    return [here];
  });
}

function lengthOf(run: MadeRun): number {
  return placed(run).reduce((sum, { stretch }) => sum + stretch.length, 0);
}

describe('envelopes', () => {
  test('envelope encloses dense samples of the signal, and starts and ends on it', () => {
    fc.assert(
      fc.property(
        anyRun,
        fc.integer({ min: 1, max: 40 }),
        fc.double({ min: 0, max: 0.9, noNaN: true }),
        (run, columns, share) => {
          const until = lengthOf(run);
          const from = share * until;
          const trace = new StoredTrace();
          play(run, trace);
          const { low, high, first, last } = trace.envelope({ net: 'a' }, from, until, columns);
          // Samples are computed by another order of additions of terms of up to 12 V, 24 V and 50 V together.
          const tolerance = 1e-12;
          for (const { start, stretch } of placed(run)) {
            for (let i = 0; i <= 50; i++) {
              const local = (i / 50) * stretch.length;
              const place = ((start + local - from) / (until - from)) * columns;
              const column = Math.floor(place);
              // A sample on the border of two columns, to rounding, may belong to either.
              if (place < 0 || column >= columns || Math.abs(place - Math.round(place)) < 1e-9) continue;
              const value = madeValue(stretch.signals['a'], local);
              expect(value).toBeGreaterThanOrEqual(low[column]! - tolerance);
              expect(value).toBeLessThanOrEqual(high[column]! + tolerance);
            }
          }
          for (let column = 0; column < low.length; column++) {
            for (const end of [first[column]!, last[column]!]) {
              expect(end).toBeGreaterThanOrEqual(low[column]!);
              expect(end).toBeLessThanOrEqual(high[column]!);
            }
          }
        },
      ),
    );
  });

  test('the streaming envelope equals the stored one, number for number', () => {
    fc.assert(
      fc.property(anyRun, fc.integer({ min: 1, max: 40 }), (run, columns) => {
        const until = 0.9 * lengthOf(run);
        const from = 0.2 * until;
        const trace = new StoredTrace();
        const streaming = envelopeObserver([{ net: 'a' }], { from, until, columns });
        play(run, trace, streaming);
        expect(streaming.result()).toEqual([trace.envelope({ net: 'a' }, from, until, columns)]);
      }),
    );
  });

  test('a replayed trace gives every observer what the run gave it', () => {
    fc.assert(
      fc.property(anyRun, voltage, (run, level) => {
        const trace = new StoredTrace();
        const window = { from: 0, until: 1e9 };
        const [direct, again] = [edgeObserver('a', level, window), edgeObserver('a', level, window)];
        play(run, trace, direct);
        trace.replay(again);
        expect(again.result()).toEqual(direct.result());
      }),
    );
  });
});

describe('edges', () => {
  test('edges alternate, begin with a rise, ascend, and agree with the signal between them', () => {
    fc.assert(
      fc.property(anyRun, voltage, (run, level) => {
        const observer = edgeObserver('a', level, { from: 0, until: 1e9 });
        play(run, observer);
        const { edges } = observer.result();
        edges.forEach((edge, i) => {
          expect(edge.to).toBe(i % 2 === 0 ? 'high' : 'low');
          if (i > 0) expect(edge.time).toBeGreaterThanOrEqual(edges[i - 1]!.time);
        });
        for (const { start, stretch } of placed(run)) {
          for (let i = 0; i <= 50; i++) {
            const local = (i / 50) * stretch.length;
            const above = madeValue(stretch.signals['a'], local) - level;
            const time = start + local;
            // Near the level, and within rounding of an edge or of a jump, either answer is right.
            if (i === 0 || i === 50 || Math.abs(above) < 1e-9) continue;
            const passed = edges.filter((edge) => edge.time <= time).length;
            expect(passed % 2 === 1).toBe(above > 0);
          }
        }
      }),
    );
  });
});

const readings = [
  'width(out)',
  'low(out)',
  'period(out)',
  'frequency(out)',
  'duty(out)',
  'count(out)',
  'ratio(out, in)',
  'delay(in, out)',
  'first(out, fall)',
  'peak(out)',
  'trough(out)',
  'mean(out)',
  'current(R1)',
  'peak_current(R1)',
  'power(R1)',
  'widths(out)',
  'lows(out)',
  'periods(out)',
];
const board: MeasureContext = {
  circuit: {
    nets: ['in', 'out', 'ground'],
    parts: [{ name: 'R1', kind: 'resistor', nets: { a: 'in', b: 'out' }, values: {} }],
  },
  timers: [],
  highLevel: 6,
};

describe('readings', () => {
  test('cutting the stretches of a run anywhere changes no reading beyond 1e-12', () => {
    fc.assert(
      fc.property(
        steepRun,
        fc.array(fc.double({ min: 0.001, max: 0.999, noNaN: true }), { minLength: 1, maxLength: 4 }),
        (run, shares) => {
          const window = { from: 0, until: 1e9 };
          const take = (shown: MadeRun): unknown[] => {
            const observers = readings.map((call) => readingObserver(parseReading(call), board, window));
            play(shown, ...observers);
            return observers.map((observer) => observer.result().value);
          };
          const [whole, cut] = [take(run), take(cutRun(run, shares))];
          readings.forEach((call, i) => {
            const [a, b] = [whole[i], cut[i]];
            if (Array.isArray(a) && Array.isArray(b)) {
              expect(b.length, call).toBe(a.length);
              a.forEach((value: number, k) => close(b[k] as number, value, call));
            } else if (typeof a === 'number' && typeof b === 'number') close(b, a, call);
            else expect(b, call).toEqual(a);
          });
        },
      ),
    );
  });
});

/**
 * Volts, amperes and watts of size 100 at most and times of size 10: 1e-12 of the value, or of 1 where it is smaller. A
 * frequency or share is a quotient of such times.
 */
function close(got: number, wanted: number, call: string): void {
  expect(Math.abs(got - wanted), `${call}: ${got} for ${wanted}`).toBeLessThanOrEqual(1e-12 * Math.max(1, wanted ** 2));
}

describe('fates', () => {
  const settings = fc.record({
    period: fc.double({ min: 0.01, max: 0.5, noNaN: true }),
    share: fc.double({ min: 0.01, max: 0.99, noNaN: true }),
    resistance: fc.double({ min: 1e3, max: 1e5, noNaN: true }),
    family: fc.constantFrom('ideal', 'bipolar'),
    reset: fc.boolean(),
  });

  test('every trigger pulse gets exactly one fate, and intervals do not overlap', () => {
    fc.assert(
      fc.property(settings, ({ period, share, resistance, family, reset }) => {
        const wave = { shape: 'pulses', period: 0.7, width: 0.1, rest: '12 V', pulse: '0 V', delay: 0.3 };
        const more = reset ? [{ name: 'G2', kind: 'signal', plus: 'stop', minus: 'ground', wave }] : [];
        const made = divider({
          period,
          width: share * period,
          resistance,
          family,
          more,
          ...(reset ? { reset: 'stop' } : {}),
        });
        const window = { from: 0, until: 2 };
        let pulses = 0;
        let starts = 0;
        const counter: Observer = {
          event: ({ kind, time, part }) => {
            if (part !== 'U1' || time >= window.until) return;
            if (kind === 'triggerLow') pulses++;
            if (kind === 'set') starts++;
          },
        };
        const ledger = fateObserver(made.timers[0]!, window);
        expect(watch(made, window.until, [counter, ledger]).ok).toBe(true);
        const result = ledger.result();
        expect(result.pulses).toHaveLength(pulses);
        expect(Object.values(result.counts).reduce((sum, count) => sum + count, 0)).toBe(pulses);
        expect(result.intervals).toHaveLength(starts);
        result.intervals.forEach(({ from }, i) => {
          const before = result.intervals[i - 1]?.until ?? 0;
          expect(from).toBeGreaterThanOrEqual(before);
        });
        for (const { fate, toGo, heldFor, interval, time, open } of result.pulses) {
          if (fate === 'ignored' && toGo !== undefined && toGo !== 0) expect(toGo).toBeGreaterThan(0);
          // A pulse that begins when the interval ends, to rounding, finds it running still (document.md, ties): 0 s to go.
          if (fate === 'ignored' && toGo === 0) {
            const ends = result.intervals.map(({ until }) => Math.abs((until ?? Infinity) - time));
            expect(Math.min(...ends)).toBeLessThanOrEqual(32 * Number.EPSILON * time);
          }
          if (fate === 'held') expect(heldFor).toBeGreaterThan(0);
          if (fate === 'started' && open === undefined && interval !== undefined) {
            expect(time + interval).toBeLessThanOrEqual(window.until);
          }
        }
      }),
    );
  });

  test('what the explanation says of the ratio is what the pulses show', () => {
    fc.assert(
      fc.property(settings, ({ period, share, resistance, family }) => {
        const made = divider({ period, width: share * period, resistance, family });
        const ledger = fateObserver(made.timers[0]!, { from: 0, until: 3 });
        watch(made, 3, [ledger]);
        const { pulses, explanation } = ledger.result();
        const starts = pulses.flatMap(({ fate }, i) => (fate === 'started' ? [i] : []));
        const steps = new Set(starts.slice(1).map((at, i) => at - starts[i]!));
        const said = /the ratio is (\d+) throughout/.exec(explanation);
        // It takes three gaps to speak of a ratio; the input is evenly spaced.
        if (steps.size === 1 && starts.length > 3) expect(Number(said?.[1])).toBe([...steps][0]);
        else expect(said).toBeNull();
        expect(explanation.includes('the ratio is not constant')).toBe(steps.size > 1);
        const copies = pulses
          .filter(({ open }) => open === undefined)
          .every(({ fate, heldFor }) => fate === 'started' && heldFor !== undefined);
        if (explanation.includes('an inverted copy')) expect(copies).toBe(true);
      }),
    );
  });
});
