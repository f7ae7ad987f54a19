/** Most rows kept; when they are full, neighbours are joined. */
const MOST_ROWS = 4096;

/** Rows of samples, thinned evenly as they grow in number: of each group its first sample, and its lowest and highest. */
export class ThinnedRows {
  #stride = 1;
  #count = 0;
  #times: number[] = [];
  readonly #channels: { values: number[]; low: number[]; high: number[] }[];

  constructor(channels: number) {
    this.#channels = Array.from({ length: channels }, () => ({ values: [], low: [], high: [] }));
  }

  /** Adds a row: its time (s) and one value (V) a channel. */
  add(time: number, values: readonly number[]): void {
    if (this.#count % this.#stride === 0) {
      if (this.#times.length === MOST_ROWS) this.#join();
    }
    const begins = this.#count++ % this.#stride === 0;
    if (begins) this.#times.push(time);
    for (const [index, channel] of this.#channels.entries()) {
      const value = values[index]!;
      if (begins) {
        channel.values.push(value);
        channel.low.push(value);
        channel.high.push(value);
        continue;
      }
      const last = channel.low.length - 1;
      channel.low[last] = Math.min(channel.low[last]!, value);
      channel.high[last] = Math.max(channel.high[last]!, value);
    }
  }

  result(): {
    stride: number;
    times: readonly number[];
    channels: readonly { values: readonly number[]; low: readonly number[]; high: readonly number[] }[];
  } {
    return { stride: this.#stride, times: this.#times, channels: this.#channels };
  }

  #join(): void {
    const even = (list: readonly number[]): number[] => list.filter((_, index) => index % 2 === 0);
    const pairs = (list: readonly number[], of: (a: number, b: number) => number): number[] =>
      even(list).map((value, index) => of(value, list[2 * index + 1] ?? value));
    this.#times = even(this.#times);
    for (const channel of this.#channels) {
      channel.values = even(channel.values);
      channel.low = pairs(channel.low, Math.min);
      channel.high = pairs(channel.high, Math.max);
    }
    this.#stride *= 2;
  }
}
