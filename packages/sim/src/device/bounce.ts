import { type RandomSource, seededRandom } from '../core/random.ts';
import type { Press } from './contact.ts';

/** How a contact bounces: for how long after each change (s) at most, and the seed of its random times. */
export interface Bounce {
  readonly for: number;
  readonly seed: number;
}

/** A change of a contact: the time (s) at which it goes to its other position (`pressed`) or back. */
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
    return [change, ...rebounds(change, Math.min(bounce.for, room / 2), random)];
  });
}

/**
 * The returns that follow the change number `index` (from 0) of a contact that a hand works. They are those of the same
 * changes in a timetable, as long as each comes later than twice the bounce; when the hand changes its mind sooner is not
 * known yet.
 */
export function reboundsByHand(change: ContactChange, index: number, bounce: Bounce): ContactChange[] {
  const random = seededRandom(bounce.seed);
  for (let earlier = 0; earlier < index; earlier++) rebounds(change, bounce.for, random);
  return rebounds(change, bounce.for, random);
}

function rebounds(change: ContactChange, spread: number, random: RandomSource): ContactChange[] {
  const count = 1 + Math.floor(random.next() * MOST_REBOUNDS);
  const times = Array.from({ length: 2 * count }, () => change.at + spread * random.next()).sort((a, b) => a - b);
  return times.map((at, k) => ({ at, pressed: k % 2 === 0 ? !change.pressed : change.pressed }));
}
