/**
 * Tells all threads at once that work is to end early: in memory they share, so that it is seen in the middle of a run too,
 * where no message would be heard.
 */
export class StopFlag {
  readonly #flag: Int32Array;

  /** @param memory that of a flag in another thread; its own if not given. */
  constructor(readonly memory = new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT)) {
    this.#flag = new Int32Array(memory);
  }

  /** Whether work is to end. */
  get aborted(): boolean {
    return Atomics.load(this.#flag, 0) !== 0;
  }

  /** Ends the work, for good. */
  stop(): void {
    Atomics.store(this.#flag, 0, 1);
  }
}
