import type { Instant } from '../../trace/instant.ts';
import type { PeriodVisitor } from '../../trace/period-visitor.ts';
import { CappedList } from '../capped-list.ts';
import type { ReadingOutcome, Window } from '../context.ts';
import type { NetEdge } from '../edge-feed.ts';
import type { EdgeTally } from '../edge-reading.ts';
import type { ParsedReading } from '../parse-reading.ts';
import { edgeWords, windowWords } from '../reason-words.ts';
import type { EdgeRow } from '../rows.ts';

/** `count` and `first`: rises unless `fall` is given. A count of none is 0, for that is what was counted. */
export class MarkTally implements EdgeTally {
  readonly #parsed: ParsedReading;
  readonly #byRise: boolean;
  #first: Instant | undefined;
  #count = 0;

  /** @param parsed a reading called `count` or `first`. */
  constructor(parsed: ParsedReading) {
    this.#parsed = parsed;
    this.#byRise = parsed.edges[0] !== 'fall';
  }

  /** See {@link EdgeTally}. */
  edge({ high, at }: NetEdge): void {
    if (high !== this.#byRise) return;
    this.#first ??= at;
    this.#count++;
  }

  /** See {@link EdgeTally}. */
  visit(visitor: PeriodVisitor): void {
    visitor.same(this.#first);
    this.#count = visitor.sum(this.#count);
  }

  /** See {@link EdgeTally}. */
  outcome(reached: Window): ReadingOutcome {
    if (this.#parsed.name === 'count') return { value: this.#count, unit: null };
    if (this.#first !== undefined) return { value: this.#first.high, unit: 's' };
    const { nets, limit } = this.#parsed;
    const reason = `${nets[0]} never ${edgeWords(this.#byRise, limit)} ${windowWords(reached)}`;
    return { value: null, reason, unit: 's' };
  }
}

/** `edges`: every edge of the window as a list. */
export class EdgeListTally implements EdgeTally {
  readonly #net: string;
  readonly #list = new CappedList<EdgeRow>();

  /** @param parsed a reading called `edges`. */
  constructor(parsed: ParsedReading) {
    this.#net = parsed.nets[0]!;
  }

  /** See {@link EdgeTally}. */
  edge({ high, at }: NetEdge): void {
    this.#list.add({ time: at.high, to: high ? 'high' : 'low' });
  }

  /** See {@link EdgeTally}. */
  visit(visitor: PeriodVisitor): void {
    this.#list.visit(visitor);
  }

  /** See {@link EdgeTally}. */
  outcome(reached: Window): ReadingOutcome {
    const { entries, count } = this.#list;
    if (count === 0) {
      return { value: null, reason: `${this.#net} neither rose nor fell ${windowWords(reached)}`, unit: null };
    }
    if (count === entries.length) return { value: entries, unit: null };
    return { value: entries, unit: null, reason: `Only the first ${entries.length} of ${count} edges are listed.` };
  }
}
