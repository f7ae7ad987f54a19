import { listedText } from '../core/listed-text.ts';
import type { TimerFacts, Window } from './context.ts';
import type { FateTally } from './fate-tally.ts';
import { holdWords } from './hold-words.ts';
import type { LatestLevels } from './latest-levels.ts';
import { windowWords } from './reason-words.ts';
import { sharedNetWords, startWords } from './start-words.ts';
import { stepWords } from './step-words.ts';
import { stuckWords } from './stuck-words.ts';
import { countWords, eachWords, rangeWords, SAME, seconds } from './range-words.ts';
import type { Fate } from './rows.ts';

/**
 * A short paragraph that explains the pattern of fates with the run's own numbers. Every sentence is said only where the
 * gathered facts bear it out.
 */
export function explain(tally: FateTally, timer: TimerFacts, window: Window, latest: LatestLevels | undefined): string {
  const stuck = stuckWords(tally, timer, window, latest);
  if (tally.pulses === 0) {
    const none = `No input pulse came ${windowWords(window)}: ${timer.trigger} never fell below the trigger reference of ${timer.name}.`;
    return [none, ...stuck].join(' ');
  }
  const sharedNet = timer.trigger === timer.threshold;
  return [
    fatesWords(tally, window),
    ...(sharedNet
      ? sharedNetWords(tally, timer)
      : [...untimedWords(tally), ...lengthWords(tally), ...startWords(tally, timer), ...stepWords(tally)]),
    ...holdWords(tally),
    ...shortWords(tally, timer),
    ...resetWords(tally),
    ...stuck,
  ].join(' ');
}

const FATE_WORDS: readonly (readonly [fate: Fate, one: string, many: string])[] = [
  ['started', 'started an interval', 'started an interval'],
  [
    'held',
    'found it running and held the output on past its end',
    'found it running and held the output on past its end',
  ],
  ['ignored', 'found it running and was ignored', 'found it running and were ignored'],
  ['short', 'was too short to act', 'were too short to act'],
  ['barred', 'was barred by RESET', 'were barred by RESET'],
];

/** How many pulses met which fate. */
function fatesWords({ pulses, counts, untimed }: FateTally, window: Window): string {
  const came = `${countWords(pulses, 'input pulse')} came ${windowWords(window)}`;
  const met = FATE_WORDS.filter(([fate]) => counts[fate] > 0);
  const said = (words: string): string =>
    untimed.count > 0 ? words.replace('started an interval', 'switched the output on') : words;
  if (met.length === 1) {
    const words = said(met[0]![1].replace('found it running', 'found an interval running'));
    return pulses === 1 ? `${came} and ${words}.` : `${came}, and each ${words}.`;
  }
  const parts = met.map(([fate, one, many]) => `${counts[fate]} ${said(counts[fate] === 1 ? one : many)}`);
  return `${came}: ${listedText(parts)}.`;
}

/** Of starts at which THRESHOLD was not below its limit, so that no interval was timed. */
function untimedWords({ untimed, intervals }: FateTally): string[] {
  const { count } = untimed;
  if (count === 0) return [];
  const all = count === 1 ? 'at the start' : 'at any start';
  const when = count < intervals ? `at ${count} of the ${intervals} starts` : all;
  const length = rangeWords(untimed, seconds);
  return [
    `THRESHOLD was not below its limit ${when}, so no interval was timed${count < intervals ? ' there' : ''}: the output stayed on just as long as the trigger was low, ${length}.`,
  ];
}

/** How long the intervals lasted. */
function lengthWords({ lengths, untimed }: FateTally): string[] {
  if (lengths.count === 0) return [];
  if (lengths.count === 1) return [`The ${untimed.count > 0 ? 'other ' : ''}interval lasted ${seconds(lengths.low)}.`];
  if (lengths.within(SAME)) return [`${eachWords(lengths.count, 'complete interval')} lasted ${seconds(lengths.low)}.`];
  return [`The ${lengths.count} complete intervals lasted ${rangeWords(lengths, seconds)}.`];
}

function shortWords({ counts, pulses, shortWidths }: FateTally, timer: TimerFacts): string[] {
  if (counts.short === 0 || shortWidths.count === 0) return [];
  const needs = `the trigger needs ${seconds(timer.minimumTrigger)}`;
  const all = counts.short === pulses;
  if (shortWidths.count === 1)
    return [`${all ? 'It' : 'The short one'} was low for ${seconds(shortWidths.low)}; ${needs}.`];
  return [`${all ? 'They' : 'The short ones'} were low for ${rangeWords(shortWidths, seconds)}; ${needs}.`];
}

function resetWords({ cutByReset, begunByRelease }: FateTally): string[] {
  const said: string[] = [];
  if (cutByReset > 0) said.push(`RESET ended ${countWords(cutByReset, 'interval')} early.`);
  if (begunByRelease > 0) {
    said.push(`${countWords(begunByRelease, 'interval')} began at the release of RESET, with the trigger still low.`);
  }
  return said;
}
