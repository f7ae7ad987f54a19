import type { TimerFacts } from './context.ts';
import type { FateTally } from './fate-tally.ts';
import { countWords, rangeWords, SAME, seconds, volts } from './range-words.ts';

/** Whether the first interval began from a lower voltage than all others and lasted longer than all others. */
function firstWasLonger({ firstStart, firstLength, laterStarts, later }: FateTally): boolean {
  return (
    firstStart !== undefined &&
    firstLength !== undefined &&
    laterStarts.count > 0 &&
    later.count > 0 &&
    firstStart < laterStarts.low &&
    firstLength * (1 - SAME) > later.high
  );
}

/** Of intervals that began before THRESHOLD had come down. */
export function startWords(tally: FateTally, timer: TimerFacts): string[] {
  const { soonVoltages, soonLengths, otherLengths, intervals } = tally;
  const { count } = soonVoltages;
  if (count === 0) return [];
  const which =
    count === 1 && intervals === 2 ? 'The second interval' : `${count} of the ${countWords(intervals, 'interval')}`;
  const shorter =
    soonLengths.count > 0 && otherLengths.count > 0 && soonLengths.high * (1 + SAME) < otherLengths.low
      ? ` and ${count === 1 ? 'was' : 'were'} shorter`
      : '';
  const reason = timer.discharge === timer.threshold ? ': the capacitor had had no time to empty' : '';
  return [`${which} began with THRESHOLD still at ${rangeWords(soonVoltages, volts)}${shorter}${reason}.`];
}

/** Of a timer whose TRIGGER and THRESHOLD share a net, as they do where it starts itself. */
export function sharedNetWords(tally: FateTally, timer: TimerFacts): string[] {
  const { later, laterVoltages, firstLength, counts } = tally;
  if (counts.started === 0) return [];
  const net = timer.trigger;
  const said = [
    `TRIGGER and THRESHOLD share the net ${net}: an interval starts whenever that net has fallen to the trigger reference, and ends when it has risen to the limit.`,
  ];
  if (later.count > 0) {
    said.push(
      `The later intervals lasted ${rangeWords(later, seconds)}, counted from ${rangeWords(laterVoltages, volts)}.`,
    );
  }
  if (firstLength !== undefined && firstWasLonger(tally)) {
    said.push(`The first, which began from a lower voltage, lasted ${seconds(firstLength)}.`);
  } else if (firstLength !== undefined && later.count === 0) said.push(`The first lasted ${seconds(firstLength)}.`);
  return said;
}
