import { addTwoPart, multiplyTwoPart, type TwoPart } from '../core/two-part.ts';
import type { Instant } from './instant.ts';
import type { PeriodKeeper, PeriodRecorder, PeriodVisitor } from './period-visitor.ts';

/** An entry with the instants that its dates come from. */
interface Recorded<Entry> {
  readonly entry: Entry;
  readonly from: Instant;
  readonly until: Instant | undefined;
}

/**
 * A list of what happened when, which keeps its first entries and counts the rest. Where a run repeats itself, every period
 * brings the entries of the one before it anew, but for their dates.
 */
export class DatedList<Entry> implements PeriodKeeper, PeriodRecorder {
  readonly #entries: Entry[] = [];
  readonly #most: number;
  readonly #dated: (entry: Entry, from: Instant, until: Instant | undefined) => Entry;
  /** What has come since the latest period began; undefined before the first. */
  #record: Recorded<Entry>[] | undefined;
  #period: readonly Recorded<Entry>[] = [];
  /** Entries offered, kept or not. */
  count = 0;

  /**
   * @param most entries kept at most.
   * @param dated the same entry with other dates.
   */
  constructor(most: number, dated: (entry: Entry, from: Instant, until: Instant | undefined) => Entry) {
    this.#most = most;
    this.#dated = dated;
  }

  /** Offers an entry, and the instants that its dates come from; it is kept while there is room. */
  add(entry: Entry, from: Instant, until?: Instant): void {
    this.count++;
    if (this.#entries.length >= this.#most) return;
    this.#entries.push(entry);
    this.#record?.push({ entry, from, until });
  }

  /** The entries kept. */
  get entries(): readonly Entry[] {
    return this.#entries;
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    this.count = visitor.sum(this.count);
    visitor.again(this);
  }

  /** See {@link PeriodRecorder}. */
  begin(): void {
    this.#period = this.#record ?? [];
    this.#record = [];
  }

  /** See {@link PeriodRecorder}. */
  repeat(times: number, period: TwoPart): void {
    this.#record = undefined;
    if (this.#period.length === 0) return;
    for (let time = 1; time <= times; time++) {
      const by = multiplyTwoPart(period, { high: time, low: 0 });
      for (const { entry, from, until } of this.#period) {
        if (this.#entries.length >= this.#most) return;
        this.#entries.push(this.#dated(entry, addTwoPart(from, by), until && addTwoPart(until, by)));
      }
    }
  }
}
