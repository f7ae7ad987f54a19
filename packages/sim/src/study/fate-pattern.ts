import type { TimerFacts, Window } from '../measure/context.ts';
import { FateLedger, watching } from '../measure/fate-ledger.ts';
import { fateOf } from '../measure/pulse-facts.ts';
import type { Fate } from '../measure/rows.ts';
import { UNEVEN } from './ratio-steps.ts';
import type { Observer } from '../trace/observer.ts';
import { CountedPeriods } from '../trace/period-visitor.ts';

/** Fates in the order in which a pattern names them. */
const FATES: readonly Fate[] = ['started', 'held', 'ignored', 'short', 'barred'];

/**
 * Watches what becomes of the input pulses of a timer from one start to the next, as a text: `started, 2 ignored`, or
 * `started, 2 to 3 ignored` where it is not always the same. The first step is left out where there are others, since it
 * may begin with an empty capacitor, and what follows the last start is incomplete. Without two starts it tells the fates
 * there were: `only ignored`, `no pulses`.
 */
export function fatePattern(timer: TimerFacts, window: Window): Observer & { result(): string } {
  const step = emptyCounts();
  const first = emptyCounts();
  const least = emptyCounts(Infinity);
  const most = emptyCounts(-Infinity);
  const all = emptyCounts();
  let starts = 0;
  const takeStep = (): void => {
    for (const fate of FATES) {
      if (starts === 2) first[fate] = step[fate];
      else {
        least[fate] = Math.min(least[fate], step[fate]);
        most[fate] = Math.max(most[fate], step[fate]);
      }
    }
  };
  const ledger = new FateLedger(timer, window, {
    pulse: () => {},
    pulseClosed(pulse) {
      const fate = fateOf(pulse);
      if (fate === 'started') {
        starts++;
        if (starts > 1) takeStep();
        Object.assign(step, emptyCounts());
      }
      step[fate]++;
      all[fate]++;
    },
    interval: () => {},
    intervalClosed: () => {},
  });
  return {
    ...watching(ledger),
    periods: new CountedPeriods(window, {
      visit(visitor) {
        ledger.visit(visitor);
        starts = visitor.sum(starts);
        for (const fate of FATES) {
          step[fate] = visitor.sum(step[fate]);
          all[fate] = visitor.sum(all[fate]);
          for (const kept of [first, least, most]) visitor.same(kept[fate]);
        }
      },
    }),
    result: () => {
      if (starts > 2) return patternText(least, most);
      if (starts === 2) return patternText(first, first);
      const met = FATES.filter((fate) => all[fate] > 0);
      return met.length === 0 ? 'no pulses' : `only ${met.join(' and ')}`;
    },
  };
}

/** A pattern as jumps go by it: itself where it is the same from start to start, else just `uneven`. */
export function patternRegion(pattern: string | null): string | null {
  return pattern?.includes(' to ') === true ? UNEVEN : pattern;
}

type Counts = Record<Fate, number>;

function emptyCounts(of = 0): Counts {
  return { started: of, held: of, ignored: of, short: of, barred: of };
}

function patternText(least: Counts, most: Counts): string {
  const words = FATES.filter((fate) => fate !== 'started' && most[fate] > 0).map((fate) => {
    const count = least[fate] === most[fate] ? `${least[fate]}` : `${least[fate]} to ${most[fate]}`;
    return `${count} ${fate}`;
  });
  return ['started', ...words].join(', ');
}
