import type { Frame, SegmentSignal, SegmentView } from './frame.ts';
import { SignalSum } from './signal-sum.ts';

const NONE = new Float64Array(0);
const GROUND: SegmentSignal = new SignalSum();

/** The one object in which a run shows its segments, one after the other. */
export class Stretch implements SegmentView {
  start = 0;
  startLow = 0;
  length = 0;
  frame: Frame = { rates: NONE, rows: NONE, constants: NONE, slopes: NONE };
  amplitudes: Float64Array = NONE;
  /** Signals by index, and for each the number of the segment for which it was written out last. */
  readonly #signals: (SignalSum | undefined)[] = [];
  readonly #writtenFor: (number | undefined)[] = [];
  #number = 0;

  /** Tells that another segment has been put in: signals are written out anew as they are asked for. */
  next(): void {
    this.#number++;
  }

  /** See {@link SegmentView}. */
  signal(index: number): SegmentSignal {
    if (index < 0) return GROUND;
    const signal = (this.#signals[index] ??= new SignalSum());
    if (this.#writtenFor[index] !== this.#number) {
      this.#writtenFor[index] = this.#number;
      signal.load(this, index);
    }
    return signal;
  }
}
