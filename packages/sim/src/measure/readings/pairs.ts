import { formatQuantity } from '../../quantity/index.ts';
import { type Instant, secondsBetween } from '../../trace/instant.ts';
import type { PeriodVisitor } from '../../trace/period-visitor.ts';
import { CompensatedSum } from '../compensated-sum.ts';
import type { ReadingOutcome, Window } from '../context.ts';
import type { NetEdge } from '../edge-feed.ts';
import type { EdgeTally } from '../edge-reading.ts';
import type { ParsedReading } from '../parse-reading.ts';
import { edgeWords, timesWords, windowWords } from '../reason-words.ts';

/** Whether the first and the second net of a pair are watched for rises; one edge word holds for both. */
function byRises({ edges }: ParsedReading): readonly [boolean, boolean] {
  return [edges[0] !== 'fall', (edges[1] ?? edges[0]) !== 'fall'];
}

/**
 * `ratio(out, in)`: rises of `in` after the first rise of `out` up to its last, divided by the number of steps between
 * rises of `out`. Wants the edges of `in` (which = 0) before those of `out` (which = 1) where they fall together, so that
 * a rise of `in` at the last rise of `out` counts and one at the first does not.
 */
export class RatioTally implements EdgeTally {
  readonly #parsed: ParsedReading;
  readonly #outByRise: boolean;
  readonly #inByRise: boolean;
  #outs = 0;
  #ins = 0;
  /** Rises of `in` since the latest rise of `out`: they count once `out` rises again. */
  #pending = 0;

  /** @param parsed a reading called `ratio`. */
  constructor(parsed: ParsedReading) {
    this.#parsed = parsed;
    [this.#outByRise, this.#inByRise] = byRises(parsed);
  }

  /** See {@link EdgeTally}. */
  edge({ which, high }: NetEdge): void {
    if (which === 1) this.output(high);
    else if (high) this.inputs(1, 0);
    else this.inputs(0, 1);
  }

  /** Begins anew. */
  clear(): void {
    this.#outs = this.#ins = this.#pending = 0;
  }

  /** So many rises and falls of `in`. */
  inputs(rises: number, falls: number): void {
    this.#pending += this.#inByRise ? rises : falls;
  }

  /** An edge of `out`. */
  output(high: boolean): void {
    if (high !== this.#outByRise) return;
    if (this.#outs > 0) this.#ins += this.#pending;
    this.#outs++;
    this.#pending = 0;
  }

  /** See {@link EdgeTally}. */
  visit(visitor: PeriodVisitor): void {
    this.#outs = visitor.sum(this.#outs);
    this.#ins = visitor.sum(this.#ins);
    this.#pending = visitor.sum(this.#pending);
  }

  /** See {@link EdgeTally}. */
  outcome(reached: Window): ReadingOutcome {
    if (this.#outs >= 2) return { value: this.#ins / (this.#outs - 1), unit: null };
    const { nets, limit } = this.#parsed;
    const edge = edgeWords(this.#outByRise, limit);
    const times = this.#outs === 0 ? `never ${edge}` : `${edge} ${timesWords(this.#outs)}`;
    return { value: null, reason: `${nets[0]} ${times} ${windowWords(reached)}; a ratio needs two`, unit: null };
  }
}

/**
 * `delay(a, b)`: mean time from a rise of `a` to the next rise of `b`, 0 where both come at once. Where `a` rises several
 * times before `b` does, the last of them counts: it is the one that `b` answers.
 */
export class DelayTally implements EdgeTally {
  readonly #parsed: ParsedReading;
  readonly #byRise: readonly [boolean, boolean];
  readonly #sum = new CompensatedSum();
  #count = 0;
  readonly #seen: [number, number] = [0, 0];
  #from: Instant | undefined;
  #lastFrom: Instant | undefined;

  /** @param parsed a reading called `delay`. */
  constructor(parsed: ParsedReading) {
    this.#parsed = parsed;
    this.#byRise = byRises(parsed);
  }

  /** See {@link EdgeTally}. */
  edge({ which, high, at }: NetEdge): void {
    if (high !== this.#byRise[which]) return;
    this.#seen[which === 0 ? 0 : 1]++;
    if (which === 0) {
      this.#from = at;
      this.#lastFrom = at;
    } else if (this.#from !== undefined) {
      this.#sum.add(secondsBetween(this.#from, at));
      this.#count++;
      this.#from = undefined;
    }
  }

  /** See {@link EdgeTally}. */
  visit(visitor: PeriodVisitor): void {
    this.#count = visitor.sum(this.#count);
    this.#sum.visit(visitor);
    this.#from = visitor.date(this.#from);
    this.#lastFrom = visitor.date(this.#lastFrom);
    for (const which of [0, 1] as const) this.#seen[which] = visitor.sum(this.#seen[which]);
  }

  /** See {@link EdgeTally}. */
  outcome(reached: Window): ReadingOutcome {
    if (this.#count > 0) return { value: this.#sum.value / this.#count, unit: 's' };
    const { nets, limit } = this.#parsed;
    for (const which of [0, 1] as const) {
      if (this.#seen[which] > 0) continue;
      const reason = `${nets[which]} never ${edgeWords(this.#byRise[which], limit)} ${windowWords(reached)}`;
      return { value: null, reason, unit: 's' };
    }
    const words = [edgeWords(this.#byRise[0], limit), edgeWords(this.#byRise[1], limit)];
    const since = formatQuantity(this.#lastFrom?.high ?? 0, 's', { digits: 4 });
    const reason = `${nets[0]} ${words[0]} last at ${since}, and ${nets[1]} never ${words[1]} after a time when ${nets[0]} ${words[0]} ${windowWords(reached)}`;
    return { value: null, reason, unit: 's' };
  }
}
