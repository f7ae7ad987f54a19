import { type FateLedgerResult, fateObserver } from '../measure/fates.ts';
import { parseReading } from '../measure/parse-reading.ts';
import type { Observer } from '../trace/observer.ts';
import type { RunNames } from './cell-names.ts';
import type { ReadingCell } from './notebook-document.ts';

/** Lists are not shown, so none are kept. */
const LISTED = 1;

/**
 * Watches what a run says about the pattern behind a reading: the fates of the pulses at the timer whose input or output
 * the reading is about. `undefined` for a reading about something else.
 */
export function explanationObserver(
  cell: ReadingCell,
  reading: string,
  names: RunNames,
): (Observer & { result(): FateLedgerResult }) | undefined {
  const nets = parseReading(cell.take[reading], reading).nets.map((net) => names.resolve(net));
  const timer = names.context.timers.find(({ output, trigger }) => nets.includes(output) || nets.includes(trigger));
  const { from, until } = cell;
  return timer === undefined ? undefined : fateObserver(timer, { from, until }, { most: LISTED });
}
