import type { Fate, PulseRow } from '../document/index.ts';
import type { Plot } from './bars.ts';
import { pixel, type Scale } from './scale.ts';

/** What each fate means, in the order they are listed. */
export const fateWords: Readonly<Record<Fate, string>> = {
  started: 'started an interval',
  held: 'held the output on',
  ignored: 'ignored, interval running',
  short: 'too short to act',
  barred: 'barred by reset',
};

/** Every fate, in the order they are listed. */
export const fates = Object.keys(fateWords) as readonly Fate[];

/** An input pulse, or several alike that lie too close to be told apart, as a mark. */
export interface FateMark {
  readonly fate: Fate;
  /** Pixels. */
  readonly x: number;
  readonly width: number;
  /** Pulses it stands for. */
  readonly count: number;
  /** Position of the first of them in the list of pulses. */
  readonly first: number;
}

/** Narrowest mark (pixels) whose shape and fill can still be told. */
const NARROWEST = 5;
/** Marks alike that leave less room than this between them become one (pixels). */
const CLOSEST = 2;

/**
 * The marks of input pulses. A pulse is drawn as wide as it lasts, but never narrower than can be seen; neighbours of
 * the same fate that would run together become one mark with a count. Starting pulses are never joined unless they
 * cover each other, for each has an output pulse of its own.
 *
 * @param until the end of the window, where pulses still open are cut off.
 * @param plot marks outside are left out, those at its edges cut off.
 */
export function fateMarks(
  pulses: readonly PulseRow[],
  x: Scale,
  until: number,
  plot: Plot = { left: -Infinity, right: Infinity },
): FateMark[] {
  const marks: { -readonly [Field in keyof FateMark]: FateMark[Field] }[] = [];
  let last: (typeof marks)[number] | undefined;
  pulses.forEach(({ fate, time, end: ends }, index) => {
    const [from, to] = [x(time), x(ends ?? until)];
    if (to < plot.left || from > plot.right) return;
    const start = Math.max(plot.left, from);
    const end = Math.max(Math.min(plot.right, to), start + NARROWEST);
    const room = fate === 'started' ? 0 : CLOSEST;
    if (last?.fate === fate && start < last.x + last.width + room) {
      last.width = pixel(end - last.x);
      last.count += 1;
    } else {
      last = { fate, x: pixel(start), width: pixel(end - start), count: 1, first: index };
      marks.push(last);
    }
  });
  return marks;
}
