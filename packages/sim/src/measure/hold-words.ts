import type { FateTally } from './fate-tally.ts';
import { countWords, rangeWords, seconds } from './range-words.ts';

/** Of pulses that were still low when an interval ran out and held the output on. */
export function holdWords(tally: FateTally): string[] {
  const { ownHolds, otherHolds, counts, pulses, openPulse } = tally;
  const said: string[] = [];
  if (ownHolds.count > 0) {
    const one = ownHolds.count === 1;
    const who = `${countWords(ownHolds.count, 'pulse')} that had started an interval ${one ? 'was' : 'were'}`;
    const toTheEnd = openPulse?.began !== undefined && openPulse.heldFor !== undefined;
    const which = one ? '' : 'the last of them ';
    const still = toTheEnd ? `, ${which}to the end of the run` : '';
    said.push(
      `${who} still low when it ran out and held the output on for ${rangeWords(ownHolds, seconds)} more${still}, because TRIGGER beats THRESHOLD.`,
    );
    const ended = pulses - (openPulse === undefined ? 0 : 1);
    if (ended > 0 && counts.started === pulses && ownHolds.count >= ended) {
      said.push(
        'Since every pulse outlasts its own interval, the output is on just while the input is low: an inverted copy of it.',
      );
    }
  }
  if (otherHolds.count > 0) {
    const many = otherHolds.count > 1;
    const who = `${countWords(otherHolds.count, 'pulse')} that had found it running ${many ? 'were' : 'was'}`;
    said.push(
      `${who} still low when it ran out and held the output on for ${rangeWords(otherHolds, seconds)} more, because TRIGGER beats THRESHOLD.`,
    );
  }
  return said;
}
