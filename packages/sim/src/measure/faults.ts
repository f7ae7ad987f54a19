import type { Circuit } from '../circuit/description.ts';
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
  readonly limit: number;
  since: Instant | undefined;
  first: number | undefined;
  count: number;
  longest: number;
  lasting: boolean;
}

/**
 * Gathers the `fault` events of a run that was asked to watch limits. A stretch counts as far as it lies in the window;
 * one without length, passed through while a jump settles, does not. Memory does not depend on the length of the run.
 *
 * @param prefix only parts whose names begin with it count, and they are named without it.
 */
export function faultObserver(circuit: Circuit, window: Window, prefix = ''): Observer & { result(): FaultRow[] } {
  const found = new Map<string, Excess>();
  const close = (excess: Excess, end: Instant): void => {
    const { since } = excess;
    excess.since = undefined;
    if (since === undefined) return;
    const start = since.high < window.from ? { high: window.from, low: 0 } : since;
    const stop = end.high > window.until ? { high: window.until, low: 0 } : end;
    const length = secondsBetween(start, stop);
    if (!(length > 0)) return;
    excess.first ??= start.high;
    excess.count++;
    excess.longest = Math.max(excess.longest, length);
  };
  return {
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
    event({ kind, part, fault, limit, time, timeLow }: RunEvent) {
      if (kind !== 'fault' || fault === undefined || !part.startsWith(prefix)) return;
      const key = `${part} ${fault.what} ${fault.pin ?? ''}`;
      const known = found.get(key);
      const instant = { high: time, low: timeLow };
      if (fault.phase === 'clear') {
        if (known !== undefined) close(known, instant);
        return;
      }
      const fresh = { part, note: fault, limit: limit ?? 0, first: undefined, count: 0, longest: 0, lasting: false };
      const excess = known ?? { ...fresh, since: undefined };
      excess.since = instant;
      found.set(key, excess);
    },
    end(time) {
      for (const excess of found.values()) {
        if (excess.since === undefined) continue;
        const before = excess.count;
        close(excess, { high: time, low: 0 });
        excess.lasting = excess.count > before;
      }
    },
    result: () =>
      [...found.values()].flatMap(({ part, note, limit, first, count, longest, lasting }): FaultRow[] => {
        if (first === undefined) return [];
        const { what, pin } = note;
        const row = {
          part: part.slice(prefix.length),
          what,
          ...(pin === undefined ? {} : { pin }),
          first,
          count,
          longest,
          lasting,
        };
        return [
          {
            ...row,
            sentence: faultSentence(
              row,
              limit,
              circuit.parts.find(({ name }) => name === part),
            ),
          },
        ];
      }),
  };
}
