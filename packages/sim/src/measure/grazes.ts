import { formatQuantity } from '../quantity/index.ts';
import type { EventKind } from '../trace/event.ts';
import type { Crossing, Observer, Periods } from '../trace/observer.ts';

/** What a time is promised to be good to, as a share of itself. */
const PROMISED = 1e-12;

/** What watches its limit, by what it does there. */
const WATCHING: Partial<Record<EventKind, string>> = {
  triggerLow: 'TRIGGER',
  triggerHigh: 'TRIGGER',
  thresholdOver: 'THRESHOLD',
  resetLow: 'RESET',
  resetHigh: 'RESET',
  close: 'the base current',
  open: 'the base current',
  windingOn: 'the current of its winding',
  windingOff: 'the current of its winding',
  sounding: 'the voltage across it',
  silent: 'the voltage across it',
};

/** Watches a run for the limit that is grazed most: whose time is known worst, and worse than 12 digits promise. */
export class GrazeWatch implements Observer {
  /** The worst one so far; undefined while all times are as good as promised. */
  worst: Crossing | undefined;
  /** Further periods graze the same limits as much, at times that promise less. */
  readonly periods: Periods = { begin: () => Infinity, repeat: () => undefined };

  /** Takes notice of a crossing. */
  crossing(crossing: Crossing): void {
    const { offBy, time } = crossing;
    if (offBy > PROMISED * time && offBy > (this.worst?.offBy ?? 0)) this.worst = crossing;
  }

  /**
   * What it found in a sentence; nothing where all times are as good as promised.
   *
   * @param prefix what the names of the parts begin with and are told without.
   */
  words(prefix = ''): string[] {
    if (this.worst === undefined) return [];
    const { part, kind, time, offBy } = this.worst;
    const name = part.startsWith(prefix) ? part.slice(prefix.length) : part;
    const what = WATCHING[kind] ?? 'a value of the part';
    return [
      `${name}: ${what} only just reaches its limit at ${formatQuantity(time, 's')}. That time may be off by ${formatQuantity(offBy, 's')}, and the smallest change of a value moves it much further or takes it away.`,
    ];
  }
}
