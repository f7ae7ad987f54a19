/** A change found between two neighbouring places: the largest place known before it and the smallest known after it. */
export interface Change<Seen> {
  readonly below: number;
  readonly above: number;
  readonly seenBelow: Seen;
  readonly seenAbove: Seen;
}

/** How closely changes are found, and how many between two places. */
export interface ChangeSearch {
  /** Largest width of the bracket of a change, as a share of its place. */
  readonly precision: number;
  /** Changes found between two places at most; there may be more. */
  readonly most: number;
}

/**
 * Finds by bisection where something changes on the way from one place to another: first the end of what is at the start,
 * then, if what comes after is not yet what is at the end, the end of that, and so on. A change that is undone before the
 * end of the stretch cannot be noticed.
 *
 * @param look what is seen at a place; undefined stops the search.
 * @param key what counts as the same: equal keys, no change.
 * @returns the changes in the order of their places; undefined when `look` gave nothing.
 */
export function findChanges<Seen>(
  from: { readonly at: number; readonly seen: Seen },
  to: { readonly at: number; readonly seen: Seen },
  look: (at: number) => Seen | undefined,
  key: (seen: Seen) => string,
  { precision, most }: ChangeSearch,
): Change<Seen>[] | undefined {
  const changes: Change<Seen>[] = [];
  const last = key(to.seen);
  let start = from;
  while (key(start.seen) !== last && changes.length < most) {
    const before = key(start.seen);
    let below = start;
    let above = to;
    for (;;) {
      const middle = below.at + (above.at - below.at) / 2;
      const width = above.at - below.at;
      if (width <= precision * Math.max(Math.abs(below.at), Math.abs(above.at))) break;
      // Neighbouring numbers have nothing between them.
      if (!(middle > below.at && middle < above.at)) break;
      const seen = look(middle);
      if (seen === undefined) return undefined;
      if (key(seen) === before) below = { at: middle, seen };
      else above = { at: middle, seen };
    }
    changes.push({ below: below.at, above: above.at, seenBelow: below.seen, seenAbove: above.seen });
    start = above;
  }
  return changes;
}
