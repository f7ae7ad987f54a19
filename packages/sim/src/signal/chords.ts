import { addExactly, dividedBy, isAfter, type TwoPart } from '../core/two-part.ts';
import type { Wave } from './wave.ts';

/** A wave of the shape `sine`. */
type Sine = Wave & { readonly shape: 'sine' };

/** Straight lines that a period of a sine consists of; a multiple of 4, so that its zeros and its peaks are corners. */
export const CHORDS = 84;

/**
 * Corners lie on a sine of this many times the amplitude, a little outside of the one that is meant, so that the lines
 * are as often above it as below: its effective value is then exact (the mean square of a line from a to b is
 * (a² + a b + b²) / 3), and the mean of a half wave is right to 1e-6 (derived).
 */
export const REACH = Math.sqrt(3 / (2 + Math.cos((2 * Math.PI) / CHORDS)));

/** Largest distance of the lines from the sine, as a share of the amplitude: 4.7e-4, at the peaks (derived). */
export const CHORD_ERROR = REACH - 1;

/** Height of corner k for an amplitude of 1; by symmetry from the first quarter, so that opposite corners are opposite. */
const heights: readonly number[] = Array.from({ length: CHORDS }, (_, k) => {
  const quarter = CHORDS / 4;
  const within = k % quarter;
  const angle = 2 * Math.PI * ((Math.floor(k / quarter) % 2 === 0 ? within : quarter - within) / CHORDS);
  return (k < CHORDS / 2 ? REACH : -REACH) * Math.sin(angle);
});

/**
 * A sine as an endless table of straight lines, walked as a `Source`. Corner k lies at (k - lead) / (84 frequency), where
 * `lead` is the phase counted in lines; it is computed from k, never accumulated.
 */
export class ChordSource {
  level = 0;
  slope = 0;
  since: TwoPart = { high: 0, low: 0 };
  next: TwoPart = { high: 0, low: 0 };
  private k = 0;
  private readonly lead: number;
  readonly repeats = CHORDS;
  readonly cornersLeft = Infinity;
  /** How long each line lasts (s). */
  readonly spacing: TwoPart;

  constructor(private readonly wave: Sine) {
    const turns = wave.phase / (2 * Math.PI);
    this.lead = (turns - Math.floor(turns)) * CHORDS;
    this.spacing = dividedBy(dividedBy({ high: 1, low: 0 }, wave.frequency), CHORDS);
    this.seekTime({ high: 0, low: 0 });
  }

  get mark(): number {
    return this.k;
  }

  advance(): void {
    this.seek(this.k + 1);
  }

  seek(mark: number): void {
    const { frequency } = this.wave;
    this.k = mark;
    const here = this.heightOf(mark);
    this.level = here;
    this.slope = (this.heightOf(mark + 1) - here) * CHORDS * frequency;
    this.since = this.corner(mark);
    this.next = this.corner(mark + 1);
  }

  seekTime(time: TwoPart): void {
    // One line early, since the estimate may be off by rounding.
    this.seek(Math.max(0, Math.floor(time.high * this.wave.frequency * CHORDS + this.lead) - 1));
    while (!isAfter(this.next, time)) this.advance();
  }

  private heightOf(k: number): number {
    return this.wave.offset + this.wave.amplitude * heights[k % CHORDS]!;
  }

  private corner(k: number): TwoPart {
    return dividedBy(dividedBy(addExactly(k, -this.lead), this.wave.frequency), CHORDS);
  }
}
