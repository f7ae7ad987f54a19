/** What a cell tells of a change: clauses about what is another, and the names of what is as before. */
export interface Comparison {
  readonly changed: readonly string[];
  readonly same: readonly string[];
}

/** A comparison of texts: a name each, what it is now and what it was. */
export function toldEntries(entries: readonly (readonly [name: string, is: string, was: string])[]): Comparison {
  return {
    changed: entries.flatMap(([name, is, was]) => (is === was ? [] : [`${name} ${is}, was ${was}`])),
    same: entries.flatMap(([name, is, was]) => (is === was ? [name] : [])),
  };
}

/** Several comparisons as one, in their order. */
export function joined(comparisons: readonly Comparison[]): Comparison {
  return {
    changed: comparisons.flatMap(({ changed }) => changed),
    same: comparisons.flatMap(({ same }) => same),
  };
}
