import { addTwoPart, dividedBy, type TwoPart } from '../core/two-part.ts';
import type { Periods } from './observer.ts';

/** Goes over all that an observer keeps; each method gives the value to keep from then on. */
export interface PeriodVisitor {
  /** A count or a sum: grows by the same in every period. */
  sum(value: number): number;
  /** A date: stands still, or moves with the run. */
  date<Date extends TwoPart | undefined>(value: Date): Date;
  /** What must not change from period to period any more: an extreme, the length of a list. */
  same(value: unknown): void;
  /** What keeps all that a period brings, and can bring it again. */
  again(recorder: PeriodRecorder): void;
  /** Whether something that several may keep is gone over for the first time: its dates are to be moved once. */
  isNew(kept: object): boolean;
}

/** Notes what a period brings, so that further ones like it need not be gone through. */
export interface PeriodRecorder {
  /** A period has ended and the next begins. */
  begin(): void;
  /** The period that has ended comes so many times more; each begins one `period` (s) after the one before. */
  repeat(times: number, period: TwoPart): void;
}

/** Something that an observer keeps, and that can be gone over. */
export interface PeriodKeeper {
  /** Shows all that is kept to the visitor and keeps what it gives. */
  visit(visitor: PeriodVisitor): void;
}

/** Two periods add the same to a sum to within this share; what differs is the rounding of sums. */
const SAME_GROWTH = 1e-9;
const EPSILON = Number.EPSILON;

/** Values in the order in which they are visited. */
type Snapshot = readonly { readonly kind: 'sum' | 'date' | 'same'; readonly value: unknown }[];

/**
 * Tells an observer of periods by what it keeps: after two periods that did the same to it, counts and sums grow by so
 * many times as much, and dates move.
 *
 * @param window where the observer counts (s): before it and after it nothing changes.
 */
export class CountedPeriods implements Periods {
  #before: Snapshot | undefined;
  #last: Snapshot | undefined;
  #now: Snapshot | undefined;
  /** The date of the last snapshot (s). */
  #date = -Infinity;

  constructor(
    private readonly window: { readonly from: number; readonly until: number },
    private readonly keeper: PeriodKeeper,
  ) {}

  /** See {@link Periods}. */
  begin(now: number): number {
    const snapshot: { kind: 'sum' | 'date' | 'same'; value: unknown }[] = [];
    const take =
      (kind: 'sum' | 'date' | 'same') =>
      <Value>(value: Value): Value => {
        snapshot.push({ kind, value });
        return value;
      };
    const again = (recorder: PeriodRecorder): void => recorder.begin();
    this.keeper.visit({ sum: take('sum'), date: take('date'), same: take('same'), again, isNew: once() });
    const { from, until } = this.window;
    // What came before the window, or before its end, tells nothing of what comes after it, alike as it may look.
    const enters = [from, until].some((edge) => this.#date < edge && now >= edge);
    this.#before = enters ? undefined : this.#last;
    this.#last = enters ? undefined : this.#now;
    this.#now = snapshot;
    this.#date = now;
    if (!this.#before || !this.#last || !grewAlike(this.#before, this.#last, snapshot)) return 0;
    return now < from ? from : now < until ? until : Infinity;
  }

  /** See {@link Periods}. */
  repeat(times: number, later: TwoPart): void {
    const last = this.#last!;
    const period = dividedBy(later, times);
    let at = 0;
    this.keeper.visit({
      isNew: once(),
      again: (recorder) => recorder.repeat(times, period),
      sum(value) {
        return value + times * (value - (last[at++]!.value as number));
      },
      date<Date extends TwoPart | undefined>(value: Date): Date {
        const was = last[at++]!.value as TwoPart | undefined;
        if (value === undefined || was === undefined || isSameDate(value, was)) return value;
        return addTwoPart(value, later) as Date & TwoPart;
      },
      same() {
        at++;
      },
    });
    this.#before = undefined;
    this.#last = undefined;
    this.#now = undefined;
  }
}

/** Tells of each object whether it is asked for the first time. */
function once(): (kept: object) => boolean {
  const met = new Set<object>();
  return (kept) => !met.has(kept) && met.add(kept).has(kept);
}

function grewAlike(before: Snapshot, last: Snapshot, now: Snapshot): boolean {
  if (before.length !== now.length || last.length !== now.length) return false;
  return now.every(({ kind, value }, i) => {
    const [p, q] = [before[i]!, last[i]!];
    if (p.kind !== kind || q.kind !== kind) return false;
    if (kind === 'same') return Object.is(p.value, q.value) && Object.is(q.value, value);
    if (kind === 'sum') return sameSteps(p.value as number, q.value as number, value as number);
    const dates = [p.value, q.value, value] as (TwoPart | undefined)[];
    const [a, b, c] = dates;
    if (a === undefined || b === undefined || c === undefined) return a === b && b === c;
    return isSameDate(a, b) === isSameDate(b, c);
  });
}

function sameSteps(a: number, b: number, c: number): boolean {
  const [first, second] = [b - a, c - b];
  if (Number.isInteger(first) && Number.isInteger(second)) return first === second;
  return Math.abs(second - first) <= SAME_GROWTH * Math.abs(second) + 4 * EPSILON * Math.abs(c);
}

function isSameDate(a: TwoPart, b: TwoPart): boolean {
  return a.high === b.high && a.low === b.low;
}
