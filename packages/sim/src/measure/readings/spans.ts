import { formatQuantity } from '../../quantity/index.ts';
import { type Instant, secondsBetween } from '../../trace/instant.ts';
import type { PeriodVisitor } from '../../trace/period-visitor.ts';
import { CappedList, listOutcome } from '../capped-list.ts';
import { CompensatedSum } from '../compensated-sum.ts';
import type { ReadingOutcome, Window } from '../context.ts';
import type { NetEdge } from '../edge-feed.ts';
import type { EdgeTally } from '../edge-reading.ts';
import type { ParsedReading } from '../parse-reading.ts';
import { edgeWords, windowWords } from '../reason-words.ts';

/** `width`, `low` and their lists: how long a net stays high, or low between two pulses; complete ones only. */
export class SpanTally implements EdgeTally {
  readonly #parsed: ParsedReading;
  /** Whether the time high is meant. */
  readonly #high: boolean;
  readonly #sum = new CompensatedSum();
  readonly #list: CappedList<number>;
  #begin: Instant | undefined;
  #begins = 0;
  #ends = 0;

  /** @param parsed a reading called `width`, `widths`, `low` or `lows`. */
  constructor(parsed: ParsedReading) {
    this.#parsed = parsed;
    this.#high = parsed.name.startsWith('width');
    this.#list = new CappedList(parsed.name.endsWith('s') ? undefined : 0);
  }

  /** See {@link EdgeTally}. */
  edge({ high, at }: NetEdge): void {
    if (high === this.#high) {
      this.#begin = at;
      this.#begins++;
      return;
    }
    this.#ends++;
    if (this.#begin === undefined) return;
    const span = secondsBetween(this.#begin, at);
    this.#sum.add(span);
    this.#list.add(span);
  }

  /** See {@link EdgeTally}. */
  visit(visitor: PeriodVisitor): void {
    this.#begin = visitor.date(this.#begin);
    this.#begins = visitor.sum(this.#begins);
    this.#ends = visitor.sum(this.#ends);
    this.#sum.visit(visitor);
    this.#list.visit(visitor);
  }

  /** See {@link EdgeTally}. */
  outcome(reached: Window): ReadingOutcome {
    const { count } = this.#list;
    if (count === 0) return { value: null, reason: this.#reason(reached), unit: 's' };
    if (this.#parsed.name.endsWith('s')) return listOutcome(this.#list, 's');
    return { value: this.#sum.value / count, unit: 's' };
  }

  #reason(reached: Window): string {
    const { nets, limit } = this.#parsed;
    const begin = edgeWords(this.#high, limit);
    const end = edgeWords(!this.#high, limit);
    if (this.#begins === 0) return `${nets[0]} never ${begin} ${windowWords(reached)}`;
    if (this.#ends === 0) return `${nets[0]} never ${end} ${windowWords(reached)}`;
    const since = formatQuantity(this.#begin?.high ?? 0, 's', { digits: 4 });
    return `${nets[0]} ${begin} at ${since} and never ${end} again ${windowWords({ from: 0, until: reached.until })}`;
  }
}
