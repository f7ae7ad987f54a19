/** A list of doubles that grows: room is doubled when it runs out. */
export class GrowingNumbers {
  #values: Float64Array<ArrayBuffer> = new Float64Array(64);
  /** How many numbers are in the list. */
  length = 0;

  /** Appends one number. */
  push(value: number): void {
    if (this.length === this.#values.length) {
      const wider = new Float64Array(2 * this.length);
      wider.set(this.#values);
      this.#values = wider;
    }
    this.#values[this.length++] = value;
  }

  /** The number at a position below `length`. */
  at(position: number): number {
    return this.#values[position]!;
  }

  /** A view of part of the list; it goes out of date when the list grows. */
  view(from: number, to: number): Float64Array<ArrayBuffer> {
    return this.#values.subarray(from, to);
  }
}
