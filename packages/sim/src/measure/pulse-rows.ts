import { DatedList } from '../trace/dated-list.ts';
import { type Instant, secondsBetween } from '../trace/instant.ts';
import type { PeriodKeeper, PeriodVisitor } from '../trace/period-visitor.ts';
import { endOf, fateOf, type PulseFacts, secondsToGo, visitPulse } from './pulse-facts.ts';
import type { PulseRow } from './rows.ts';
import { startsCharged } from './start-level.ts';

/**
 * The first pulses of a window as rows, in the order of time. A pulse becomes a row as soon as nothing about it can change
 * any more, and its facts are forgotten: to keep thousands of them costs more than to make them.
 */
export class PulseRows implements PeriodKeeper {
  readonly #rows: DatedList<PulseRow>;
  /** Those that follow the rows and may still change, or wait for one that may. */
  readonly #open: PulseFacts[] = [];
  readonly #most: number;
  readonly #reasonOf: (pulse: PulseFacts) => string;
  #count = 0;

  /**
   * @param most how many are listed at most; the rest is counted.
   * @param reasonOf what is said of a pulse.
   */
  constructor(most: number, reasonOf: (pulse: PulseFacts) => string) {
    this.#most = most;
    this.#reasonOf = reasonOf;
    this.#rows = new DatedList(most, datedRow);
  }

  /** Takes in the next pulse, whose facts are filled in further. */
  add(pulse: PulseFacts): void {
    this.#count++;
    while (this.#open.length > 0 && isSettled(this.#open[0]!)) this.#close();
    if (this.#listed < this.#most) this.#open.push(pulse);
  }

  /** See {@link PeriodKeeper}. */
  visit(visitor: PeriodVisitor): void {
    visitor.same(this.#open.length);
    for (const pulse of this.#open) visitPulse(pulse, visitor);
    this.#count = visitor.sum(this.#count);
    this.#rows.visit(visitor);
  }

  /** Whether there were more than are listed. */
  get isCut(): boolean {
    return this.#count > this.#listed;
  }

  /** All rows, once the run is over. */
  rows(): readonly PulseRow[] {
    while (this.#open.length > 0) this.#close();
    return this.#rows.entries;
  }

  get #listed(): number {
    return this.#rows.entries.length + this.#open.length;
  }

  #close(): void {
    const pulse = this.#open.shift()!;
    this.#rows.add(pulseRow(pulse, this.#reasonOf(pulse)), pulse.time, pulse.end);
  }
}

/** Whether all is known about a pulse: that it has ended, and so have the intervals that it found and began. */
function isSettled({ end, limit, found, began }: PulseFacts): boolean {
  if (end === undefined || limit === undefined) return false;
  if (found !== undefined && found.end === undefined) return false;
  return began === undefined || (began.end !== undefined && began.limit !== undefined);
}

function datedRow(row: PulseRow, time: Instant, end: Instant | undefined): PulseRow {
  return { ...row, time: time.high, end: end?.high ?? null };
}

function pulseRow(pulse: PulseFacts, reason: string): PulseRow {
  const { time, end, open, heldFor, began } = pulse;
  const fate = fateOf(pulse);
  const toGo = secondsToGo(pulse);
  const beganEnd = began === undefined ? undefined : endOf(began);
  const empty = fate === 'started' && began !== undefined && !startsCharged(began);
  const at = fate === 'started' ? began : pulse;
  const threshold = empty ? undefined : at?.threshold;
  const limit = at?.limit;
  const interval = began === undefined || beganEnd === undefined ? undefined : secondsBetween(began.start, beganEnd);
  const [from, to] = [time.high, end?.high ?? null];
  // Nearly all are of one of these kinds. Each as a whole: fields that are put to an object later, or spread into it, take
  // longer than all the rest, and there are thousands of them.
  if (!open && heldFor === undefined && limit !== undefined) {
    if (fate === 'started' && interval !== undefined) {
      return threshold === undefined
        ? { time: from, end: to, fate, reason, limit, interval }
        : { time: from, end: to, fate, reason, threshold, limit, interval };
    }
    if (fate === 'ignored' && threshold !== undefined && toGo !== undefined) {
      return { time: from, end: to, fate, reason, threshold, limit, toGo };
    }
  }
  const row: { -readonly [Field in keyof PulseRow]: PulseRow[Field] } = { time: from, end: to, fate, reason };
  if (open) row.open = true;
  if (heldFor !== undefined) row.heldFor = heldFor;
  if (threshold !== undefined) row.threshold = threshold;
  if (limit !== undefined) row.limit = limit;
  if (toGo !== undefined && fate !== 'started') row.toGo = toGo;
  if (interval !== undefined) row.interval = interval;
  return row;
}
