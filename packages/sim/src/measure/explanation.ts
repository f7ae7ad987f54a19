import { formatQuantity } from '../quantity/index.ts';
import type { TimerFacts, Window } from './context.ts';
import { type FateTally, NEAR_ZERO } from './fate-tally.ts';
import type { Range } from './range.ts';
import { windowWords } from './reason-words.ts';
import type { Fate } from './rows.ts';

/** Lengths that agree to this share are spoken of as one. */
const SAME = 1e-6;

const seconds = (value: number): string => formatQuantity(value, 's');
const volts = (value: number): string => formatQuantity(value, 'V');

/** `351 ms`, or `300 ms to 351 ms` where the values differ. */
function rangeWords({ low, high }: Range, words: (value: number) => string): string {
  return words(low) === words(high) ? words(low) : `${words(low)} to ${words(high)}`;
}

function countWords(count: number, one: string, many = `${one}s`): string {
  return count === 1 ? `1 ${one}` : `${count} ${many}`;
}

/**
 * A short paragraph that explains the pattern of fates with the run's own numbers. Every sentence is said only where the
 * gathered facts bear it out.
 *
 * @param latest THRESHOLD and its limit (V) when the latch was last seen set.
 */
export function explain(
  tally: FateTally,
  timer: TimerFacts,
  window: Window,
  latest: { readonly threshold: number; readonly limit: number } | undefined,
): string {
  if (tally.pulses === 0) {
    const none = `No input pulse came ${windowWords(window)}: ${timer.trigger} never fell below the trigger reference of ${timer.name}.`;
    return [none, ...stuckWords(tally, timer, window, latest)].join(' ');
  }
  const selfTriggered = timer.trigger === timer.threshold;
  return [
    fatesWords(tally, window),
    ...(selfTriggered ? selfWords(tally, timer) : [...lengthWords(tally), ...startWords(tally), ...stepWords(tally)]),
    ...holdWords(tally),
    ...shortWords(tally, timer),
    ...resetWords(tally),
    ...stuckWords(tally, timer, window, latest),
  ].join(' ');
}

/** How many pulses met which fate. */
function fatesWords({ pulses, counts }: FateTally, window: Window): string {
  const words: Record<Fate, string> = {
    started: 'started an interval',
    held: 'found it running and held the output on past its end',
    ignored: 'found it running and were ignored',
    short: 'were too short to act',
    barred: 'were barred by RESET',
  };
  const all = (Object.keys(words) as Fate[]).filter((fate) => counts[fate] > 0);
  const came = `${countWords(pulses, 'input pulse')} came ${windowWords(window)}`;
  if (all.length === 1) {
    const fate = all[0]!;
    const each = pulses === 1 ? 'and' : 'and each';
    const verb = {
      ...words,
      ignored: 'found it running and was ignored',
      short: 'was too short to act',
      barred: 'was barred by RESET',
    };
    return `${came}, ${each} ${verb[fate].replace(/\bit running/, 'an interval running')}.`;
  }
  const parts = all.map(
    (fate) => `${counts[fate]} ${counts[fate] === 1 ? words[fate].replace('were', 'was') : words[fate]}`,
  );
  return `${came}: ${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}.`;
}

/** A timer whose TRIGGER and THRESHOLD share a net starts itself. */
function selfWords(tally: FateTally, timer: TimerFacts): string[] {
  const { later, laterVoltages, firstLength, firstStart, counts } = tally;
  if (counts.started === 0) return [];
  const said = [
    `TRIGGER and THRESHOLD share the net ${timer.trigger}, so ${timer.name} starts itself whenever that net has fallen to the trigger reference.`,
  ];
  if (later.count > 0)
    said.push(
      `The intervals lasted ${rangeWords(later, seconds)}, from ${rangeWords(laterVoltages, volts)} at ${timer.threshold} up to the limit.`,
    );
  if (firstLength !== undefined && firstStart !== undefined) {
    const longer = later.count > 0 && firstLength > later.high * (1 + SAME) && firstStart < tally.laterStarts.low;
    if (longer) said.push(`The first lasted ${seconds(firstLength)}, longer because it began from a lower voltage.`);
    else if (later.count === 0) said.push(`The first lasted ${seconds(firstLength)}.`);
  }
  return said;
}

/** How long the intervals lasted. */
function lengthWords({ lengths }: FateTally): string[] {
  if (lengths.count === 0) return [];
  if (lengths.count === 1) return [`The interval lasted ${seconds(lengths.low)}.`];
  if (lengths.within(SAME)) return [`Each of the ${lengths.count} complete intervals lasted ${seconds(lengths.low)}.`];
  return [`The ${lengths.count} complete intervals lasted ${rangeWords(lengths, seconds)}.`];
}

/** Intervals that began before the capacitor was empty. */
function startWords(tally: FateTally): string[] {
  const { laterStarts, laterVoltages, later, firstLength, firstStart } = tally;
  if (laterStarts.count === 0 || laterStarts.high <= NEAR_ZERO) return [];
  const from = rangeWords(laterVoltages, volts);
  const shorter =
    firstStart !== undefined &&
    firstLength !== undefined &&
    firstStart < laterStarts.low &&
    later.count > 0 &&
    later.high < firstLength * (1 - SAME);
  if (shorter)
    return [
      `All but the first began with THRESHOLD still at ${from}: it had had no time to fall back, so they were shorter.`,
    ];
  return [`THRESHOLD had had no time to fall back to 0 V before later intervals began; it stood at ${from} then.`];
}

/** From one start to the next: how many pulses, whether always as many, and why. */
function stepWords(tally: FateTally): string[] {
  const { steps, spacings, lengths, found, otherHolds, ownHolds } = tally;
  if (steps.count === 0) return [];
  const even = spacings.within(SAME);
  if (steps.low === steps.high) {
    const step = steps.low;
    if (step === 1)
      return otherHolds.count === 0 && found.high === 0
        ? [
            'Every pulse came after the interval before it had ended, so every one starts its own: the ratio is 1 throughout.',
          ]
        : ['Every start came 1 pulse after the one before: the ratio is 1 throughout.'];
    const said = [`Every start came ${step} pulses after the one before: the ratio is ${step} throughout.`];
    const share = lengths.within(SAME) ? lengths.low / spacings.low : Number.NaN;
    if (even && otherHolds.count === 0 && ownHolds.count === 0 && Math.floor(share) + 1 === step) {
      said.push(
        `An interval is ${share.toPrecision(3)} times the ${seconds(spacings.low)} from pulse to pulse, so ${countWords(step - 1, 'pulse')} fall${step === 2 ? 's' : ''} inside it and number ${step} starts the next.`,
      );
    } else if (found.count > 0 && found.low === found.high && found.low === step - 1) {
      said.push(`In each interval ${countWords(step - 1, 'further pulse')} found it running.`);
    }
    return said;
  }
  const said = `From one start to the next there were ${steps.low} to ${steps.high} pulses, so the ratio is not constant`;
  if (!even && lengths.within(SAME))
    return [`${said}: the intervals were alike, but the pulses came ${rangeWords(spacings, seconds)} apart.`];
  if (even && !lengths.within(SAME))
    return [`${said}: the pulses came evenly, ${seconds(spacings.low)} apart, but the intervals were not alike.`];
  if (!even)
    return [`${said}: neither the pulses, ${rangeWords(spacings, seconds)} apart, nor the intervals were alike.`];
  return [`${said}.`];
}

/** Pulses still low when an interval ran out. */
function holdWords(tally: FateTally): string[] {
  const { ownHolds, otherHolds, lengths, counts, pulses, widths } = tally;
  const said: string[] = [];
  if (ownHolds.count > 0) {
    const who = ownHolds.count === 1 ? '1 starter was' : `${ownHolds.count} starters were`;
    said.push(
      `${who} still low when the interval ran out and held the output on for ${rangeWords(ownHolds, seconds)} more.`,
    );
    const copies = counts.started === pulses && ownHolds.count === pulses && lengths.count === pulses;
    if (copies && widths.count > 0) {
      said.push(
        `Since every pulse outlasts its own interval, the output is high just while the input is low: an inverted copy of it.`,
      );
    }
  }
  if (otherHolds.count > 0) {
    const who =
      otherHolds.count === 1
        ? '1 pulse that had found it running was'
        : `${otherHolds.count} pulses that had found it running were`;
    said.push(
      `${who} still low when the interval ran out and held the output on for ${rangeWords(otherHolds, seconds)} more, because TRIGGER beats THRESHOLD.`,
    );
  }
  return said;
}

function shortWords({ counts, shortWidths }: FateTally, timer: TimerFacts): string[] {
  if (counts.short === 0 || shortWidths.count === 0) return [];
  return [
    `The short ones were low for ${rangeWords(shortWidths, seconds)}; the trigger needs ${seconds(timer.minimumTrigger)}.`,
  ];
}

function resetWords({ cutByReset, begunByRelease }: FateTally): string[] {
  const said: string[] = [];
  if (cutByReset > 0) said.push(`RESET ended ${countWords(cutByReset, 'interval')} early.`);
  if (begunByRelease > 0)
    said.push(`${countWords(begunByRelease, 'interval')} began at the release of RESET, with the trigger still low.`);
  return said;
}

/** The interval that runs on at the end of the window. */
function stuckWords(
  { running, openPulse }: FateTally,
  timer: TimerFacts,
  window: Window,
  latest: { readonly threshold: number; readonly limit: number } | undefined,
): string[] {
  if (running === undefined) return [];
  const since = formatQuantity(running.start.high, 's', { digits: 4 });
  const until = windowWords({ from: 0, until: window.until });
  if (running.over !== undefined && openPulse !== undefined) {
    return [`The interval that began at ${since} had run out, but the pulse was still low and held the output on.`];
  }
  const stood =
    latest === undefined
      ? ''
      : `: ${timer.threshold} stood at ${volts(latest.threshold)} of its ${volts(latest.limit)} limit by then`;
  return [`The interval that began at ${since} did not end ${until}${stood}.`];
}
