import type { FateTally } from './fate-tally.ts';
import { countWords, rangeWords, SAME, seconds } from './range-words.ts';

/** Gaps, from start to start and from pulse to pulse, that it takes to speak of a ratio. */
const FEWEST_GAPS = 3;

/** From one start to the next: how many pulses, whether always as many, and why. */
export function stepWords(tally: FateTally): string[] {
  const { steps, spacings, counts, pulses } = tally;
  if (steps.count === 0) return [];
  if (steps.low < steps.high) return [unevenWords(tally)];
  const step = steps.low;
  const even = spacings.count >= FEWEST_GAPS && spacings.within(SAME);
  const why = even ? ratioWords(tally, step) : [];
  const came = `came ${countWords(step, 'pulse')} after`;
  if (steps.count < FEWEST_GAPS) {
    // That each of a few pulses started an interval has been said.
    if (counts.started === pulses) return [];
    const which =
      steps.count === 1 ? `The second start ${came} the first.` : `Both later starts ${came} the one before.`;
    return [which, ...why];
  }
  const every = `Every start after the first ${came} the one before`;
  if (!even) {
    const apart = rangeWords(spacings, seconds);
    return [`${every}; the pulses came unevenly, ${apart} apart, so no ratio follows from that.`];
  }
  return [`${every}: the ratio is ${step} throughout.`, ...why];
}

/** Why every so many pulses make one interval. */
function ratioWords({ spans, spacings, ownHolds, otherHolds, found }: FateTally, step: number): string[] {
  const shares = [spans.low / spacings.high, spans.high / spacings.low];
  if (spans.count > 0 && spacings.within(SAME) && shares.every((share) => Math.floor(share) + 1 === step)) {
    const [least, most] = shares.map((share) => share.toPrecision(3));
    const times = least === most ? least : `${least} to ${most}`;
    const held = ownHolds.count + otherHolds.count > 0;
    const what = held ? `Each time the output stays on for ${rangeWords(spans, seconds)}, which is` : 'An interval is';
    const inside =
      step === 1 ? 'no further pulse falls' : step === 2 ? '1 further pulse falls' : `${step - 1} further pulses fall`;
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
  const numbers = `${steps.low} ${steps.high - steps.low === 1 ? 'or' : 'to'} ${steps.high}`;
  const said = `From one start to the next there were ${numbers} pulses, so the ratio is not constant`;
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
