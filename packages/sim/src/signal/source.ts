import { addExactly, addTwoPart, multiplyExactly, type TwoPart } from '../core/two-part.ts';
import type { Wave } from './wave.ts';

/**
 * A wave walked from corner to corner.
 *
 * 1. After construction the source stands at time 0, past all corners at or before 0.
 * 2. Between corners its value is `level + slope (t - since)`; `slope` is 0 but for ramps.
 * 3. `next` is the time of the next corner, exactly as the wave's own numbers give it (corner k is computed from k,
 *    never accumulated); `high` is Infinity when there is none.
 * 4. `advance()` steps past that corner.
 */
export interface Source {
  readonly level: number;
  readonly slope: number;
  readonly since: TwoPart;
  readonly next: TwoPart;
  advance(): void;
}

const NEVER: TwoPart = { high: Infinity, low: 0 };

/** A source at time 0 that follows the wave. */
export function sourceOf(wave: Wave): Source {
  switch (wave.shape) {
    case 'constant':
      return new ConstantSource(wave.level);
    case 'pulses':
      // Pulses as wide as their period touch: they are one.
      if (wave.width >= wave.period) {
        const end = multiplyExactly(wave.count, wave.period);
        return new AlternatingSource(wave.rest, wave.pulse, Math.min(wave.count, 1), () => [
          { high: wave.delay, low: 0 },
          wave.count === Infinity ? NEVER : addTwoPart({ high: wave.delay, low: 0 }, end),
        ]);
      }
      return new AlternatingSource(wave.rest, wave.pulse, wave.count, (k) => {
        const start = addTwoPart({ high: wave.delay, low: 0 }, multiplyExactly(k, wave.period));
        return [start, addTwoPart(start, { high: wave.width, low: 0 })];
      });
    case 'square':
      return new AlternatingSource(wave.low, wave.high, Infinity, (k) => [
        addTwoPart({ high: wave.delay, low: 0 }, quotient(k, 0, wave.frequency)),
        addTwoPart({ high: wave.delay, low: 0 }, quotient(k, wave.duty, wave.frequency)),
      ]);
    case 'points':
      return new PointsSource(wave.points, wave.between);
  }
}

/** (k + part) / divisor to two parts. */
function quotient(k: number, part: number, divisor: number): TwoPart {
  const numerator = addExactly(k, part);
  const high = numerator.high / divisor;
  const product = multiplyExactly(high, divisor);
  return addExactly(high, (numerator.high - product.high - product.low + numerator.low) / divisor);
}

class ConstantSource implements Source {
  readonly slope = 0;
  readonly since: TwoPart = { high: 0, low: 0 };
  readonly next = NEVER;
  constructor(readonly level: number) {}
  advance(): void {}
}

/** Rests at one level and goes to another for stretch after stretch. */
class AlternatingSource implements Source {
  level: number;
  readonly slope = 0;
  readonly since: TwoPart = { high: 0, low: 0 };
  next: TwoPart;
  private k = 0;
  private active = false;
  private stretch: readonly [TwoPart, TwoPart];

  constructor(
    private readonly rest: number,
    private readonly raised: number,
    private readonly count: number,
    private readonly stretchOf: (k: number) => readonly [TwoPart, TwoPart],
  ) {
    this.level = rest;
    this.stretch = stretchOf(0);
    this.next = count > 0 ? this.stretch[0] : NEVER;
    while (this.next.high <= 0) this.advance();
  }

  advance(): void {
    if (this.active) {
      this.active = false;
      this.level = this.rest;
      this.k++;
      if (this.k < this.count) {
        this.stretch = this.stretchOf(this.k);
        this.next = this.stretch[0];
      } else this.next = NEVER;
    } else {
      this.active = true;
      this.level = this.raised;
      this.next = this.stretch[1];
    }
  }
}

/** Straight lines or steps between listed points. */
class PointsSource implements Source {
  level = 0;
  slope = 0;
  since: TwoPart = { high: 0, low: 0 };
  next: TwoPart = NEVER;
  private index = -1;

  constructor(
    private readonly points: readonly (readonly [number, number])[],
    private readonly between: 'lines' | 'steps',
  ) {
    this.level = points[0]![1];
    this.settle();
    while (this.next.high <= 0) this.advance();
  }

  advance(): void {
    this.index++;
    this.settle();
  }

  /** Takes up the piece that starts at point `index`; -1 is the time before the first point. */
  private settle(): void {
    const { points, index } = this;
    const here = points[Math.max(index, 0)]!;
    const following = points[index + 1];
    this.level = here[1];
    this.slope = 0;
    this.since = { high: here[0], low: 0 };
    if (!following) {
      this.next = NEVER;
      return;
    }
    this.next = { high: following[0], low: 0 };
    if (index >= 0 && this.between === 'lines' && following[0] > here[0]) {
      this.slope = (following[1] - here[1]) / (following[0] - here[0]);
    }
  }
}
