import { seededRandom } from '../core/random.ts';
import type { Press } from './contact.ts';

/** How a contact bounces: for how long after each change (s) at most, and the seed of its random times. */
export interface Bounce {
  readonly for: number;
  readonly seed: number;
}

/** Changes of a contact: times (s, ascending) at which it goes to its other position (`pressed`) or back. */
export interface ContactChange {
  readonly at: number;
  readonly pressed: boolean;
}

/** Most extra openings after one change; bench pictures of small buttons show a handful (common practice, no source). */
const MOST_REBOUNDS = 5;

/**
 * When a contact with the given presses opens and closes. With bounce, every press and every release is followed by one
 * to five short returns at random times; they end before the next change is due, so that the presses keep their order.
 * The same seed gives the same times.
 */
export function contactChanges(presses: readonly Press[], bounce?: Bounce): ContactChange[] {
  const plain = presses.flatMap((press) => [
    { at: press.at, pressed: true },
    { at: press.at + press.for, pressed: false },
  ]);
  if (bounce === undefined) return plain;
  const random = seededRandom(bounce.seed);
  return plain.flatMap((change, index) => {
    const room = (plain[index + 1]?.at ?? Infinity) - change.at;
    const rebounds = 1 + Math.floor(random.next() * MOST_REBOUNDS);
    const spread = Math.min(bounce.for, room / 2);
    const times = Array.from({ length: 2 * rebounds }, () => change.at + spread * random.next()).sort((a, b) => a - b);
    return [change, ...times.map((at, k) => ({ at, pressed: k % 2 === 0 ? !change.pressed : change.pressed }))];
  });
}
