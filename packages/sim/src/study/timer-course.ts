import type { TimerFacts, Window } from '../measure/context.ts';
import { FateLedger, watching } from '../measure/fate-ledger.ts';
import { endOf, type IntervalFacts } from '../measure/pulse-facts.ts';
import { Range } from '../measure/range.ts';
import { stuckWords } from '../measure/stuck-words.ts';
import { secondsBetween } from '../trace/instant.ts';
import type { Observer } from '../trace/observer.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';
import type { Remark } from './remark.ts';

/** Watches whether a timer starts an interval in a window, and whether the last one can end. */
export function timerCourse(timer: TimerFacts, window: Window, name: string): Observer & { result(): Remark[] } {
  const lengths = new Range();
  let begun = 0;
  let running: IntervalFacts | undefined;
  const ledger = new FateLedger(timer, window, {
    pulse: () => {},
    pulseClosed: () => {},
    interval: () => void begun++,
    intervalClosed(interval) {
      const end = endOf(interval);
      if (interval.end === undefined) running = interval;
      else if (end !== undefined) lengths.add(secondsBetween(interval.start, end));
    },
  });
  return {
    ...watching(ledger),
    periods: new CountedPeriods(window, {
      visit(visitor) {
        ledger.visit(visitor);
        lengths.visit(visitor);
        begun = visitor.sum(begun);
      },
    }),
    result() {
      if (begun === 0 && running === undefined) {
        return [{ what: 'never-starts', part: name, sentence: `${name} never starts: its output stays low.` }];
      }
      if (running?.over !== undefined) {
        const sentence = `${name} stays on: its interval is over, but ${timer.trigger} is still low and holds the output on.`;
        return [{ what: 'never-ends', part: name, sentence }];
      }
      const [sentence] = stuckWords({ running, lengths }, timer, window, ledger.latest);
      if (sentence === undefined) return [];
      const what = ledger.latest?.never === undefined ? 'unfinished' : 'never-ends';
      return [{ what, part: name, sentence }];
    },
  };
}
