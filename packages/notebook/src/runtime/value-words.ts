import { fieldWords, placeWords } from '@two-thirds/sim/quantity';
import type { Path } from '../edit/path.ts';

/** The word for infinity in a value that may have no limit, by the steps from its part. */
export function limitlessWord(steps: Path): string {
  if (steps[0] === 'with') return 'unlimited';
  return steps.at(-1) === 'count' ? 'endless' : 'none';
}

/**
 * The word before a value inside a structured field, where the values stand one after the other: `period`; in lists
 * `1. at` and `for`; for a wave given by points `1.` and an arrow between time and voltage.
 *
 * @param isFirst whether it is the first value of its list entry.
 */
export function innerWord(steps: Path, isFirst: boolean): string {
  if (steps[0] === 'bounce') return placeWords(steps);
  const point = pointOf(steps);
  if (point !== undefined) return point.axis === 'time' ? `${point.number}.` : '→';
  const word = fieldWords(String(steps.at(-1) ?? ''));
  const entry = steps.at(-2);
  return typeof entry === 'number' && isFirst ? `${entry + 1}. ${word}` : word;
}

function pointOf(steps: Path): { readonly number: number; readonly axis: 'time' | 'voltage' } | undefined {
  const [list, entry, side] = steps.slice(-3);
  if (list !== 'points' || typeof entry !== 'number') return undefined;
  return { number: entry + 1, axis: side === 0 ? 'time' : 'voltage' };
}
