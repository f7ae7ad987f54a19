import type { Circuit, Part } from '../circuit/description.ts';
import type { FaultNote, RunEvent } from '../trace/event.ts';
import { type Instant, secondsBetween } from '../trace/instant.ts';
import type { Observer } from '../trace/observer.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';
import type { Window } from './context.ts';
import { faultSentence } from './fault-words.ts';
import type { FaultRow } from './rows.ts';

/** Everything that one part did beyond one of its limits. */
interface Excess {
  readonly part: string;
  readonly note: FaultNote;
  /** The limit that it passed last (V or A), and the part as it was then. */
  limit: number;
  subject: Part | undefined;
  since: Instant | undefined;
  first: number | undefined;
  count: number;
  longest: number;
  lasting: boolean;
}

/** Hears of faults and tells them in rows. */
export interface FaultObserver extends Observer {
  /** All faults of a run that has ended. */
  result(): FaultRow[];
  /** All faults of a run that stands at a time (s) and may go on: what is still beyond its limit lasts. */
  soFar(time: number): FaultRow[];
}

/** How a row's stretches stand. */
type Stretches = Pick<Excess, 'first' | 'count' | 'longest' | 'lasting'>;

/**
 * Gathers the `fault` events of a run that was asked to watch limits. A stretch counts as far as it lies in the window;
 * one without length, passed through while a jump settles, does not. Memory does not depend on the length of the run.
 *
 * @param circuit the circuit, or what gives it as it is now where it changes while it runs.
 * @param prefix only parts whose names begin with it count, and they are named without it.
 */
export function faultObserver(circuit: Circuit | (() => Circuit), window: Window, prefix = ''): FaultObserver {
  const found = new Map<string, Excess>();
  const subjectOf = (part: string): Part | undefined => {
    const { parts } = typeof circuit === 'function' ? circuit() : circuit;
    return parts.find(({ name }) => name === part);
  };
  const rows = (stretchesOf: (excess: Excess) => Stretches, goesOn: boolean): FaultRow[] =>
    [...found.values()].flatMap((excess): FaultRow[] => {
      const { part, note, limit, subject } = excess;
      const { first, count, longest, lasting } = stretchesOf(excess);
      if (first === undefined) return [];
      const { what, pin } = note;
      const name = part.slice(prefix.length);
      const row = { part: name, what, ...(pin === undefined ? {} : { pin }), first, count, longest, lasting };
      return [{ ...row, sentence: faultSentence(row, limit, subject, goesOn) }];
    });
  return {
    ignoresPieces: true,
    periods: new CountedPeriods(window, {
      visit(visitor) {
        visitor.same(found.size);
        for (const excess of found.values()) {
          excess.since = visitor.date(excess.since);
          excess.count = visitor.sum(excess.count);
          visitor.same(excess.first);
          visitor.same(excess.longest);
        }
      },
    }),
    event({ kind, part, fault, limit = 0, time, timeLow }: RunEvent) {
      if (kind !== 'fault' || fault === undefined || !part.startsWith(prefix)) return;
      const key = `${part} ${fault.what} ${fault.pin ?? ''}`;
      const known = found.get(key);
      const instant = { high: time, low: timeLow };
      if (fault.phase === 'clear') {
        if (known !== undefined) {
          Object.assign(known, closed(known, instant, window), { since: undefined, lasting: false });
        }
        return;
      }
      const excess = known ?? {
        ...{ part, note: fault, limit, subject: subjectOf(part), since: undefined },
        ...{ first: undefined, count: 0, longest: 0, lasting: false },
      };
      if (excess.limit !== limit) Object.assign(excess, { limit, subject: subjectOf(part) });
      excess.since = instant;
      found.set(key, excess);
    },
    end(time) {
      for (const excess of found.values()) {
        Object.assign(excess, closed(excess, { high: time, low: 0 }, window), { since: undefined });
      }
    },
    result: () => rows((excess) => excess, false),
    soFar: (time) => rows((excess) => closed(excess, { high: time, low: 0 }, window), true),
  };
}

/** The stretches of an excess when the one that is open, if any, is closed at a time. */
function closed({ since, first, count, longest, lasting }: Excess, end: Instant, window: Window): Stretches {
  if (since === undefined) return { first, count, longest, lasting };
  const start = since.high < window.from ? { high: window.from, low: 0 } : since;
  const stop = end.high > window.until ? { high: window.until, low: 0 } : end;
  const length = secondsBetween(start, stop);
  if (!(length > 0)) return { first, count, longest, lasting };
  return { first: first ?? start.high, count: count + 1, longest: Math.max(longest, length), lasting: true };
}
