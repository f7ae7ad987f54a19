import { addTwoPart, dividedBy, multiplyTwoPart, type TwoPart } from '../core/two-part.ts';
import type { ColumnEnvelope } from './column-envelope.ts';
import type { SegmentSignal, SegmentView } from './frame.ts';
import type { Periods } from './observer.ts';
import { SignalSum } from './signal-sum.ts';

/** One stretch of a run, and what each lane does in it. */
interface KeptStretch {
  readonly start: TwoPart;
  readonly length: number;
  readonly signals: readonly SegmentSignal[];
}

/** A period with more stretches is gone through every time: memory does not depend on the length of the run. */
const MOST_KEPT = 4096;

/** Keeps what lanes do within a period, and puts it into their columns as often as it comes again. */
export class LanePeriods implements Periods {
  /** What has come since the latest period began; undefined where nothing is kept. */
  #record: KeptStretch[] | undefined;
  /** The period that has ended, if it is kept whole. */
  #period: readonly KeptStretch[] | undefined;
  /** When the latest period began (s). */
  #since = -Infinity;

  /** @param window where the columns are (s). */
  constructor(
    private readonly window: { readonly from: number; readonly until: number },
    private readonly lanes: readonly ColumnEnvelope[],
  ) {}

  /** Takes in a stretch of the window, with the signals of the lanes. */
  take({ start, startLow, length }: SegmentView, signalOf: (lane: number) => SegmentSignal): void {
    const record = this.#record;
    if (record === undefined) return;
    if (record.length === MOST_KEPT) {
      this.#record = undefined;
      return;
    }
    const signals = this.lanes.map((_, lane) => new SignalSum().keep(signalOf(lane), length));
    record.push({ start: { high: start, low: startLow }, length, signals });
  }

  /** See {@link Periods}. */
  begin(now: number): number {
    const { from, until } = this.window;
    this.#period = this.#since >= from ? this.#record : undefined;
    this.#record = [];
    this.#since = now;
    if (now < from) return from;
    if (now > until) return Infinity;
    return this.#period === undefined ? 0 : until;
  }

  /** See {@link Periods}. */
  repeat(times: number, later: TwoPart): void {
    const { until } = this.window;
    const period = this.#period;
    const inside = this.#since <= until;
    this.#record = undefined;
    this.#period = undefined;
    this.#since = -Infinity;
    if (period === undefined || !inside) return;
    for (const [lane, columns] of this.lanes.entries())
      repeatLane(columns, lane, period, times, dividedBy(later, times));
  }
}

function repeatLane(
  columns: ColumnEnvelope,
  lane: number,
  stretches: readonly KeptStretch[],
  times: number,
  period: TwoPart,
): void {
  const first = stretches[0];
  if (first === undefined) return;
  for (let done = 0; done < times; ) {
    done++;
    const by = multiplyTwoPart(period, { high: done, low: 0 });
    for (const { start, length, signals } of stretches) {
      const { high: moved, low: movedLow } = addTwoPart(start, by);
      columns.add(signals[lane]!, { start: moved, startLow: movedLow, length });
    }
    if (done === times) return;
    const next = addTwoPart(first.start, multiplyTwoPart(period, { high: done + 1, low: 0 }));
    done += columns.periodsToLeaveOut(next.high, next.low, period.high, times - done);
  }
}
