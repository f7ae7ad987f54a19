import { formatQuantity } from '../quantity/index.ts';
import { secondsBetween } from '../trace/instant.ts';
import { endOf, fateOf, type IntervalFacts, type PulseFacts, secondsToGo, untimed } from './pulse-facts.ts';
import { seconds, volts, voltsApart } from './range-words.ts';
import { startsCharged } from './start-level.ts';

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
      return `Ignored: the interval was still running; ${progressWords(pulse, timer.threshold)}${pulse.open ? '; still low at the end of the run' : ''}.`;
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
  if (untimed(began)) return `${when}: ${untimedWords(began)}.`;
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
    : `an interval of ${length}${startWords(interval)}${limitWords(interval)}`;
}

/** Limits that differ by less than this share are not spoken of; a judgement, no source. */
const SPOKEN_CHANGE = 0.1;

/** Where the limit moved while the interval ran (the supply dipped, CONTROL was driven): from where to where. */
function limitWords({ limit, limitMet }: IntervalFacts): string {
  if (limit === undefined || limitMet === undefined) return '';
  if (Math.abs(limitMet - limit) <= SPOKEN_CHANGE * Math.max(Math.abs(limit), Math.abs(limitMet))) return '';
  return `, ended by a limit that had gone from ${volts(limit)} to ${volts(limitMet)}`;
}

/** Where THRESHOLD left nothing to wait for. */
function untimedWords({ start, end, byReset, threshold = 0, limit = 0 }: IntervalFacts): string {
  const [level, most] = voltsApart(threshold, limit);
  const where = `since THRESHOLD stood at ${level}, ${level === most ? 'which is its limit' : `above its limit of ${most}`}`;
  const said = `no interval was timed, ${where}`;
  if (end === undefined) {
    return `${said}; the output stays on just as long as the trigger is low, which it still was at the end of the run`;
  }
  const on = seconds(secondsBetween(start, end));
  return byReset === true
    ? `${said}; the output stayed on until RESET ended it after ${on}`
    : `${said}; the output stayed on just as long as the trigger was low, ${on}`;
}

/** Where the capacitor was not empty at the start: from what voltage the interval was counted. */
function startWords(interval: IntervalFacts): string {
  const { threshold, limit } = interval;
  if (threshold === undefined || limit === undefined || !startsCharged(interval)) return '';
  const share = formatQuantity(threshold / limit, 'share', { digits: 2 });
  return `, counted from ${volts(threshold)} at THRESHOLD, ${share} of its limit`;
}

/** How far the running interval was: `timing stood at 4.50 V of its 8.00 V limit (56 %), 201 ms to go`. */
function progressWords(pulse: PulseFacts, net: string): string {
  const { threshold, limit } = pulse;
  if (threshold === undefined || limit === undefined) return toGoWords(pulse);
  const share = limit > 0 ? ` (${shareWords(threshold / limit)})` : '';
  const [level, most] = voltsApart(threshold, limit);
  return `${net} stood at ${level} of its ${most} limit${share}, ${toGoWords(pulse)}`;
}

/** A share in per cent with two digits, or as many as it takes not to read 100 % where it is less. */
function shareWords(share: number): string {
  if (share < 0.99) return formatQuantity(share, 'share', { digits: 2 });
  for (let digits = 2; digits < 9; digits++) {
    const text = formatQuantity(share, 'share', { digits });
    if (share === 1 || text !== formatQuantity(1, 'share', { digits })) return text;
  }
  return formatQuantity(share, 'share', { digits: 2 });
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
