/** Differences kept before every second one is dropped. */
const MOST_KEPT = 4096;
/** Median of the absolute value of a normal variable, as a share of its standard deviation. */
const MEDIAN_SHARE = 0.67449;

/**
 * Estimates the noise of a sampled voltage: by how much samples differ from the line through their neighbours, taken by the
 * median so that edges do not count. At least what the steps of the instrument leave open.
 */
export class NoiseMeter {
  readonly #before: number[] = [];
  #kept: number[] = [];
  #every = 1;
  #count = 0;
  #leastStep = Infinity;

  /** Adds the next sample (V). */
  add(value: number): void {
    const [first, second] = this.#before;
    if (second !== undefined && value !== second) this.#leastStep = Math.min(this.#leastStep, Math.abs(value - second));
    if (first !== undefined && second !== undefined && this.#count++ % this.#every === 0) {
      this.#kept.push(Math.abs(value - 2 * second + first));
      if (this.#kept.length === MOST_KEPT) {
        this.#kept = this.#kept.filter((_, index) => index % 2 === 0);
        this.#every *= 2;
      }
    }
    this.#before.push(value);
    if (this.#before.length > 2) this.#before.shift();
  }

  /** Standard deviation (V). */
  result(): number {
    const sorted = [...this.#kept].sort((a, b) => a - b);
    const median = sorted[Math.floor(sorted.length / 2)] ?? 0;
    // Second differences of independent samples have six times their variance.
    const noise = median / MEDIAN_SHARE / Math.sqrt(6);
    const rounding = Number.isFinite(this.#leastStep) ? this.#leastStep / Math.sqrt(12) : 0;
    return Math.max(noise, rounding);
  }
}
