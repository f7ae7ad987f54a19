import { type Source, sourceOf } from '#sim/signal/source.ts';
import type { Wave } from '#sim/signal/wave.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread } from '../../support/arbitrary-numbers.ts';
import { type BigReal, big, magnitude, ONE, over } from '../../support/big-real.ts';

type Pulses = Wave & { readonly shape: 'pulses' };
type Square = Wave & { readonly shape: 'square' };

function pulses(changes: Partial<Pulses> = {}): Pulses {
  return {
    shape: 'pulses',
    period: 0.3,
    width: 0.1,
    rest: 5,
    pulse: 1,
    delay: 0.2,
    count: Number.POSITIVE_INFINITY,
    ...changes,
  };
}

function square(changes: Partial<Square> = {}): Square {
  return { shape: 'square', frequency: 3, duty: 0.25, high: 9, low: -1, delay: 0.1, ...changes };
}

/** The value at a time that lies before the source's next corner. */
function valueOf(source: Source, time: number): number {
  return source.level + source.slope * (time - source.since.high - source.since.low);
}

/** Corner times and levels after them, as far as they come, at most `most`. */
function walk(wave: Wave, most = 20): { time: number; level: number }[] {
  const source = sourceOf(wave);
  const found = [{ time: 0, level: source.level }];
  while (found.length < most && source.next.high < Number.POSITIVE_INFINITY) {
    const time = source.next.high;
    source.advance();
    found.push({ time, level: source.level });
  }
  return found;
}

/** By how much a corner time is off, as a share of itself. */
function offBy({ high, low }: { readonly high: number; readonly low: number }, exact: BigReal): number {
  const error = magnitude(big(high) + big(low) - exact);
  return Number((error << 200n) / exact) / 2 ** 200;
}

/** Rounding of a two-part sum and product: 2^-105 each, some of them. */
const TWO_PARTS = 8 * 2 ** -105;

describe('sourceOf: constant', () => {
  test('never changes', () => {
    const source = sourceOf({ shape: 'constant', level: 3 });
    expect([source.level, source.slope, source.next.high]).toEqual([3, 0, Number.POSITIVE_INFINITY]);
  });
});

describe('sourceOf: pulses', () => {
  test('rests, pulses from delay + k period for width, and rests again', () => {
    const found = walk(pulses({ period: 0.5, width: 0.125, delay: 0.25 }), 6);
    expect(found).toEqual([
      { time: 0, level: 5 },
      { time: 0.25, level: 1 },
      { time: 0.375, level: 5 },
      { time: 0.75, level: 1 },
      { time: 0.875, level: 5 },
      { time: 1.25, level: 1 },
    ]);
  });

  test('a pulse that begins at 0 has begun', () => {
    expect(walk(pulses({ delay: 0 }), 2)).toEqual([
      { time: 0, level: 1 },
      { time: 0.1, level: 5 },
    ]);
  });

  test('ends after its count, and never begins with a count of none', () => {
    const found = walk(pulses({ count: 2, period: 0.5, width: 0.125, delay: 0.25 }));
    expect(found.map(({ time }) => time)).toEqual([0, 0.25, 0.375, 0.75, 0.875]);
    expect(walk(pulses({ count: 0 }))).toEqual([{ time: 0, level: 5 }]);
    expect(walk(pulses({ count: 0, width: 0.3 }))).toEqual([{ time: 0, level: 5 }]);
  });

  test('pulses as wide as their period are one long pulse', () => {
    expect(walk(pulses({ width: 0.5, period: 0.5, count: 3, delay: 0.25 }))).toEqual([
      { time: 0, level: 5 },
      { time: 0.25, level: 1 },
      { time: 1.75, level: 5 },
    ]);
    expect(walk(pulses({ width: 0.5, period: 0.5, delay: 0 }))).toEqual([{ time: 0, level: 1 }]);
  });

  test('pitfall P9: every edge is computed from its number, whatever the numbers', () => {
    fc.assert(
      fc.property(
        spread(1e-6, 1e3),
        spread(0.01, 0.99),
        spread(1e-9, 10),
        fc.integer({ min: 1, max: 400 }),
        (period, share, delay, k) => {
          const width = share * period;
          const source = sourceOf(pulses({ period, width, delay }));
          for (let edge = 0; edge < 2 * k; edge++) source.advance();
          const start = big(delay) + BigInt(k) * big(period);
          expect(offBy(source.next, start)).toBeLessThanOrEqual(TWO_PARTS);
          source.advance();
          expect(offBy(source.next, start + big(width))).toBeLessThanOrEqual(TWO_PARTS);
        },
      ),
    );
  });

  test('pitfall P9: ten million edges do not drift', () => {
    const wave = pulses({ period: 0.1, width: 0.03, delay: 0.7 });
    const source = sourceOf(wave);
    for (let edge = 0; edge < 10_000_000; edge++) source.advance();
    const exact = big(0.7) + 5_000_000n * big(0.1);
    expect(offBy(source.next, exact)).toBeLessThanOrEqual(TWO_PARTS);
    // The double beside it is the nearest to delay + k period, where adding up 0.1 would be off by 1e-9 or so.
    expect(source.next.high).toBe(500_000.7);
    expect(source.level).toBe(5);
  }, 30_000);
});

describe('sourceOf: square', () => {
  test('is low before its delay, then high first, for its duty', () => {
    const found = walk(square({ frequency: 2, delay: 0.25 }), 5);
    expect(found).toEqual([
      { time: 0, level: -1 },
      { time: 0.25, level: 9 },
      { time: 0.375, level: -1 },
      { time: 0.75, level: 9 },
      { time: 0.875, level: -1 },
    ]);
    expect(walk(square({ delay: 0 }), 1)).toEqual([{ time: 0, level: 9 }]);
  });

  test('every edge is k / frequency from the delay to two doubles', () => {
    fc.assert(
      fc.property(spread(1e-3, 1e7), spread(0.01, 0.99), fc.integer({ min: 1, max: 400 }), (frequency, duty, k) => {
        const source = sourceOf(square({ frequency, duty, delay: 0 }));
        // The rise at 0 is past: next is the fall at duty / frequency.
        expect(offBy(source.next, over(big(duty), big(frequency)))).toBeLessThanOrEqual(TWO_PARTS);
        for (let edge = 0; edge < 2 * k - 1; edge++) source.advance();
        expect(offBy(source.next, over(BigInt(k) * ONE, big(frequency)))).toBeLessThanOrEqual(TWO_PARTS);
        source.advance();
        expect(offBy(source.next, over(BigInt(k) * ONE + big(duty), big(frequency)))).toBeLessThanOrEqual(TWO_PARTS);
      }),
    );
  });
});

describe('sourceOf: points', () => {
  test('steps hold each value until the next point', () => {
    const wave: Wave = {
      shape: 'points',
      between: 'steps',
      points: [
        [1, 4],
        [2, 6],
        [5, 0],
      ],
    };
    expect(walk(wave)).toEqual([
      { time: 0, level: 4 },
      { time: 1, level: 4 },
      { time: 2, level: 6 },
      { time: 5, level: 0 },
    ]);
    expect(sourceOf(wave).slope).toBe(0);
  });

  test('lines join the points; first and last value hold outside', () => {
    const source = sourceOf({
      shape: 'points',
      between: 'lines',
      points: [
        [1, 4],
        [3, 8],
      ],
    });
    expect([source.level, source.slope, source.next.high]).toEqual([4, 0, 1]);
    source.advance();
    expect([source.level, source.slope, source.since.high, source.next.high]).toEqual([4, 2, 1, 3]);
    expect(valueOf(source, 2.5)).toBe(7);
    source.advance();
    expect([source.level, source.slope, source.next.high]).toEqual([8, 0, Number.POSITIVE_INFINITY]);
  });

  test('two points at one time make a jump, in steps and in lines', () => {
    for (const between of ['lines', 'steps'] as const) {
      const source = sourceOf({
        shape: 'points',
        between,
        points: [
          [1, 4],
          [1, 7],
          [2, 7],
        ],
      });
      expect(source.level).toBe(4);
      source.advance();
      // Both corners are at 1 s: the run passes them without time between.
      expect(source.next.high).toBe(1);
      source.advance();
      expect([source.level, source.slope]).toEqual([7, 0]);
    }
  });

  test('what lies before 0 has happened: a line is taken up where it stands at 0', () => {
    const source = sourceOf({
      shape: 'points',
      between: 'lines',
      points: [
        [-2, 0],
        [2, 8],
      ],
    });
    expect([valueOf(source, 0), source.slope, source.next.high]).toEqual([4, 2, 2]);
  });

  test('a point at 0 counts at once', () => {
    expect(
      sourceOf({
        shape: 'points',
        between: 'steps',
        points: [
          [0, 3],
          [1, 5],
        ],
      }).level,
    ).toBe(3);
    expect(
      sourceOf({
        shape: 'points',
        between: 'steps',
        points: [
          [0, 3],
          [0, 5],
        ],
      }).level,
    ).toBe(5);
    expect(
      sourceOf({
        shape: 'points',
        between: 'lines',
        points: [
          [0, 3],
          [1, 5],
        ],
      }).slope,
    ).toBe(2);
  });
});

describe('sourceOf: going to a corner without walking there', () => {
  const waves: fc.Arbitrary<Wave> = fc.oneof(
    fc
      .record({
        period: spread(1e-3, 1),
        share: spread(0.01, 1),
        delay: fc.oneof(fc.constant(0), spread(1e-3, 1)),
        count: fc.oneof(fc.constant(Number.POSITIVE_INFINITY), fc.integer({ min: 0, max: 5 })),
      })
      .map(({ period, share, delay, count }) => pulses({ period, width: share * period, delay, count })),
    fc
      .record({ frequency: spread(1, 1e3), duty: spread(0.01, 0.99), delay: spread(1e-3, 1) })
      .map((fields) => square(fields)),
    fc
      .record({
        steps: fc.array(fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: -9, max: 9 })), {
          minLength: 1,
          maxLength: 6,
        }),
        between: fc.constantFrom('lines', 'steps'),
      })
      .map(({ steps, between }): Wave => {
        let time = -3;
        return { shape: 'points', between, points: steps.map(([by, value]) => [(time += by), value] as const) };
      }),
  );

  function standingOf({ level, slope, since, next, mark }: Source): unknown[] {
    return [level, slope, since.high, since.low, next.high, next.low, mark];
  }

  test('seek(mark) stands where walking stood', () => {
    fc.assert(
      fc.property(waves, fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 12 }), (wave, far, elsewhere) => {
        const walked = sourceOf(wave);
        for (let k = 0; k < far && walked.next.high < Number.POSITIVE_INFINITY; k++) walked.advance();
        const sought = sourceOf(wave);
        for (let k = 0; k < elsewhere && sought.next.high < Number.POSITIVE_INFINITY; k++) sought.advance();
        sought.seek(walked.mark);
        expect(standingOf(sought)).toEqual(standingOf(walked));
      }),
    );
  });

  test('seekTime(time) stands past all corners up to the time, forwards and back', () => {
    fc.assert(
      fc.property(waves, spread(1e-4, 10), spread(1e-4, 10), (wave, time, elsewhere) => {
        const walked = sourceOf(wave);
        while (walked.next.high <= time) walked.advance();
        const sought = sourceOf(wave);
        sought.seekTime({ high: elsewhere, low: 0 });
        sought.seekTime({ high: time, low: 0 });
        expect(standingOf(sought)).toEqual(standingOf(walked));
      }),
    );
  });
});
