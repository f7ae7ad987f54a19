import { formatQuantity } from '@two-thirds/sim/quantity';
import type { CursorState, TimerReadout } from './cursor.ts';
import { fateWords } from './fate-marks.ts';

/** The state at the cursor in one sentence, for screen readers. */
export function cursorWords({ time, lanes, timers }: CursorState): string {
  const nets = lanes.map((lane) => `${lane.show} ${lane.text}`);
  const outputs = timers.map((timer) => `${timer.timer} output ${timer.outputHigh ? 'high' : 'low'}`);
  return `${formatQuantity(time, 's', { digits: 4 })}: ${[...nets, ...outputs].join(', ')}`;
}

/** What the interval of a timer is doing: `runs, 61.0 ms to go`. */
export function intervalWords({ interval }: TimerReadout, time: number): string {
  if (interval === undefined) return 'not running';
  if (interval.until === null) return 'runs past the end of this trace';
  return `runs, ${formatQuantity(interval.until - time, 's')} to go`;
}

/** What the input of a timer is doing: `low since 0.225 s: ignored, interval running`. */
export function triggerWords({ pulse }: TimerReadout): string {
  if (pulse === undefined) return 'above its limit';
  return `low since ${formatQuantity(pulse.time, 's')}: ${fateWords[pulse.fate]}`;
}
