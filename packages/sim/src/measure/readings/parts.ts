import type { Part } from '../../circuit/description.ts';
import { extremes, integral, productIntegral } from '../../core/exponential-sum.ts';
import { formatQuantity } from '../../quantity/index.ts';
import { CountedPeriods } from '../../trace/period-visitor.ts';
import { CompensatedSum } from '../compensated-sum.ts';
import type { ReadingObserver, Window } from '../context.ts';
import { PartWatch } from '../part-watch.ts';
import { NO_LENGTH } from './levels.ts';

/** `current(part)` and `light(led)`: mean current over the window, from the first net to the second, exact. */
export function meanCurrentReading(part: Part, window: Window, as: 'current' | 'light'): ReadingObserver {
  const watch = new PartWatch(part, window);
  const charge = new CompensatedSum();
  const leaked = new CompensatedSum();
  const unit = as === 'light' ? 'share' : 'A';
  return {
    periods: new CountedPeriods(window, {
      visit(visitor) {
        for (const keeper of [watch, charge, leaked]) keeper.visit(visitor);
      },
    }),
    begin: (table) => watch.begin(table),
    segment(segment) {
      const stretch = watch.look(segment);
      if (stretch === undefined) return;
      charge.add(integral(stretch.current, stretch.length));
      leaked.add(integral(stretch.voltage, stretch.length));
    },
    result: () => {
      if (watch.time === 0) return { value: null, reason: NO_LENGTH, unit };
      const ends = watch.capacitor;
      const moved =
        ends === undefined ? charge.value : ends.capacitance * (ends.until - ends.from) + leaked.value / ends.leakage;
      const mean = moved / watch.time;
      return { value: as === 'light' ? mean / Number(part.values.limit) : mean, unit };
    },
  };
}

/** `peak_current(part)`: largest current in the window in either direction. */
export function peakCurrentReading(part: Part, window: Window): ReadingObserver {
  const watch = new PartWatch(part, window);
  let largest: number | undefined;
  return {
    periods: new CountedPeriods(window, {
      visit(visitor) {
        watch.visit(visitor);
        visitor.same(largest);
      },
    }),
    begin: (table) => watch.begin(table),
    segment(segment) {
      const stretch = watch.look(segment);
      if (stretch === undefined) return;
      const { low, high } = extremes(stretch.current, 0, stretch.length);
      largest = Math.max(largest ?? 0, high, -low);
    },
    result: () => {
      if (largest === undefined) return { value: null, reason: NO_LENGTH, unit: 'A' };
      const jump = watch.capacitor?.jump;
      if (jump === undefined) return { value: largest, unit: 'A' };
      const at = formatQuantity(jump, 's', { digits: 4 });
      const reason = `${part.name} changes its voltage in an instant at ${at}, through no resistance; its current has no finite peak`;
      return { value: null, reason, unit: 'A' };
    },
  };
}

/** `power(part)`: mean of voltage times current over the window, positive where the part takes power up; exact. */
export function powerReading(part: Part, window: Window): ReadingObserver {
  const watch = new PartWatch(part, window);
  const energy = new CompensatedSum();
  const squared = new CompensatedSum();
  return {
    periods: new CountedPeriods(window, {
      visit(visitor) {
        for (const keeper of [watch, energy, squared]) keeper.visit(visitor);
      },
    }),
    begin: (table) => watch.begin(table),
    segment(segment) {
      const stretch = watch.look(segment);
      if (stretch === undefined) return;
      energy.add(productIntegral(stretch.voltage, stretch.current, stretch.length));
      squared.add(productIntegral(stretch.voltage, stretch.voltage, stretch.length));
    },
    result: () => {
      if (watch.time === 0) return { value: null, reason: NO_LENGTH, unit: 'W' };
      const ends = watch.capacitor;
      const taken =
        ends === undefined
          ? energy.value
          : (ends.capacitance * (ends.until ** 2 - ends.from ** 2)) / 2 + squared.value / ends.leakage;
      return { value: taken / watch.time, unit: 'W' };
    },
  };
}
