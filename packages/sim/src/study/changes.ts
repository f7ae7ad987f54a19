/** A change found between two neighbouring places: the largest place known before it and the smallest known after it. */
export interface Change<Seen> {
  readonly below: number;
  readonly above: number;
  readonly seenBelow: Seen;
  readonly seenAbove: Seen;
}

/** How closely changes are found, and how many between two places. */
export interface ChangeSearch<Seen> {
  /** Largest width of the bracket of a change, as a share of its place. */
  readonly precision: number;
  /** Changes found between two places at most; there may be more. */
  readonly most: number;
  /** Where what is seen at the start may end, if there is an idea: a good one saves most of the halving. */
  readonly guess?: (seen: Seen) => number | undefined;
}

/** Places nearer to 0 than this share of the stretch count as that far from it: halving would go on for long. */
const NEAR_ZERO = 1e-6;

/** How far from a guess the first look is, in times the precision; the next is as far beyond it, and steps grow by this factor. */
const NEAR = 0.45;
const GROWTH = 8;

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
  { precision, most, guess }: ChangeSearch<Seen>,
): Change<Seen>[] | undefined {
  const changes: Change<Seen>[] = [];
  const last = key(to.seen);
  const nearZero = NEAR_ZERO * (to.at - from.at);
  let start = from;
  while (key(start.seen) !== last && changes.length < most) {
    const before = key(start.seen);
    let below = start;
    let above = to;
    /** Looks at a place between the two and moves one of them there: whether what is before has ended by then. */
    const hasEnded = (at: number): boolean | undefined => {
      const seen = look(at);
      if (seen === undefined) return undefined;
      const ended = key(seen) !== before;
      if (ended) above = { at, seen };
      else below = { at, seen };
      return ended;
    };
    const guessed = guess?.(start.seen) ?? NaN;
    const near = NEAR * precision * Math.max(Math.abs(guessed), nearZero);
    if (guessed - near > below.at && guessed < above.at) {
      // A good guess has the change between a place just before it and one just after.
      const first = hasEnded(guessed - near);
      if (first === undefined) return undefined;
      for (let step = 2 * near; step > 0; step *= GROWTH) {
        const at: number = first ? above.at - step : below.at + step;
        if (!(at > below.at && at < above.at)) break;
        const ended = hasEnded(at);
        if (ended === undefined) return undefined;
        if (ended !== first) break;
      }
    }
    for (;;) {
      const middle = below.at + (above.at - below.at) / 2;
      const width = above.at - below.at;
      if (width <= precision * Math.max(Math.abs(below.at), Math.abs(above.at), nearZero)) break;
      // Neighbouring numbers have nothing between them.
      if (!(middle > below.at && middle < above.at)) break;
      if (hasEnded(middle) === undefined) return undefined;
    }
    changes.push({ below: below.at, above: above.at, seenBelow: below.seen, seenAbove: above.seen });
    start = above;
  }
  return changes;
}
