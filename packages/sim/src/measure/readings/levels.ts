import { extremes, integral, valueAt } from '../../core/exponential-sum.ts';
import type { SegmentView } from '../../trace/frame.ts';
import { CountedPeriods } from '../../trace/period-visitor.ts';
import { signalIndex } from '../../trace/signal-name.ts';
import { SignalSum } from '../../trace/signal-sum.ts';
import { clip } from '../clip.ts';
import { CompensatedSum } from '../compensated-sum.ts';
import type { ReadingObserver, Window } from '../context.ts';
import { outsideWords } from '../reason-words.ts';

/** Why a mean or a peak over nothing has no value. */
export const NO_LENGTH = 'nothing of the window was computed';

/** `level(net, t)`: the voltage at a time (s); at a jump the value after it, at the end of the run the value it ends on. */
export function levelReading(net: string, at: number): ReadingObserver {
  let index = -1;
  let value: number | null = null;
  let reached = 0;
  return {
    // Only the stretch that holds the time counts, and it is gone through.
    periods: { begin: (now) => (now <= at ? at : Infinity), repeat: () => {} },
    begin(table) {
      index = signalIndex(table, { net });
    },
    segment(segment: SegmentView) {
      const { start, startLow, length } = segment;
      if (start > at) return;
      const local = at - start - startLow;
      if (local > length + 2 * Number.EPSILON * at) return;
      value = valueAt(segment.signal(index), Math.min(length, Math.max(0, local)));
    },
    end(time) {
      reached = time;
    },
    result: () => {
      if (value !== null) return { value, unit: 'V' };
      const reason = at < 0 ? 'the time lies before 0 s, where the run starts' : outsideWords(at, reached);
      return { value, reason, unit: 'V' };
    },
  };
}

/** `peak(net)` and `trough(net)`: highest and lowest voltage in the window, both sides of every jump included. */
export function extremeReading(net: string, window: Window, which: 'high' | 'low'): ReadingObserver {
  let index = -1;
  let value: number | undefined;
  return {
    periods: new CountedPeriods(window, { visit: (visitor) => visitor.same(value) }),
    begin(table) {
      index = signalIndex(table, { net });
    },
    segment(segment) {
      const inside = clip(segment, window);
      if (inside === undefined) return;
      const found = extremes(segment.signal(index), inside.begin, inside.end)[which];
      if (value === undefined || (which === 'high' ? found > value : found < value)) value = found;
    },
    result: () => (value === undefined ? { value: null, reason: NO_LENGTH, unit: 'V' } : { value, unit: 'V' }),
  };
}

/** `mean(net)`: mean voltage over the window, exact. */
export function meanReading(net: string, window: Window): ReadingObserver {
  const sum = new SignalSum();
  const area = new CompensatedSum();
  const time = new CompensatedSum();
  let index = -1;
  return {
    periods: new CountedPeriods(window, {
      visit(visitor) {
        area.visit(visitor);
        time.visit(visitor);
      },
    }),
    begin(table) {
      index = signalIndex(table, { net });
    },
    segment(segment) {
      const inside = clip(segment, window);
      if (inside === undefined) return;
      const length = inside.end - inside.begin;
      const signal = inside.begin === 0 ? segment.signal(index) : sum.load(segment, index).shift(inside.begin);
      area.add(signal.steady === signal.constant ? signal.constant * length : integral(signal, length));
      time.add(length);
    },
    result: () =>
      time.value > 0 ? { value: area.value / time.value, unit: 'V' } : { value: null, reason: NO_LENGTH, unit: 'V' },
  };
}
