import { CHORD_ERROR, CHORDS } from '#sim/signal/chords.ts';
import { type Source, sourceOf } from '#sim/signal/source.ts';
import type { Wave } from '#sim/signal/wave.ts';
import { waveRange } from '#sim/signal/wave-range.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread } from '../../support/arbitrary-numbers.ts';
import { type BigReal, big, magnitude, ONE, over } from '../../support/big-real.ts';
import { resistor, signal, supply, timer } from '../../support/timer-circuits.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';

type Sine = Wave & { readonly shape: 'sine' };

function sine(changes: Partial<Sine> = {}): Sine {
  return { shape: 'sine', frequency: 50, amplitude: 2, offset: 3, phase: 0, ...changes };
}

/** One straight line of a wave: when it begins and ends (s), and its voltage at both ends. */
interface Line {
  readonly from: number;
  readonly until: number;
  readonly first: number;
  readonly last: number;
}

/** The lines that a source walks, from where it stands. */
function lines(source: Source, count: number): Line[] {
  return Array.from({ length: count }, () => {
    const { level, slope, since, next } = source;
    const from = since.high;
    const until = next.high;
    const first = level;
    source.advance();
    return { from, until, first, last: first + slope * (until - from) };
  });
}

function meant(wave: Sine, time: number): number {
  return wave.offset + wave.amplitude * Math.sin(2 * Math.PI * wave.frequency * time + wave.phase);
}

/** Rounding of a two-part sum and quotient. */
const TWO_PARTS = 8 * 2 ** -105;

function offBy({ high, low }: { readonly high: number; readonly low: number }, exact: BigReal): number {
  const error = magnitude(big(high) + big(low) - exact);
  return Number((error << 200n) / exact) / 2 ** 200;
}

describe('a sine in straight lines', () => {
  test('is off by at most 5e-4 of its amplitude, and by as much as it says', () => {
    expect(CHORD_ERROR).toBeLessThanOrEqual(5e-4);
    let worst = 0;
    for (const { from, until, first, last } of lines(sourceOf(sine()), CHORDS)) {
      for (let i = 0; i <= 50; i++) {
        const time = from + ((until - from) * i) / 50;
        const value = first + ((last - first) * i) / 50;
        worst = Math.max(worst, Math.abs(value - meant(sine(), time)) / 2);
      }
    }
    expect(Math.abs(worst - CHORD_ERROR)).toBeLessThanOrEqual(1e-9);
  });

  test('stays as close with any frequency, amplitude, offset and phase', () => {
    fc.assert(
      fc.property(
        spread(1e-3, 1e6),
        spread(1e-3, 100),
        fc.double({ min: -50, max: 50, noNaN: true }),
        fc.double({ min: -20, max: 20, noNaN: true }),
        (frequency, amplitude, offset, phase) => {
          const wave = sine({ frequency, amplitude, offset, phase });
          const source = sourceOf(wave);
          expect(source.since.high).toBeLessThanOrEqual(0);
          expect(source.next.high).toBeGreaterThan(0);
          for (const { from, until, first, last } of lines(source, 2 * CHORDS)) {
            for (const share of [0, 0.3, 0.5, 1]) {
              const value = first + (last - first) * share;
              const error = Math.abs(value - meant(wave, from + (until - from) * share));
              expect(error).toBeLessThanOrEqual(CHORD_ERROR * amplitude + 1e-12 * (amplitude + Math.abs(offset)));
            }
          }
        },
      ),
      { numRuns: 50 },
    );
  });

  test('has the mean, the mean of a half wave and the effective value of the sine', () => {
    const wave = sine({ amplitude: 1, offset: 0, frequency: 1 });
    const all = lines(sourceOf(wave), CHORDS);
    const area = (part: readonly Line[]): number =>
      part.reduce((sum, { from, until, first, last }) => sum + ((until - from) * (first + last)) / 2, 0);
    const square = all.reduce(
      (sum, { from, until, first, last }) => sum + ((until - from) * (first ** 2 + first * last + last ** 2)) / 3,
      0,
    );
    expect(Math.abs(area(all))).toBeLessThanOrEqual(1e-15);
    // Mean of a half wave: 2 / pi. Effective value: 1 / sqrt 2.
    expect(Math.abs(area(all.slice(0, CHORDS / 2)) * Math.PI - 1)).toBeLessThanOrEqual(1e-6);
    expect(Math.abs(Math.sqrt(2 * square) - 1)).toBeLessThanOrEqual(1e-14);
  });

  test('pitfall P9: corner k is k / (84 frequency) to two doubles', () => {
    fc.assert(
      fc.property(spread(1e-3, 1e7), fc.integer({ min: 1, max: 1000 }), (frequency, k) => {
        const source = sourceOf(sine({ frequency }));
        for (let corner = 1; corner < k; corner++) source.advance();
        const exact = over(BigInt(k) * ONE, BigInt(CHORDS) * big(frequency));
        expect(offBy(source.next, exact)).toBeLessThanOrEqual(TWO_PARTS);
      }),
    );
  });

  test('pitfall P9: after ten million periods it is where it was', () => {
    const source = sourceOf(sine({ frequency: 3 }));
    const begun = [source.level, source.slope];
    source.seek(CHORDS * 10_000_000);
    expect([source.level, source.slope]).toEqual(begun);
    expect(offBy(source.since, over(10_000_000n * ONE, big(3)))).toBeLessThanOrEqual(TWO_PARTS);
  });

  test('goes to a time without walking there, to the line that walking would reach', () => {
    fc.assert(
      fc.property(
        spread(0.1, 1e3),
        fc.double({ min: -7, max: 7, noNaN: true }),
        spread(1e-4, 10),
        (frequency, phase, time) => {
          const walked = sourceOf(sine({ frequency, phase }));
          while (walked.next.high <= time) walked.advance();
          const sought = sourceOf(sine({ frequency, phase }));
          sought.seekTime({ high: time, low: 0 });
          expect(sought.mark).toBe(walked.mark);
          sought.seekTime({ high: 0, low: 0 });
          expect(sought.mark).toBe(sourceOf(sine({ frequency, phase })).mark);
        },
      ),
      { numRuns: 50 },
    );
  });

  test('an amplitude of nothing is a steady voltage', () => {
    const source = sourceOf(sine({ amplitude: 0 }));
    expect([source.level, source.slope, source.next.high]).toEqual([3, 0, Number.POSITIVE_INFINITY]);
  });

  test('its range is that of the lines', () => {
    const { low, high } = waveRange(sine());
    expect([low, high]).toEqual([3 - 2 * (1 + CHORD_ERROR), 3 + 2 * (1 + CHORD_ERROR)]);
  });
});

describe('a comparator on a sine', () => {
  /** TRIGGER and THRESHOLD together on a sine: limits V/3 and 2 V/3, an inverting switch with hysteresis. */
  function times(wave: Sine, until: number): { set: number[]; cleared: number[] } {
    const parts = [
      supply(6),
      timer('U1', { trigger: 'in', threshold: 'in', output: 'out' }),
      resistor('R1', 'in', 'ground', 1e6),
      signal('G1', 'in', { ...wave }, { resistance: 0 }),
    ];
    const run = storedRun(parts, until);
    const at = (kind: 'set' | 'cleared'): number[] =>
      eventsOf(run, 'U1', kind).map(({ time, timeLow }) => time + timeLow);
    return { set: at('set'), cleared: at('cleared') };
  }

  test('fires within the bound of the arcsine: |error| <= 4.7e-4 amplitude / slope', () => {
    fc.assert(
      fc.property(spread(1, 1e4), fc.double({ min: 1.3, max: 2.9, noNaN: true }), (frequency, amplitude) => {
        const wave = sine({ frequency, amplitude, offset: 3, phase: 0 });
        const turn = 2 * Math.PI * frequency;
        const { set, cleared } = times(wave, 3.2 / frequency);
        // 3 V + A sin = 4 V on the way up clears; 3 V - A sin = 2 V on the way down sets.
        const angle = Math.asin(1 / amplitude);
        const slope = turn * amplitude * Math.cos(angle);
        // The sine bends, so the slope at the limit is not quite that over the whole error: 5 % more here.
        const allowed = (1.05 * CHORD_ERROR * amplitude) / slope;
        const rises = [1, 2, 3].map((k) => (2 * Math.PI * k + angle) / turn);
        const falls = [0, 1, 2].map((k) => (2 * Math.PI * k + Math.PI + angle) / turn);
        expect(set.length).toBe(3);
        set.forEach((time, k) => expect(Math.abs(time - falls[k]!)).toBeLessThanOrEqual(allowed));
        // The latch starts cleared: the first rise that clears it is that of the second period.
        expect(cleared.length).toBe(3);
        cleared.forEach((time, k) => expect(Math.abs(time - rises[k]!)).toBeLessThanOrEqual(allowed));
      }),
      { numRuns: 40 },
    );
  });

  test('a peak that the lines do not reach is not reached, one that they pass is', () => {
    const limit = (amplitude: number): number => times(sine({ amplitude }), 0.1).set.length;
    expect(limit(1 - CHORD_ERROR - 1e-6)).toBe(0);
    expect(limit(1)).toBeGreaterThan(0);
  });
});
