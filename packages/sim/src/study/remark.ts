/**
 * What deserves a word about one set of parts:
 *
 * - `unsafe`        as joined, a part would be damaged, whatever a run does
 * - `over-limit`    in the run a part goes beyond one of its limits
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

/** Whether a remark means damage: such a set is never ranked, offered or built. */
export function isHarm({ what }: Remark): boolean {
  return what === 'unsafe' || what === 'over-limit';
}
