import { formatQuantity } from '../quantity/index.ts';
import type { TimerFacts, Window } from './context.ts';
import type { FateTally } from './fate-tally.ts';
import type { LatestLevels } from './latest-levels.ts';
import { untimed } from './pulse-facts.ts';
import { voltsApart, volts } from './range-words.ts';
import { windowWords } from './reason-words.ts';

/** Digits of the instant at which an interval began; zeros at the end are not written. */
const SINCE_DIGITS = 4;

/** An interval that runs on at the end of the window and can never end, or is longer than any that ended. */
export function stuckWords(
  { running, lengths }: Pick<FateTally, 'running' | 'lengths'>,
  timer: TimerFacts,
  window: Window,
  latest: LatestLevels | undefined,
): string[] {
  if (running === undefined || running.over !== undefined || untimed(running)) return [];
  const lasted = window.until - running.start.high;
  if (latest?.never === undefined && lengths.count > 0 && lasted <= lengths.high) return [];
  const since = formatQuantity(Number(running.start.high.toPrecision(SINCE_DIGITS)), 's', { exact: true });
  const where = latest === undefined ? '' : `: ${timer.threshold} ${levelWords(latest)}`;
  return [`The interval that began at ${since} did not end ${windowWords({ from: 0, until: window.until })}${where}.`];
}

function levelWords({ threshold, limit, never }: LatestLevels): string {
  if (never === undefined) {
    const [level, most] = voltsApart(threshold, limit);
    return `stood at ${level} of its ${most} limit by then`;
  }
  const [aim, most] = voltsApart(never.threshold, never.limit);
  const so = 'so unless something changes it never ends';
  if (aim === most) return `comes ever nearer to its limit of ${most} and never passes it, ${so}`;
  const below = `${aim}, below its limit of ${most}, ${so}`;
  return volts(threshold) === volts(never.threshold)
    ? `has come to rest at ${below}`
    : `stood at ${volts(threshold)} by then and aims at ${below}`;
}
