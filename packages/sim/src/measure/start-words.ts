import type { TimerFacts } from './context.ts';
import { type FateTally, NEAR_ZERO } from './fate-tally.ts';
import { rangeWords, SAME, seconds, volts } from './range-words.ts';

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

/** Of intervals that began before THRESHOLD was back at 0 V. */
export function startWords(tally: FateTally, timer: TimerFacts): string[] {
  const { laterStarts, laterVoltages } = tally;
  if (laterStarts.count === 0 || laterStarts.high <= NEAR_ZERO) return [];
  const from = rangeWords(laterVoltages, volts);
  const reason = timer.discharge === timer.threshold ? ': the capacitor had had no time to empty' : '';
  if (firstWasLonger(tally)) {
    return [`All but the first began with THRESHOLD still at ${from} and were shorter${reason}.`];
  }
  const which = laterStarts.low > NEAR_ZERO ? 'Later intervals' : 'Some later intervals';
  return [
    `${which} began with THRESHOLD not back at 0 V, but at ${laterStarts.low > NEAR_ZERO ? from : `up to ${volts(laterVoltages.high)}`}${reason}.`,
  ];
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
    said.push(`The intervals lasted ${rangeWords(later, seconds)}, counted from ${rangeWords(laterVoltages, volts)}.`);
  }
  if (firstLength !== undefined && firstWasLonger(tally)) {
    said.push(`The first, which began from a lower voltage, lasted ${seconds(firstLength)}.`);
  } else if (firstLength !== undefined && later.count === 0) said.push(`The first lasted ${seconds(firstLength)}.`);
  return said;
}
