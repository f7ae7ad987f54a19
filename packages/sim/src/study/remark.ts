/**
 * What deserves a word about one set of parts:
 *
 * - `unsafe`        as joined, a part would be damaged, whatever a run does
 * - `over-limit`    in the run a part goes beyond one of its limits
 * - `supply-low`    a timer has less supply than it needs, as joined or in the run: no damage, but nothing is known of it there
 * - `never-starts`  no interval of a timer begins in the window
 * - `never-ends`    the interval that runs at the end of the window can never end, or TRIGGER holds the output on
 * - `unfinished`    the interval that runs at the end of the window is longer than the window lets it be
 * - `too-fast`      an LED flashes more often than an eye can follow
 * - `flashing`      an LED flashes so that it can set off fits
 * - `inaudible`     a loudspeaker sounds below or above what people hear, or not at all; a buzzer never sounds
 */
export type RemarkCode =
  | 'unsafe'
  | 'over-limit'
  | 'supply-low'
  | 'never-starts'
  | 'never-ends'
  | 'unfinished'
  | 'too-fast'
  | 'flashing'
  | 'inaudible';

/** One remark about a set of parts. Plain data. */
export interface Remark {
  readonly what: RemarkCode;
  /** The part it is about; empty where it is about several. */
  readonly part: string;
  /** A full sentence, or several. */
  readonly sentence: string;
}

/** Whether a remark means damage: such a set is never offered or built. */
export function isHarm({ what }: Remark): boolean {
  return what === 'unsafe' || what === 'over-limit';
}

/** Whether every part of a set stays inside its ratings, as far as it was told: only such a set is ranked. */
export function isInside(remarks: readonly Remark[]): boolean {
  return !remarks.some((remark) => isHarm(remark) || remark.what === 'supply-low');
}
