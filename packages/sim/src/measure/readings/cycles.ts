import { type Instant, secondsBetween } from '../../trace/instant.ts';
import type { PeriodVisitor } from '../../trace/period-visitor.ts';
import { CappedList, listOutcome } from '../capped-list.ts';
import { CompensatedSum } from '../compensated-sum.ts';
import type { ReadingOutcome, Window } from '../context.ts';
import type { NetEdge } from '../edge-feed.ts';
import type { EdgeTally } from '../edge-reading.ts';
import type { ParsedReading } from '../parse-reading.ts';
import { edgeWords, timesWords, windowWords } from '../reason-words.ts';

/** `period`, `frequency`, `duty` and `periods`: complete periods, from rise to rise unless `fall` is given. */
export class CycleTally implements EdgeTally {
  readonly #parsed: ParsedReading;
  /** Whether a period begins with a rise. */
  readonly #byRise: boolean;
  readonly #highTime = new CompensatedSum();
  readonly #list: CappedList<number>;
  #first: Instant | undefined;
  #last: Instant | undefined;
  #rise: Instant | undefined;
  #marks = 0;
  /** High time of the period that is not complete yet (s). */
  #pending = 0;

  /** @param parsed a reading called `period`, `frequency`, `duty` or `periods`. */
  constructor(parsed: ParsedReading) {
    this.#parsed = parsed;
    this.#byRise = parsed.edges[0] !== 'fall';
    this.#list = new CappedList(parsed.name === 'periods' ? undefined : 0);
  }

  /** See {@link EdgeTally}. */
  edge({ high, at }: NetEdge): void {
    if (high) this.#rise = at;
    else if (this.#rise !== undefined) this.#pending = secondsBetween(this.#rise, at);
    if (high !== this.#byRise) return;
    if (this.#last === undefined) this.#first = at;
    else {
      this.#list.add(secondsBetween(this.#last, at));
      this.#highTime.add(this.#pending);
    }
    this.#last = at;
    this.#marks++;
    this.#pending = 0;
  }

  /** See {@link EdgeTally}. */
  visit(visitor: PeriodVisitor): void {
    visitor.same(this.#first);
    this.#last = visitor.date(this.#last);
    this.#rise = visitor.date(this.#rise);
    this.#marks = visitor.sum(this.#marks);
    this.#pending = visitor.sum(this.#pending);
    this.#highTime.visit(visitor);
    this.#list.visit(visitor);
  }

  /** See {@link EdgeTally}. */
  outcome(reached: Window): ReadingOutcome {
    const { name, nets, limit } = this.#parsed;
    const unit = name === 'duty' ? 'share' : name === 'frequency' ? 'Hz' : 's';
    if (this.#first === undefined || this.#last === undefined || this.#marks < 2) {
      const times = this.#marks === 0 ? 'never ' : '';
      const once = this.#marks === 0 ? '' : `${timesWords(this.#marks)} `;
      const reason = `${nets[0]} ${times}${edgeWords(this.#byRise, limit)} ${once}${windowWords(reached)}`;
      return { value: null, reason, unit };
    }
    const total = secondsBetween(this.#first, this.#last);
    const periods = this.#marks - 1;
    if (name === 'periods') return listOutcome(this.#list, unit);
    if (name === 'duty') return { value: this.#highTime.value / total, unit };
    return { value: name === 'frequency' ? periods / total : total / periods, unit };
  }
}
