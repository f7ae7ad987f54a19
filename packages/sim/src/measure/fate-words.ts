import { formatQuantity } from '../quantity/index.ts';
import { secondsBetween } from '../trace/instant.ts';
import { NEAR_ZERO } from './fate-tally.ts';
import { endOf, fateOf, type IntervalFacts, type PulseFacts } from './pulse-facts.ts';

const seconds = (value: number): string => formatQuantity(value, 's');
const volts = (value: number): string => formatQuantity(value, 'V');

/** Words of a start: `THRESHOLD started from 1.20 V` where the capacitor was not empty. */
function startWords({ threshold, limit }: IntervalFacts): string {
  if (threshold === undefined || limit === undefined || Math.abs(threshold) <= NEAR_ZERO * limit) return '';
  const share = formatQuantity(threshold / limit, 'share', { digits: 2 });
  return `, counted from ${volts(threshold)} at THRESHOLD, ${share} of its limit`;
}

function intervalWords(interval: IntervalFacts): string {
  const end = endOf(interval);
  if (end === undefined) return `an interval that was still running at the end${startWords(interval)}`;
  const length = seconds(secondsBetween(interval.start, end));
  if (interval.byReset === true && interval.over === undefined) return `an interval that RESET ended after ${length}`;
  return `an interval of ${length}${startWords(interval)}`;
}

/** How far the running interval was: `timing stood at 4.50 V of its 8.00 V limit (56 %), 0.201 s to go`. */
function progressWords(pulse: PulseFacts, found: IntervalFacts, net: string): string {
  const { threshold, limit } = pulse;
  const end = endOf(found);
  const toGo =
    end === undefined
      ? 'and it had not ended by the end of the run'
      : `${seconds(secondsBetween(pulse.time, end))} ${found.byReset === true && found.over === undefined ? 'before RESET ended it' : 'to go'}`;
  if (threshold === undefined || limit === undefined) return toGo;
  const share = limit > 0 ? ` (${formatQuantity(threshold / limit, 'share', { digits: 2 })})` : '';
  return `${net} stood at ${volts(threshold)} of its ${volts(limit)} limit${share}, ${toGo}`;
}

/** One sentence that says what became of a pulse and why; every number is the run's own. */
export function fateSentence(pulse: PulseFacts, thresholdNet: string, minimumTrigger: number): string {
  const { heldFor, found, began, open, end } = pulse;
  const still = open ? ' and was still low at the end of the run' : '';
  switch (fateOf(pulse)) {
    case 'started': {
      if (began === undefined) return 'Started.';
      const late = secondsBetween(pulse.time, began.start);
      const when =
        began.cause === 'release'
          ? `Started when RESET let go, ${seconds(late)} after the pulse came`
          : late > 0
            ? `Started after ${seconds(late)} low`
            : 'Started';
      const held =
        heldFor === undefined ? '' : `; still low when it ran out, it held the output on for ${seconds(heldFor)} more`;
      return `${when}: ${intervalWords(began)}${held}${open && heldFor === undefined ? '; still low at the end of the run' : still}.`;
    }
    case 'held': {
      if (found === undefined || heldFor === undefined) return 'Held.';
      const progress = progressWords(pulse, found, thresholdNet);
      return `Held: the interval was still running; ${progress}. Still low when it ran out, the pulse held the output on for ${seconds(heldFor)}${still}.`;
    }
    case 'ignored':
      if (found === undefined) return 'Ignored.';
      return `Ignored: the interval was still running; ${progressWords(pulse, found, thresholdNet)}.`;
    case 'short': {
      if (end === undefined)
        return `Short so far: the run ended before it had been low for the ${seconds(minimumTrigger)} that the trigger needs.`;
      const width = seconds(secondsBetween(pulse.time, end));
      return `Short: low for ${width}, less than the ${seconds(minimumTrigger)} that the trigger needs.`;
    }
    case 'barred':
      return open
        ? 'Barred: RESET was low, and the pulse was still low at the end of the run.'
        : 'Barred: RESET was low, so the pulse could not act.';
  }
}
