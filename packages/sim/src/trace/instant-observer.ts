import { valueAt } from '../core/exponential-sum.ts';
import { ContactState, type ContactWatch } from './contact-observer.ts';
import type { EventKind } from './event.ts';
import type { SegmentView, SignalTable } from './frame.ts';
import type { Observer } from './observer.ts';

/** The exact state of all signals at an instant: values after whatever happens at that instant. */
export interface Instant {
  /** Seconds, as asked for. */
  readonly time: number;
  /** Volts by net. */
  readonly nets: ReadonlyMap<string, number>;
  /** Amperes by part, from its first terminal to its second. */
  readonly currents: ReadonlyMap<string, number>;
  /** Relays and solenoids that are pulled in, and buzzers that sound. */
  readonly active: ReadonlySet<string>;
  /** Parts whose contacts were asked for and conduct. */
  readonly closed: ReadonlySet<string>;
}

/** Events that make a part active, and those that end that. */
const STARTS: ReadonlySet<EventKind> = new Set(['pulledIn', 'sounding']);
const ENDS: ReadonlySet<EventKind> = new Set(['droppedOut', 'silent']);

/** A time this near to the end of a stretch, as a share of itself, is the start of the next: the rest is rounding. */
const SAME_INSTANT = 4 * Number.EPSILON;

/**
 * Reads all signals at given times while a run goes by, in memory that does not depend on the length of the run.
 * Nothing is interpolated: every value comes from the solution of the stretch that holds the time.
 *
 * @param times seconds, in any order. A time has a row only if the run goes on beyond it.
 * @param contacts contacts of which it is told whether they conduct, one a part.
 */
export function instantObserver(
  times: readonly number[],
  contacts: readonly ContactWatch[] = [],
): Observer & {
  /** One row for each time the run has passed, ascending. */
  result(): Instant[];
} {
  const wanted = [...new Set(times)].sort((a, b) => a - b);
  const rows: Instant[] = [];
  let table: SignalTable = { nets: [], currents: [] };
  const active = new Set<string>();
  const states = contacts.map((watch) => ({ part: watch.part, contact: new ContactState(watch) }));
  return {
    periods: { begin: (now) => wanted.find((time) => time >= now) ?? Infinity, repeat: () => {} },
    begin(signals) {
      table = signals;
    },
    event(event) {
      const { kind, part } = event;
      for (const { contact } of states) contact.event(event);
      if (STARTS.has(kind)) active.add(part);
      else if (ENDS.has(kind)) active.delete(part);
    },
    segment(segment) {
      for (let time = wanted[rows.length]; time !== undefined; time = wanted[rows.length]) {
        const local = time - segment.start - segment.startLow;
        if (local >= segment.length - SAME_INSTANT * Math.abs(time)) return;
        const closed = states.filter(({ contact }) => contact.closed).map((each) => each.part);
        const values = valuesAt(segment, time, Math.max(0, local), table);
        rows.push({ ...values, active: new Set(active), closed: new Set(closed) });
      }
    },
    result: () => rows,
  };
}

function valuesAt(
  segment: SegmentView,
  time: number,
  local: number,
  table: SignalTable,
): Omit<Instant, 'active' | 'closed'> {
  const { nets, currents } = table;
  const value = (index: number): number => valueAt(segment.signal(index), local);
  return {
    time,
    nets: new Map(nets.map((net, index) => [net, value(index)])),
    currents: new Map(currents.map((part, index) => [part, value(nets.length + index)])),
  };
}
