import { valueAt } from '../core/exponential-sum.ts';
import { ColumnEnvelope, type Envelope } from './column-envelope.ts';
import type { RunEvent } from './event.ts';
import { FrameStore } from './frame-store.ts';
import type { SegmentView, SignalTable } from './frame.ts';
import { GrowingNumbers } from './growing.ts';
import type { Observer } from './observer.ts';
import { type SignalName, signalIndex } from './signal-name.ts';
import { Stretch } from './stretch.ts';

/** Segments and events kept unless the caller says otherwise: some hundred megabytes for a board with few capacitors. */
const MOST_SEGMENTS = 2_000_000;
/** Doubles kept for amplitudes and frames together (256 MiB), which bounds memory where a ramp makes every frame new. */
const MOST_NUMBERS = 2 ** 25;

/**
 * Keeps a whole run: every segment and every event, for exact questions about any time afterwards.
 *
 * When `mostSegments` (or its like of events, or 256 MiB of state) is reached, `cut` becomes true, the stored trace ends
 * there (`endTime`), and whatever else watches the run goes on undisturbed.
 */
export class StoredTrace implements Observer {
  readonly #mostSegments: number;
  readonly #starts = new GrowingNumbers();
  readonly #startLows = new GrowingNumbers();
  readonly #lengths = new GrowingNumbers();
  readonly #frameNumbers = new GrowingNumbers();
  readonly #amplitudeOffsets = new GrowingNumbers();
  readonly #amplitudes = new GrowingNumbers();
  readonly #frames = new FrameStore();
  readonly #events: RunEvent[] = [];
  /** For each event, how many segments came before it. */
  readonly #eventPositions = new GrowingNumbers();
  readonly #stretch = new Stretch();
  #signals: SignalTable = { nets: [], currents: [] };
  #endTime = 0;
  #cut = false;

  /** @param mostSegments segments (and events) kept at most; 2 million if not given. */
  constructor(mostSegments: number = MOST_SEGMENTS) {
    this.#mostSegments = mostSegments;
  }

  /** Names of all signals of the run. */
  get signals(): SignalTable {
    return this.#signals;
  }

  /** Whether the run went on after the storage was full. */
  get cut(): boolean {
    return this.#cut;
  }

  /** Where the stored trace ends (s). */
  get endTime(): number {
    return this.#endTime;
  }

  /** How many segments are stored. */
  get segmentCount(): number {
    return this.#starts.length;
  }

  /** Every stored event in the order of time. */
  get events(): readonly RunEvent[] {
    return this.#events;
  }

  /** See {@link Observer}. */
  begin(signals: SignalTable): void {
    this.#signals = { nets: [...signals.nets], currents: [...signals.currents] };
  }

  /** See {@link Observer}. */
  segment(segment: SegmentView): void {
    if (this.#cut) return;
    const { start, startLow, length, amplitudes, frame } = segment;
    frame.need?.();
    if (
      this.#starts.length >= this.#mostSegments ||
      this.#amplitudes.length + this.#frames.numbers + frame.rows.length > MOST_NUMBERS
    ) {
      this.#cut = true;
      return;
    }
    this.#starts.push(start);
    this.#startLows.push(startLow);
    this.#lengths.push(length);
    this.#frameNumbers.push(this.#frames.keep(frame));
    this.#amplitudeOffsets.push(this.#amplitudes.length);
    for (let k = 0; k < frame.rates.length; k++) this.#amplitudes.push(amplitudes[k]!);
    this.#endTime = start + (startLow + length);
  }

  /** See {@link Observer}. */
  event(event: RunEvent): void {
    if (this.#cut) return;
    if (this.#events.length >= this.#mostSegments) {
      this.#cut = true;
      return;
    }
    this.#events.push({ ...event });
    this.#eventPositions.push(this.#starts.length);
  }

  /** See {@link Observer}. */
  end(time: number): void {
    if (!this.#cut) this.#endTime = time;
  }

  /**
   * A signal at a time (s), exact. At a jump it is the value after it.
   *
   * @throws RangeError if the time lies outside the stored trace or the run has no such signal.
   */
  at(name: SignalName, time: number): number {
    return this.#valueAt(name, time, this.#segmentAt(time));
  }

  /**
   * A signal just before a time (s): differs from {@link at} where the signal jumps.
   *
   * @throws RangeError if the time lies outside the stored trace or the run has no such signal.
   */
  before(name: SignalName, time: number): number {
    const position = this.#segmentAt(time);
    const starts = this.#starts.at(position) === time && position > 0;
    return this.#valueAt(name, time, starts ? position - 1 : position);
  }

  /**
   * A signal summed up in equal columns of a window, exact: first, last, lowest and highest value of each.
   *
   * @throws RangeError if the window has no length or no column, or the run has no such signal.
   */
  envelope(name: SignalName, from: number, to: number, columns: number): Envelope {
    const envelope = new ColumnEnvelope(from, to, columns);
    const index = signalIndex(this.#signals, name);
    const first = Math.max(0, this.#lastStartUpTo(from));
    for (let position = first; position < this.#starts.length && this.#starts.at(position) <= to; position++) {
      const view = this.#view(position);
      envelope.add(view.signal(index), view);
    }
    return envelope.result();
  }

  /** Shows the stored run to another observer, just as the engine did. */
  replay(observer: Observer): void {
    observer.begin?.(this.#signals);
    let event = 0;
    for (let position = 0; position <= this.#starts.length; position++) {
      for (; event < this.#events.length && this.#eventPositions.at(event) === position; event++) {
        observer.event?.(this.#events[event]!);
      }
      if (position < this.#starts.length) observer.segment?.(this.#view(position));
    }
    observer.end?.(this.#endTime);
  }

  #valueAt(name: SignalName, time: number, position: number): number {
    const view = this.#view(position);
    const signal = view.signal(signalIndex(this.#signals, name));
    const local = time - view.start - view.startLow;
    return valueAt(signal, Math.min(view.length, Math.max(0, local)));
  }

  #view(position: number): SegmentView {
    const stretch = this.#stretch;
    const frame = this.#frames.get(this.#frameNumbers.at(position));
    const offset = this.#amplitudeOffsets.at(position);
    stretch.start = this.#starts.at(position);
    stretch.startLow = this.#startLows.at(position);
    stretch.length = this.#lengths.at(position);
    stretch.frame = frame;
    stretch.amplitudes = this.#amplitudes.view(offset, offset + frame.rates.length);
    stretch.next();
    return stretch;
  }

  #segmentAt(time: number): number {
    const position = this.#lastStartUpTo(time);
    if (position < 0 || !(time <= this.#endTime)) {
      throw new RangeError(
        `trace: time must lie within the run, 0 s to ${this.#endTime} s; got ${time} s. Ask for a time inside.`,
      );
    }
    return position;
  }

  /** Position of the last segment that starts at or before a time; -1 if there is none. */
  #lastStartUpTo(time: number): number {
    let low = 0;
    let high = this.#starts.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (this.#starts.at(middle) <= time) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }
}
