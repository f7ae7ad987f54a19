/** Longest line that is read (characters): a row of numbers is far shorter. */
const LONGEST_LINE = 10_000;

/** A line, or that it was longer than anything a row of numbers can be. */
export type Line = { readonly number: number; readonly text: string | undefined };

/**
 * Cuts text that comes in chunks into lines, ended by LF, CR LF or CR, in memory that does not depend on its length: of a
 * line that is too long only the fact is kept. A byte order mark at the start is skipped.
 */
export class LineSplitter {
  readonly #take: (line: Line) => void;
  #number = 1;
  #rest = '';
  #tooLong = false;
  #afterReturn = false;
  #begun = false;

  /** @param take told every line, in order. */
  constructor(take: (line: Line) => void) {
    this.#take = take;
  }

  /** Adds text; lines that end in it are told at once. */
  push(chunk: string): void {
    let from = 0;
    if (!this.#begun && chunk.length > 0) {
      this.#begun = true;
      if (chunk.startsWith('\uFEFF')) from = 1;
    }
    for (let at = from; at < chunk.length; at++) {
      const code = chunk.charCodeAt(at);
      const isReturn = code === 13;
      if (!isReturn && code !== 10) {
        this.#afterReturn = false;
        continue;
      }
      if (code === 10 && this.#afterReturn && at === from) from = at + 1;
      else {
        this.#add(chunk.slice(from, at));
        this.#finish();
        from = at + 1;
      }
      this.#afterReturn = isReturn;
    }
    this.#add(chunk.slice(from));
  }

  /** Tells the last line, if there is one without an end. */
  end(): void {
    if (this.#rest !== '' || this.#tooLong) this.#finish();
  }

  #add(text: string): void {
    if (this.#tooLong) return;
    this.#rest += text;
    if (this.#rest.length <= LONGEST_LINE) return;
    this.#rest = '';
    this.#tooLong = true;
  }

  #finish(): void {
    this.#take({ number: this.#number++, text: this.#tooLong ? undefined : this.#rest });
    this.#rest = '';
    this.#tooLong = false;
  }
}
