import { NumberMemory } from '../core/number-memory.ts';

/** A part of the state that decays by less than this is stepped by what it changes, not by where it aims. */
export const NEARLY_STILL = 0.9;

/**
 * The exponentials exp(-rates[k] t) at one time. They are kept until another time is asked for: the root of one guard, the
 * test of the others against it and the step to it share them. One serves one run.
 */
export class Powers {
  /** The exponentials; those of the first, idle rates are not filled in. */
  readonly values: Float64Array;
  private time = -1;
  private rates: Float64Array | undefined;

  /** @param memory where it has its row. */
  constructor(largestStateCount: number, memory = new NumberMemory()) {
    this.values = memory.row(largestStateCount);
  }

  /** Fills in the values of the rates from `idle` on at a local time (s). */
  at(time: number, rates: Float64Array, idle: number): Float64Array {
    const { values } = this;
    if (time !== this.time || rates !== this.rates) {
      for (let k = idle; k < rates.length; k++) values[k] = Math.exp(-rates[k]! * time);
      this.time = time;
      this.rates = rates;
    }
    return values;
  }

  /** Takes over the exponential of rate k, the only one that is not idle, where it is known without working it out. */
  know(value: number, k: number, time: number, rates: Float64Array): void {
    this.values[k] = value;
    this.time = time;
    this.rates = rates;
  }
}
