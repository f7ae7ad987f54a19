import type { Beat } from '../signal/beat.ts';

/**
 * The clock of a run on the short way, and the beat of its input. Times count from the beginning of the input's present stretch,
 * or from where the state last came under another law, so that nothing accumulates and what coincides at one stretch does at
 * every other.
 */
export class BeatClock {
  beat: Beat | undefined;
  /** End of the run (s from 0), and what is left until then from where times count. */
  until = 0.5;
  left = 0.5;
  /** Now, and when the input goes to its other level next; Infinity when it does no more. */
  now = 0.5;
  corner = Infinity;
  /** Whether the input is raised, and the number of its present stretch; -1 before the first. */
  raised = false;
  stretch = -1;
  /** Where times count from (s from 0), in two parts. */
  base = 0.5;
  private baseLow = 0.5;
  /** By how much the clock was set back last where there is no beat (s). */
  passed = 0.5;

  /** Begins at 0. */
  begin(beat: Beat | undefined, until: number): void {
    const delay = beat ? beat.delay : 0;
    this.beat = beat;
    this.until = until;
    this.baseLow = 0;
    this.passed = 0;
    this.now = -delay;
    this.raised = beat !== undefined && delay === 0 && beat.count > 0;
    this.stretch = this.raised ? 0 : -1;
    this.corner = this.raised ? beat!.width : beat && beat.count > 0 ? 0 : Infinity;
    this.base = delay;
    this.left = until - delay;
  }

  /** Takes the input to its other level; true where another stretch than the first begins, from which times count now. */
  turn(): boolean {
    const { beat } = this;
    this.raised = !this.raised;
    if (!this.raised) {
      this.corner = this.stretch + 1 < beat!.count ? beat!.period : Infinity;
      return false;
    }
    this.corner = beat!.width;
    this.stretch++;
    if (this.stretch === 0) return false;
    this.now = 0;
    this.passOver(0);
    return true;
  }

  /** Passes over so many stretches. */
  passOver(stretches: number): void {
    this.stretch += stretches;
    this.base = this.start(0);
    this.left = this.until - this.base;
  }

  /** When a stretch after the present one begins (s from 0); without a beat, where times count from. */
  start(later: number): number {
    const { beat } = this;
    return beat === undefined ? this.base : beat.delay + (this.stretch + later) * beat.period;
  }

  /** Counts from now on, where there is no beat to count from. Dates are sums of two parts. */
  countFromNow(): void {
    this.passed = this.now;
    this.now = 0;
    this.pass();
  }

  private pass(): void {
    const step = this.passed + this.baseLow;
    const sum = this.base + step;
    this.baseLow = step - (sum - this.base);
    this.base = sum;
    this.left = this.until - sum - this.baseLow;
  }

  /** Whether a turn is over before the run is. */
  hasTimeFor({ stretches, length }: Length): boolean {
    const { beat } = this;
    if (beat === undefined) return length < this.left && this.base + length < this.until;
    // With one stretch to spare, for what rounding does to dates at the end.
    return this.hasStretchesFor(stretches) && this.start(stretches + 1) < this.until;
  }

  /** Whether the beat has so many stretches left, and one more; not where there is no beat. */
  hasStretchesFor(stretches: number): boolean {
    return this.beat !== undefined && this.stretch + stretches + 1 < this.beat.count;
  }

  /** How many times so many stretches are over before the run is. */
  timesFor(stretches: number): number {
    const { count, period } = this.beat!;
    const time = (this.until - this.start(1)) / period;
    return Math.floor(Math.min(time - 1, count - this.stretch - 2) / stretches);
  }

  /** Passes over a turn. */
  passTurn({ stretches, length }: Length): void {
    if (this.beat === undefined) {
      this.passed = length;
      this.pass();
    } else this.passOver(stretches);
  }
}

/** How long a turn is: so many stretches of the beat, or without one so long (s). */
interface Length {
  readonly stretches: number;
  readonly length: number;
}
