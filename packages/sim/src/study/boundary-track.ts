/**
 * Follows boundaries from one line of a grid to the next and says where they may be met again: where a straight line
 * through the latest two places leads. The boundary of a ratio, T = k Tin, is nearly straight over most values.
 */
export class BoundaryTrack {
  readonly #places = new Map<string, readonly Place[]>();
  #line = NaN;

  /** Goes on to the next line. @param line where it lies on the axis across it. */
  nextLine(line: number): void {
    this.#line = line;
  }

  /** Where a region may end on the present line, if it ended on the two before it. */
  guess(region: string): number | undefined {
    const known = (this.#places.get(region) ?? []).filter(({ line }) => line !== this.#line);
    const [second, first] = [known.at(-1), known.at(-2)];
    if (first === undefined || second === undefined) return second?.at;
    return second.at + ((second.at - first.at) * (this.#line - second.line)) / (second.line - first.line);
  }

  /** A region ended there on the present line. */
  add(region: string, at: number): void {
    const known = (this.#places.get(region) ?? []).filter(({ line }) => line !== this.#line);
    this.#places.set(region, [...known.slice(-1), { line: this.#line, at }]);
  }
}

interface Place {
  readonly line: number;
  readonly at: number;
}
