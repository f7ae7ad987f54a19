import type { BoardResult, FaultRow, FaultyResult } from '../document/index.ts';

/** What a page has told so far, so that nothing is told twice. */
export class Told {
  /** Boards whose parts are listed. */
  readonly boards: BoardResult[] = [];
  readonly #faults = new Set<string>();
  readonly #cautions = new Set<string>();
  readonly #errors = new Map<string, string>();

  /** The board of this name, if its parts are listed. */
  boardNamed(name: string): BoardResult | undefined {
    return this.boards.find(({ board }) => board === name);
  }

  /** Those faults of a board's parts that no cell above has told, whatever window it looked at. */
  newFaults({ board, faults }: { readonly board: string; readonly faults: readonly FaultRow[] }): FaultRow[] {
    return faults.filter(({ part, what, pin }) => {
      const key = `${board} ${part} ${what} ${pin ?? ''}`;
      const known = this.#faults.has(key);
      this.#faults.add(key);
      return !known;
    });
  }

  /** Those cautions of a board's run that no cell above has told in the same words. */
  newCautions({ board, cautions }: { readonly board: string; readonly cautions: readonly string[] }): string[] {
    return cautions.filter((caution) => {
      const key = `${board} ${caution}`;
      const known = this.#cautions.has(key);
      this.#cautions.add(key);
      return !known;
    });
  }

  /**
   * The cell above that was stopped by the very same thing; notes the error if there is none.
   *
   * @param key the cell that asks.
   */
  sameError(key: string, { error }: FaultyResult): string | undefined {
    // A run that ended early names the cell that wanted it; what ended it is the same for all.
    const cause = error.message.replace(/^page\[\d+\](?: \([^)]*\))?: /, '');
    const above = this.#errors.get(cause);
    if (above === undefined) this.#errors.set(cause, key);
    return above;
  }
}
