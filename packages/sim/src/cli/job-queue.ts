/** A job to run. */
export interface JobOrder {
  /** Key of the cell. */
  readonly id: string;
  readonly index: number;
}

/**
 * Jobs that several threads take, each the next one whenever it is free: how many are taken stands in memory they share, so
 * that nobody has to wait for an answer to get one.
 */
export class JobQueue {
  readonly #taken: Int32Array;

  /** @param taken that of a queue of the same jobs in another thread; its own if not given. */
  constructor(
    readonly orders: readonly JobOrder[],
    readonly taken = new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT),
  ) {
    this.#taken = new Int32Array(taken);
  }

  /** The next job that no thread has taken; undefined when there is none left. */
  take(): JobOrder | undefined {
    return this.orders[Atomics.add(this.#taken, 0, 1)];
  }
}
