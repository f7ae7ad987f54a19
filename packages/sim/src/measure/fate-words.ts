import { formatQuantity } from '../quantity/index.ts';
import { secondsBetween } from '../trace/instant.ts';
import { NEAR_ZERO } from './fate-tally.ts';
import { endOf, fateOf, type IntervalFacts, type PulseFacts, secondsToGo } from './pulse-facts.ts';

const seconds = (value: number): string => formatQuantity(value, 's');
const volts = (value: number): string => formatQuantity(value, 'V');

/** What the reason sentence of a pulse needs to know of its timer. */
export interface PulseTimer {
  /** Net of THRESHOLD. */
  readonly threshold: string;
  /** Shortest time low that acts (s). */
  readonly minimumTrigger: number;
}

/** One sentence or two that say what became of a pulse and why; every number is the run's own. */
export function fateSentence(pulse: PulseFacts, timer: PulseTimer): string {
  switch (fateOf(pulse)) {
    case 'started':
      return startedSentence(pulse);
    case 'held':
      return heldSentence(pulse, timer.threshold);
    case 'ignored':
      return `Ignored: the interval was still running; ${progressWords(pulse, timer.threshold)}.`;
    case 'short':
      return shortSentence(pulse, timer.minimumTrigger);
    case 'barred':
      return pulse.open
        ? 'Barred: RESET was low, and the pulse was still low at the end of the run.'
        : 'Barred: RESET was low, so the pulse could not act.';
  }
}

function startedSentence({ time, began, heldFor, open }: PulseFacts): string {
  if (began === undefined) return 'Started.';
  const after = seconds(secondsBetween(time, began.start));
  const when = began.cause === 'release' ? `Started when RESET let go, ${after} after the pulse came` : 'Started';
  const end = open ? ', still low at the end of the run' : '';
  const held =
    heldFor === undefined ? '' : `; the pulse outlasted it and held the output on for ${seconds(heldFor)} more`;
  return `${when}: ${intervalWords(began)}${held}${end}.`;
}

function heldSentence(pulse: PulseFacts, net: string): string {
  const held = seconds(pulse.heldFor ?? 0);
  const end = pulse.open ? ' and was still low at the end of the run' : '';
  return `Held: the interval was still running; ${progressWords(pulse, net)}. Still low when it ran out, the pulse held the output on for ${held}${end}.`;
}

function shortSentence({ time, end }: PulseFacts, minimumTrigger: number): string {
  const needed = seconds(minimumTrigger);
  if (end === undefined)
    return `Short so far: the run ended before it had been low for the ${needed} that the trigger needs.`;
  return `Short: low for ${seconds(secondsBetween(time, end))}, less than the ${needed} that the trigger needs.`;
}

function intervalWords(interval: IntervalFacts): string {
  const end = endOf(interval);
  if (end === undefined) return `an interval that was still running at the end${startWords(interval)}`;
  const length = seconds(secondsBetween(interval.start, end));
  return endedByReset(interval)
    ? `an interval that RESET ended after ${length}`
    : `an interval of ${length}${startWords(interval)}`;
}

/** Where the capacitor was not empty at the start: from what voltage the interval was counted. */
function startWords({ threshold, limit }: IntervalFacts): string {
  if (threshold === undefined || limit === undefined || Math.abs(threshold) <= NEAR_ZERO * limit) return '';
  const share = formatQuantity(threshold / limit, 'share', { digits: 2 });
  return `, counted from ${volts(threshold)} at THRESHOLD, ${share} of its limit`;
}

/** How far the running interval was: `timing stood at 4.50 V of its 8.00 V limit (56 %), 201 ms to go`. */
function progressWords(pulse: PulseFacts, net: string): string {
  const { threshold, limit } = pulse;
  if (threshold === undefined || limit === undefined) return toGoWords(pulse);
  const share = limit > 0 ? ` (${formatQuantity(threshold / limit, 'share', { digits: 2 })})` : '';
  return `${net} stood at ${volts(threshold)} of its ${volts(limit)} limit${share}, ${toGoWords(pulse)}`;
}

function toGoWords(pulse: PulseFacts): string {
  const toGo = secondsToGo(pulse);
  if (toGo === undefined) return 'and it had not ended by the end of the run';
  if (toGo === 0) return 'and it ran out at that very instant';
  return `${seconds(toGo)} ${pulse.found !== undefined && endedByReset(pulse.found) ? 'before RESET ended it' : 'to go'}`;
}

function endedByReset({ byReset, over }: IntervalFacts): boolean {
  return byReset === true && over === undefined;
}
