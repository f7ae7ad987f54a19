import {
  addExactly,
  addTwoPart,
  dividedBy,
  isAfter,
  multiplyExactly,
  subtractTwoPart,
  type TwoPart,
} from '../core/two-part.ts';
import { ChordSource } from './chords.ts';
import type { Wave } from './wave.ts';

/**
 * A wave walked from corner to corner.
 *
 * 1. After construction the source stands at time 0, past all corners at or before 0.
 * 2. Between corners its value is `level + slope (t - since)`; `slope` is 0 but for ramps, and `since` the date of the corner
 *    last passed, once there is one.
 * 3. `next` is the time of the next corner, exactly as the wave's own numbers give it (corner k is computed from k,
 *    never accumulated); `high` is Infinity when there is none. `spacing` is how long after the corner last passed it
 *    comes: for waves that repeat the same bits at every repetition.
 * 4. `advance()` steps past that corner.
 * 5. `mark` is a whole number that tells the corner last passed; `seek(mark)` goes there on a source of the same wave.
 * 6. `seekTime(time)` goes to the last corner at or before a time, forwards or back, without walking there.
 * 7. A wave that repeats itself does so every `repeats` corners, for `cornersLeft` corners more; `repeats` is 0 for others.
 */
export interface Source {
  readonly level: number;
  readonly slope: number;
  readonly since: TwoPart;
  readonly next: TwoPart;
  readonly spacing: TwoPart;
  readonly mark: number;
  readonly repeats: number;
  readonly cornersLeft: number;
  advance(): void;
  seek(mark: number): void;
  seekTime(time: TwoPart): void;
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
        return new AlternatingSource(
          wave.rest,
          wave.pulse,
          Math.min(wave.count, 1),
          () => 0,
          () => [
            { high: wave.delay, low: 0 },
            wave.count === Infinity ? NEVER : addTwoPart({ high: wave.delay, low: 0 }, end),
          ],
          [wave.count === Infinity ? NEVER : end, NEVER],
        );
      }
      return new AlternatingSource(
        wave.rest,
        wave.pulse,
        wave.count,
        (time) => (time - wave.delay) / wave.period,
        (k) => {
          const start = addTwoPart({ high: wave.delay, low: 0 }, multiplyExactly(k, wave.period));
          return [start, addTwoPart(start, { high: wave.width, low: 0 })];
        },
        [{ high: wave.width, low: 0 }, addExactly(wave.period, -wave.width)],
      );
    case 'square':
      return new AlternatingSource(
        wave.low,
        wave.high,
        Infinity,
        (time) => (time - wave.delay) * wave.frequency,
        (k) => [
          addTwoPart({ high: wave.delay, low: 0 }, dividedBy({ high: k, low: 0 }, wave.frequency)),
          addTwoPart({ high: wave.delay, low: 0 }, dividedBy(addExactly(k, wave.duty), wave.frequency)),
        ],
        [dividedBy({ high: wave.duty, low: 0 }, wave.frequency), dividedBy(addExactly(1, -wave.duty), wave.frequency)],
      );
    case 'sine':
      return wave.amplitude === 0 ? new ConstantSource(wave.offset) : new ChordSource(wave);
    case 'points':
      return new PointsSource(wave.points, wave.between);
  }
}

class ConstantSource implements Source {
  readonly slope = 0;
  readonly since: TwoPart = { high: 0, low: 0 };
  readonly next = NEVER;
  readonly spacing = NEVER;
  readonly mark = 0;
  readonly repeats = 0;
  readonly cornersLeft = 0;
  constructor(readonly level: number) {}
  advance(): void {}
  seek(): void {}
  seekTime(): void {}
}

/** Rests at one level and goes to another for stretch after stretch. */
class AlternatingSource implements Source {
  level: number;
  readonly slope = 0;
  readonly repeats = 2;
  next: TwoPart;
  private k = 0;
  private active = false;
  private stretch: readonly [TwoPart, TwoPart];

  constructor(
    private readonly rest: number,
    private readonly raised: number,
    private readonly count: number,
    /** About which stretch a time (s) falls into. */
    private readonly stretchNear: (time: number) => number,
    private readonly stretchOf: (k: number) => readonly [TwoPart, TwoPart],
    /** How long it is raised, and how long it rests in between (s). */
    private readonly spacings: readonly [raised: TwoPart, resting: TwoPart],
  ) {
    this.level = rest;
    this.stretch = stretchOf(0);
    this.next = count > 0 ? this.stretch[0] : NEVER;
    this.walkTo({ high: 0, low: 0 });
  }

  get mark(): number {
    return 2 * this.k + (this.active ? 1 : 0);
  }

  get cornersLeft(): number {
    return 2 * this.count - this.mark;
  }

  get since(): TwoPart {
    if (this.mark === 0) return { high: 0, low: 0 };
    return this.active ? this.stretch[0] : this.stretchOf(this.k - 1)[1];
  }

  get spacing(): TwoPart {
    return this.next.high === Infinity ? NEVER : this.spacings[this.active ? 0 : 1];
  }

  seek(mark: number): void {
    this.k = Math.floor(mark / 2);
    this.active = mark % 2 === 1;
    this.level = this.active ? this.raised : this.rest;
    this.stretch = this.stretchOf(this.k);
    this.next = this.k < this.count ? this.stretch[this.active ? 1 : 0] : NEVER;
  }

  seekTime(time: TwoPart): void {
    // One stretch early, since the estimate may be off by rounding.
    const k = Math.floor(this.stretchNear(time.high)) - 1;
    this.seek(2 * Math.max(0, Math.min(k, this.count)));
    this.walkTo(time);
  }

  private walkTo(time: TwoPart): void {
    while (!isAfter(this.next, time)) this.advance();
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
  readonly repeats = 0;
  readonly cornersLeft = 0;
  next: TwoPart = NEVER;
  private index = -1;

  constructor(
    private readonly points: readonly (readonly [number, number])[],
    private readonly between: 'lines' | 'steps',
  ) {
    this.level = points[0]![1];
    this.seekTime({ high: 0, low: 0 });
  }

  get mark(): number {
    return this.index;
  }

  get spacing(): TwoPart {
    return this.next.high === Infinity ? NEVER : subtractTwoPart(this.next, this.since);
  }

  advance(): void {
    this.index++;
    this.settle();
  }

  seek(mark: number): void {
    this.index = mark;
    this.settle();
  }

  seekTime(time: TwoPart): void {
    this.seek(-1);
    while (!isAfter(this.next, time)) this.advance();
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
