import type { FateTally } from './fate-tally.ts';
import { countWords, rangeWords, SAME, seconds } from './range-words.ts';

/** From one start to the next: how many pulses, whether always as many, and why. */
export function stepWords(tally: FateTally): string[] {
  const { steps } = tally;
  if (steps.count === 0) return [];
  if (steps.low < steps.high) return [unevenWords(tally)];
  const step = steps.low;
  const said = `Every start came ${countWords(step, 'pulse')} after the one before: the ratio is ${step} throughout.`;
  return [said, ...ratioWords(tally, step)];
}

/** Why every so many pulses make one interval. */
function ratioWords({ spans, spacings, ownHolds, otherHolds, found }: FateTally, step: number): string[] {
  const shares = [spans.low / spacings.high, spans.high / spacings.low];
  if (spans.count > 0 && spacings.within(SAME) && shares.every((share) => Math.floor(share) + 1 === step)) {
    const [least, most] = shares.map((share) => share.toPrecision(3));
    const times = least === most ? least : `${least} to ${most}`;
    const held = ownHolds.count + otherHolds.count > 0;
    const what = held ? `Each time the output stays on for ${rangeWords(spans, seconds)}, which is` : 'An interval is';
    const inside = step === 1 ? 'none falls' : step === 2 ? '1 further pulse falls' : `${step - 1} further pulses fall`;
    return [
      `${what} ${times} times the ${seconds(spacings.low)} from pulse to pulse, so ${inside} inside it and the next one starts an interval again.`,
    ];
  }
  if (found.count > 0 && found.low === found.high && found.low === step - 1 && step > 1) {
    return [`In each interval ${countWords(step - 1, 'further pulse')} found it running.`];
  }
  return [];
}

/** Why the number of pulses from start to start is not always the same. */
function unevenWords({ steps, spacings, spans, counts, cutByReset }: FateTally): string {
  const said = `From one start to the next there were ${steps.low} to ${steps.high} pulses, so the ratio is not constant`;
  if (counts.barred + cutByReset > 0) return `${said}: RESET stepped in between.`;
  const apart = `${rangeWords(spacings, seconds)} apart`;
  const even = spacings.within(SAME);
  const alike = spans.within(SAME);
  if (even && alike) return `${said}.`;
  if (alike) return `${said}: the output stayed on equally long each time, but the pulses came ${apart}.`;
  const spread = `the output stayed on for ${rangeWords(spans, seconds)} at a time`;
  return even
    ? `${said}: the pulses came evenly, ${apart}, but ${spread}.`
    : `${said}: the pulses came ${apart}, and ${spread}.`;
}
