import type { PeriodKeeper, PeriodVisitor } from '../trace/period-visitor.ts';
import { CompensatedSum } from './compensated-sum.ts';

/** Least, greatest and mean of what was seen. */
export class Range implements PeriodKeeper {
  readonly #sum = new CompensatedSum();
  /** How many values were seen. */
  count = 0;
  /** Least value; infinite before the first. */
  low = Infinity;
  /** Greatest value; minus infinite before the first. */
  high = -Infinity;

  /** Takes in one value. */
  add(value: number): void {
    this.count++;
    this.#sum.add(value);
    if (value < this.low) this.low = value;
    if (value > this.high) this.high = value;
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    visitor.same(this.low);
    visitor.same(this.high);
    this.count = visitor.sum(this.count);
    this.#sum.visit(visitor);
  }

  /** Sum of all values. */
  get total(): number {
    return this.#sum.value;
  }

  /** Whether all values agree to a share of their size. */
  within(share: number): boolean {
    return this.count > 0 && this.high - this.low <= share * Math.max(Math.abs(this.low), Math.abs(this.high));
  }
}
