import type { Path } from '../edit/path.ts';

/** What a value inside a structured field is, in words: `period`, `presses 2 at`, `point 3 voltage`. */
export function innerTitle(steps: Path): string {
  const point = pointOf(steps);
  if (point !== undefined) return `point ${point.number} ${point.axis}`;
  return steps.map((step) => (typeof step === 'number' ? String(step + 1) : step)).join(' ');
}

/**
 * The word before a value inside a structured field, where the values stand one after the other: `period`; in lists
 * `1. at` and `for`; for a wave given by points `1.` and an arrow between time and voltage.
 *
 * @param isFirst whether it is the first value of its list entry.
 */
export function innerWord(steps: Path, isFirst: boolean): string {
  const point = pointOf(steps);
  if (point !== undefined) return point.axis === 'time' ? `${point.number}.` : '→';
  const word = String(steps.at(-1) ?? '');
  const entry = steps.at(-2);
  return typeof entry === 'number' && isFirst ? `${entry + 1}. ${word}` : word;
}

function pointOf(steps: Path): { readonly number: number; readonly axis: 'time' | 'voltage' } | undefined {
  const [list, entry, side] = steps.slice(-3);
  if (list !== 'points' || typeof entry !== 'number') return undefined;
  return { number: entry + 1, axis: side === 0 ? 'time' : 'voltage' };
}
