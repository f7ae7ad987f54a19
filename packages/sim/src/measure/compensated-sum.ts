import type { PeriodKeeper, PeriodVisitor } from '../trace/period-visitor.ts';

/** A running sum that carries what rounding dropped (Neumaier 1974), so that ten million terms lose nothing. */
export class CompensatedSum implements PeriodKeeper {
  #sum = 0;
  #dropped = 0;

  /** Adds one term. */
  add(term: number): void {
    const sum = this.#sum + term;
    this.#dropped += Math.abs(this.#sum) >= Math.abs(term) ? this.#sum - sum + term : term - sum + this.#sum;
    this.#sum = sum;
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    const { value } = this;
    const grown = visitor.sum(value);
    if (grown === value) return;
    this.#sum = grown;
    this.#dropped = 0;
  }

  /** The sum so far. */
  get value(): number {
    return this.#sum + this.#dropped;
  }
}
