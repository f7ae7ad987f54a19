/** Numbers in the first piece of memory, and the most in later ones, each of which is twice the one before. */
const FIRST_PIECE = 1024;
const LARGEST_PIECE = 4096;
const BYTES = Float64Array.BYTES_PER_ELEMENT;

/**
 * Hands out short rows of numbers from few pieces of memory. A typed array of its own of more than eight numbers, which
 * lies outside of the heap, takes as long to get as twenty to a hundred exponentials to work out, and has to be looked after
 * by the collector; a row of a larger piece takes as long as two to five. What is handed out is never taken back: a piece
 * goes when all its rows have gone.
 */
export class NumberMemory {
  /** The present piece, as what a row is made of: to ask a typed array for that takes as long as to make the row. */
  private piece = new ArrayBuffer(FIRST_PIECE * BYTES);
  private length = FIRST_PIECE;
  private used = 0;

  /** A row of zeros. */
  row(length: number): Float64Array {
    const end = this.used + length;
    if (end > this.length) return this.rowOfNext(length);
    const row = new Float64Array(this.piece, this.used * BYTES, length);
    this.used = end;
    return row;
  }

  /** A row with the numbers of another one. */
  copy(numbers: Float64Array): Float64Array {
    const row = this.row(numbers.length);
    for (let at = 0; at < row.length; at++) row[at] = numbers[at]!;
    return row;
  }

  private rowOfNext(length: number): Float64Array {
    if (length > LARGEST_PIECE / 4) return new Float64Array(length);
    this.length = Math.min(2 * this.length, LARGEST_PIECE);
    this.piece = new ArrayBuffer(this.length * BYTES);
    this.used = 0;
    return this.row(length);
  }
}
