import { issueText } from '../core/errors.ts';
import { quotedText } from '../core/found-text.ts';
import type { SignalTable } from './frame.ts';

/** A signal by name: a net (a voltage) or a part (its current). */
export type SignalName = { readonly net: string } | { readonly current: string };

/** Reads a signal as a cell shows it: a net name, or `current(R1)` for the current of a part. */
export function readSignalName(show: string): SignalName {
  const current = /^\s*current\(\s*([^()\s]+)\s*\)\s*$/.exec(show);
  return current === null ? { net: show.trim() } : { current: current[1]! };
}

/** The part of `contact(K1)`, whether its contact conducts; `K1.normallyClosed` for that contact of a relay. */
export function readContactName(show: string): string | undefined {
  return /^\s*contact\(\s*([^()\s]*)\s*\)\s*$/.exec(show)?.[1];
}

/**
 * The position of a signal in a table; -1 for the net `ground` where the table leaves it out, because it is 0 V.
 *
 * @throws RangeError if the table has no such signal.
 */
export function signalIndex(table: SignalTable, name: SignalName): number {
  const [word, list, offset] =
    'net' in name ? [name.net, table.nets, 0] : [name.current, table.currents, table.nets.length];
  const position = list.indexOf(word);
  if (position >= 0) return offset + position;
  if ('net' in name && name.net === 'ground') return -1;
  throw new RangeError(
    issueText({
      where: 'trace',
      rule: `name a ${'net' in name ? 'net' : 'part with a current'} of the run: ${list.join(', ')}`,
      got: quotedText(word),
      advice: 'Correct the name.',
    }),
  );
}
