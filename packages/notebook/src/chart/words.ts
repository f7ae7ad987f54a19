import { fateWords, laneTitle } from '@two-thirds/sim/chart';
import type { PulseRow } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import type { ComparatorReadout, CursorState, TimerReadout } from './cursor.ts';

/**
 * The state at the cursor in one sentence, for screen readers.
 *
 * @param digits significant digits of the time.
 */
export function cursorWords({ time, lanes, timers }: CursorState, digits = 4): string {
  const nets = lanes.filter(({ value }) => value !== undefined).map((lane) => `${laneTitle(lane.show)} ${lane.text}`);
  const outputs = timers.map((timer) => `${timer.timer} output ${timer.outputHigh ? 'high' : 'low'}`);
  return `${formatQuantity(time, 's', { digits })}: ${[...nets, ...outputs].join(', ')}`;
}

/** What the interval of a timer is doing: `runs, 61.0 ms to go`. */
export function intervalWords({ interval }: TimerReadout, time: number): string {
  if (interval === undefined) return 'not running';
  if (interval.until === undefined) return 'runs';
  if (interval.until === null) return 'runs past the end of this trace';
  return `runs, ${formatQuantity(interval.until - time, 's')} to go`;
}

/** What an input pulse that is present has done: `low since 0.225 s: ignored, interval running`. */
export function triggerWords(pulse: PulseRow): string {
  return `low since ${formatQuantity(pulse.time, 's')}: ${fateWords[pulse.fate]}`;
}

/** Where an input of a timer stands: `7.82 V, below its limit of 8.00 V`. */
export function comparatorWords({ value, limit, past }: ComparatorReadout, input: 'threshold' | 'trigger'): string {
  const side = past === (input === 'threshold') ? 'above' : 'below';
  return `${formatQuantity(value, 'V')}, ${side} its limit of ${formatQuantity(limit, 'V')}`;
}
