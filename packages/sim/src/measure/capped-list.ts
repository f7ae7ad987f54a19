import type { Unit } from '../quantity/index.ts';
import type { PeriodKeeper, PeriodVisitor } from '../trace/period-visitor.ts';
import type { ReadingOutcome } from './context.ts';
import { MOST_LISTED } from './edges.ts';

/** A list that keeps its first entries and counts the rest. */
export class CappedList<Entry> implements PeriodKeeper {
  readonly #entries: Entry[] = [];
  readonly #most: number;
  /** Entries offered, kept or not. */
  count = 0;

  /** @param most entries kept at most. */
  constructor(most: number = MOST_LISTED) {
    this.#most = most;
  }

  /** Offers an entry; it is kept while there is room. */
  add(entry: Entry): void {
    this.count++;
    if (this.#entries.length < this.#most) this.#entries.push(entry);
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    visitor.same(this.#entries.length);
    this.count = visitor.sum(this.count);
  }

  /** The entries kept. */
  get entries(): readonly Entry[] {
    return this.#entries;
  }
}

/** A list as a reading, with the cut said where there was one. */
export function listOutcome(list: CappedList<number>, unit: Unit): ReadingOutcome {
  const { entries, count } = list;
  if (count === entries.length) return { value: entries, unit };
  return { value: entries, unit, reason: `Only the first ${entries.length} of ${count} entries are listed.` };
}
